package book

import (
	"context"
	"errors"
	"math"
	"slices"
	"strconv"

	"drillbay/drills"
	"drillbay/drills/ledger"
)

// shoulderSigma is the error of a shoulder marked by a tap, cm (1 sigma).
const shoulderSigma = 2.0

// Marks are the coach's on a rep.
func (b *Book) Marks(rep string) Marks {
	b.mu.Lock()
	defer b.mu.Unlock()
	m := Marks{Under: math.NaN(), Body: ledger.Coached(b.marks[rep])}
	for _, k := range b.marks[rep] {
		switch k.Kind {
		case ledger.FaceMark:
			m.Face, m.FaceWord, m.Frame = points(k, 4), k.Value, k.Frame
		case ledger.ShoulderMark:
			m.Lead, m.Under, m.Frame = points(k, 1), underOf(k), k.Frame
		case ledger.JointMark:
			j := jointOf(k.Value)
			m.Joints = slices.DeleteFunc(slices.Clone(m.Joints), j.Is)
			if at := points(k, 1); at != nil {
				j.At = at[0]
				m.Joints = append(m.Joints, j)
				if !j.Address {
					m.Frame = k.Frame
				}
			}
		}
	}
	return m
}

// points are the first n of a mark, nil when one of them is not there.
func points(m ledger.Mark, n int) (out []drills.Pixel) {
	for _, p := range m.Points[:n] {
		if math.IsNaN(p[0]) || math.IsNaN(p[1]) {
			return nil
		}
		out = append(out, drills.Pixel{X: p[0], Y: p[1]})
	}
	return out
}

// underOf gives how far the hands are from under the lead shoulder, cm, as worked out
// when the mark was made.
func underOf(m ledger.Mark) float64 {
	v, err := strconv.ParseFloat(m.Value, 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// KeepMarks stores what changed of the marks on a rep. A mark that was rubbed out is stored as one
// without points: the ledger forgets nothing.
func (b *Book) KeepMarks(player, rep string, m Marks) error {
	old := b.Marks(rep)
	ctx := context.Background()
	put := func(kind, value string, list []drills.Pixel) error {
		k := ledger.Mark{Rep: rep, Kind: kind, Value: value, Frame: m.Frame, Points: ledger.NoPoints(), At: b.now()}
		for i, p := range list {
			k.Points[i] = [2]float64{p.X, p.Y}
		}
		return b.PutMark(ctx, player, k)
	}
	var err error
	if !slices.Equal(old.Face, m.Face) {
		err = put(ledger.FaceMark, m.FaceWord, m.Face)
	}
	if !slices.Equal(old.Lead, m.Lead) {
		value := ""
		if !math.IsNaN(m.Under) && len(m.Lead) > 0 {
			value = strconv.FormatFloat(m.Under, 'f', 1, 64)
		}
		err = errors.Join(err, put(ledger.ShoulderMark, value, m.Lead))
	}
	for _, j := range m.Joints {
		if !slices.Contains(old.Joints, j) {
			err = errors.Join(err, put(ledger.JointMark, j.value(), []drills.Pixel{j.At}))
		}
	}
	for _, j := range old.Joints {
		if !slices.ContainsFunc(m.Joints, j.Is) {
			err = errors.Join(err, put(ledger.JointMark, j.value(), nil))
		}
	}
	for p := range drills.BodyPart(drills.BodyParts) {
		was, is := old.Body[p], m.Body[p]
		switch {
		case is.Known() && is != was:
		case was.Known() && !is.Known():
			is = drills.None()
		default:
			continue
		}
		err = errors.Join(err, put(ledger.ReadingMark, p.Key(), []drills.Pixel{{X: is.Value, Y: is.Sigma}}))
	}
	return err
}

// Answer keeps the coach's answers for a player's last session: how the face looks at
// level ("open", "neutral", "shut"), when the hands gain height ("soon", "late",
// "never"); "" where it is not known. An answer is kept with the last rep of the
// session it is about.
func (b *Book) Answer(player, face, rise string) error {
	v := b.View(player)
	if len(v.Last) == 0 {
		return errors.New("there is no session with enough readings yet")
	}
	rep := ""
	b.mu.Lock()
	for _, r := range b.counted(player) {
		if r.Session == v.Last[0].Session {
			rep = r.ID
		}
	}
	oldFace, oldRise := b.answers(player, v)
	b.mu.Unlock()
	put := func(kind, old, value string) error {
		if value == old {
			return nil
		}
		return b.PutMark(context.Background(), player, ledger.Mark{Rep: rep, Kind: kind, Value: value, Frame: math.NaN(), Points: ledger.NoPoints(), At: b.now()})
	}
	return errors.Join(put(ledger.FaceAnswer, oldFace, face), put(ledger.RiseAnswer, oldRise, rise))
}

// answers are the coach's last ones for the session of a view.
func (b *Book) answers(player string, v View) (face, rise string) {
	if len(v.Last) == 0 {
		return "", ""
	}
	for _, r := range b.counted(player) {
		if r.Session != v.Last[0].Session {
			continue
		}
		for _, m := range b.marks[r.ID] {
			switch m.Kind {
			case ledger.FaceAnswer:
				face = m.Value
			case ledger.RiseAnswer:
				rise = m.Value
			}
		}
	}
	return face, rise
}
