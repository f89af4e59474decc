package book

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"drillbay/drills"
	"drillbay/drills/clinic"
	"drillbay/drills/ledger"
	"drillbay/drills/runner"
)

// Consent notes who agreed that clips of a player are kept.
func (b *Book) Consent(player string, c Consent) error {
	b.changes.Lock()
	defer b.changes.Unlock()
	b.mu.Lock()
	i := b.find(player)
	if i < 0 {
		b.mu.Unlock()
		return errors.New("this player is not in the ledger")
	}
	p := b.players[i]
	b.mu.Unlock()
	p.Consent, p.ConsentAt = "", time.Time{}
	switch c {
	case PlayerAgrees:
		p.Consent, p.ConsentAt, p.Minor = ledger.ByPlayer, b.now(), false
	case GuardianAgrees:
		p.Consent, p.ConsentAt, p.Minor = ledger.ByGuardian, b.now(), true
	}
	if _, err := b.ledger.PutPlayer(context.Background(), p); err != nil {
		return err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	if i = b.find(player); i >= 0 {
		b.players = slices.Clone(b.players)
		b.players[i] = p
	}
	b.changed(player)
	return nil
}

// Delete deletes a player for the eyes and says what is to go: all that is
// theirs goes from the disk when the session ends, and Undelete brings it back
// until then. Reps and pictures of other players stay.
func (b *Book) Delete(ctx context.Context, player string) (string, error) {
	b.changes.Lock()
	defer b.changes.Unlock()
	gone, err := b.ledger.Leave(ctx, player)
	if err != nil {
		return "", err
	}
	b.mu.Lock()
	if i := b.find(player); i >= 0 {
		b.leaving = append(b.leaving, b.players[i])
		b.players = append(append([]ledger.Player{}, b.players[:i]...), b.players[i+1:]...)
	}
	b.changed(player)
	group := b.group != nil
	b.mu.Unlock()
	if group {
		err = b.changeClinic(ctx, func(c *clinic.Clinic, now time.Time) error {
			for i := range c.Players {
				if c.Players[i].ID == player {
					c.Players[i].Name = deletedName
					return c.Leave(i+1, now)
				}
			}
			return nil
		})
	}
	return gone.String(), err
}

// Undelete brings back a player who was deleted in this session.
func (b *Book) Undelete(ctx context.Context, player string) (string, error) {
	b.changes.Lock()
	defer b.changes.Unlock()
	if err := b.ledger.Stay(ctx, player); err != nil {
		return "", err
	}
	b.mu.Lock()
	i := slices.IndexFunc(b.leaving, func(p ledger.Player) bool { return p.ID == player })
	if i < 0 {
		b.mu.Unlock()
		return "", errors.New("this player was not deleted in this session")
	}
	p := b.leaving[i]
	b.leaving = slices.Delete(slices.Clone(b.leaving), i, i+1)
	b.players = append([]ledger.Player{p}, b.players...)
	b.changed(player)
	group := b.group != nil
	b.mu.Unlock()
	var err error
	if group {
		err = b.changeClinic(ctx, func(c *clinic.Clinic, _ time.Time) error {
			for i := range c.Players {
				if c.Players[i].ID == player {
					c.Players[i].Name = p.Name
				}
			}
			return nil
		})
	}
	return p.Name + " is back, with all that was kept.", err
}

// Deleted are the players who were deleted in this session, in that order. They can
// be brought back until it ends.
func (b *Book) Deleted() []PlayerLine {
	b.mu.Lock()
	defer b.mu.Unlock()
	out := make([]PlayerLine, len(b.leaving))
	for i, p := range b.leaving {
		out[i] = PlayerLine{Player: runner.Player{ID: p.ID, Name: p.Name, Hand: p.Hand}}
	}
	return out
}

// wasDeleted says that a name is that of a player who was deleted a moment ago.
func (b *Book) wasDeleted(name string) error {
	if slices.ContainsFunc(b.leaving, func(p ledger.Player) bool { return strings.EqualFold(p.Name, name) }) {
		return fmt.Errorf("%s was deleted in this session: bring %[1]s back on the progress screen, with Z, or add an initial", name)
	}
	return nil
}

// deletedName stands where a clinic had a player who was deleted.
const deletedName = "deleted"

// consentOf is a player's, and since when.
func consentOf(p ledger.Player) (c Consent, at string) {
	if p.Consent == "" {
		return NoConsent, ""
	}
	c = PlayerAgrees
	if p.Minor || p.Consent == ledger.ByGuardian {
		c = GuardianAgrees
	}
	at = "agreed: " + p.Consent
	if !p.ConsentAt.IsZero() {
		at += p.ConsentAt.Local().Format(", 2 January 2006")
	}
	return c, at
}

// Check is the list that is ticked before the first rung of a session.
func (b *Book) Check() []string {
	if b.ladder.Check == nil {
		return nil
	}
	return b.ladder.Check.Steps
}

// Session is the plan of a session of so many minutes. The first session of all has no set without
// verdicts: who is new to this is told how the reps were.
func (b *Book) Session(player string, minutes float64) []PlanLine {
	b.mu.Lock()
	plan, known := b.ofToday(player).plans[minutes]
	b.mu.Unlock()
	if known {
		return plan
	}
	items, err := b.Plan(player, minutes, b.now())
	if err != nil {
		return nil
	}
	out := make([]PlanLine, 0, len(items))
	for _, i := range items {
		if i.Part == drills.Test && b.View(player).Standing.Practised.IsZero() {
			continue
		}
		out = append(out, b.planLine(i))
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	w := b.ofToday(player)
	if len(w.plans) == 0 || len(w.plans) > 20 {
		w.plans = map[float64][]PlanLine{}
	}
	w.plans[minutes] = out
	b.worked[player] = w
	return out
}

func (b *Book) planLine(i drills.Item) PlanLine {
	l := PlanLine{Part: i.Part.String(), Why: i.Why}
	if d, ok := b.ladder.Drill(i.Drill); ok && i.Reps > 0 {
		l.Drill = b.forRunner(d)
		l.Drill.Reps, l.Drill.Later = i.Reps, i.Kind == drills.Retention
		l.Line = fmt.Sprintf("%s: %s", drills.Count(i.Reps, "rep"), lower(d.Name))
		order := make([]drills.Drill, len(i.Order))
		for k, id := range i.Order {
			order[k], _ = b.ladder.Drill(id)
		}
		l.Order = b.mixOf(order, d.ID)
		return l
	}
	if i.Part == drills.Rest {
		l.Rest = i.Seconds
	}
	l.Line = l.Part
	if i.Seconds >= 60 {
		l.Line = fmt.Sprintf("%s: %.0f min", l.Part, i.Seconds/60)
	}
	return l
}

func lower(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

// shoulderSigma is how well the place under a shoulder is marked by a tap, cm.
const shoulderSigma = 2.0

// Marks are the coach's on a rep.
func (b *Book) Marks(rep string) Marks {
	b.mu.Lock()
	defer b.mu.Unlock()
	m := Marks{Under: math.NaN()}
	for _, k := range b.marks[rep] {
		switch k.Kind {
		case ledger.FaceMark:
			m.Face, m.FaceWord, m.Frame = points(k, 4), k.Value, k.Frame
		case ledger.ShoulderMark:
			m.Lead, m.Under, m.Frame = points(k, 1), underOf(k), k.Frame
		case ledger.JointMark:
			m.Joints = slices.DeleteFunc(slices.Clone(m.Joints), func(j JointMark) bool { return j.Name == k.Value })
			if at := points(k, 1); at != nil {
				m.Joints, m.Frame = append(m.Joints, JointMark{Name: k.Value, At: at[0]}), k.Frame
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

// underOf is how far the hands are from under the lead shoulder, cm, as it was
// worked out when the mark was made.
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
			err = errors.Join(err, put(ledger.JointMark, j.Name, []drills.Pixel{j.At}))
		}
	}
	for _, j := range old.Joints {
		if !slices.ContainsFunc(m.Joints, func(k JointMark) bool { return k.Name == j.Name }) {
			err = errors.Join(err, put(ledger.JointMark, j.Name, nil))
		}
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

// ClinicBegin begins a clinic with a list of names, one a line, and the names of its
// stations, the first with the camera; told is what the coach should know of the
// list, "" for nothing.
func (b *Book) ClinicBegin(list string, t Turns, stations []string) (told string, err error) {
	doubles, err := b.BeginClinic(context.Background(), list, stations, clinic.Rule{Reps: t.Reps, Time: time.Duration(t.Minutes) * time.Minute})
	if err == nil && len(doubles) > 0 {
		told = strings.Join(doubles, ", ") + " stood on the list more than once."
	}
	return told, err
}

// ClinicJoin lets those on a list come late.
func (b *Book) ClinicJoin(list string) error { return b.JoinClinic(context.Background(), list) }

// ClinicEnd ends it; the reps stay in the ledger.
func (b *Book) ClinicEnd() error { return b.EndClinic(context.Background()) }
