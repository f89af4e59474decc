package book

import (
	"fmt"

	"drillbay/drills"
	"drillbay/drills/ledger"
	"drillbay/drills/pattern"
)

// clubOf names a rep's club: verdicts are kept per club.
func clubOf(r ledger.Record) string {
	switch {
	case r.Club != "":
		return r.Club
	case r.ClubLong > 0:
		return fmt.Sprintf("%.0f cm", r.ClubLong*100)
	}
	return ""
}

// setsOf are the sets of reps, oldest first, in the order practised.
func setsOf(reps []ledger.Record) []drills.Set {
	type key struct {
		session, drill string
		number         int
	}
	index := map[key]int{}
	var out []drills.Set
	for _, r := range reps {
		k := key{r.Session, r.Drill, r.Set}
		i, ok := index[k]
		if !ok {
			i = len(out)
			index[k] = i
			out = append(out, drills.Set{Drill: r.Drill, Club: clubOf(r), Kind: r.Kind, Began: r.At})
		}
		s := &out[i]
		s.Ended = r.At
		s.Reps = append(s.Reps, r.Counts())
	}
	return out
}

// looks are reps as patterns see them, with the coach's marks on them.
func (b *Book) looks(reps []ledger.Record) []pattern.Rep {
	out := make([]pattern.Rep, len(reps))
	for i, r := range reps {
		p := pattern.Rep{Rep: r.Rep, Drill: r.Drill, Session: r.Session, Set: r.Set, Kind: r.Kind, At: r.At}
		if d, ok := b.ladder.Drill(r.Drill); ok {
			p.Form = d.Form
		}
		if r.Coach != "" {
			p.Coach, _ = drills.ParseVerdict(r.Coach)
		}
		for _, m := range b.marks[r.ID] {
			switch m.Kind {
			case ledger.FaceMark:
				p.Face = faceOf(m, r.Player.Hand)
			case ledger.ShoulderMark:
				p.Shoulder = drills.Reading{Value: underOf(m), Sigma: shoulderSigma}
			}
		}
		out[i] = p
	}
	return out
}

// faceOf reads a mark: its word, or its points (heel, toe, hip, neck).
func faceOf(m ledger.Mark, hand drills.Hand) drills.Face {
	if m.Value != "" {
		f, _ := drills.ParseFace(m.Value)
		return f
	}
	if points(m, 4) == nil {
		return drills.Unmarked // rubbed out
	}
	dot := func(i int) drills.Dot { return drills.Dot{X: m.Points[i][0], Y: m.Points[i][1]} }
	f, _ := drills.FaceOf(dot(0), dot(1), dot(2), dot(3), hand, 0)
	return f
}

// beside is what is known beside the reps of a session: of the coach's answers
// the last ones given.
func (b *Book) beside(last, earlier []pattern.Rep, reps []ledger.Record) pattern.Beside {
	a := pattern.Beside{Earlier: earlier}
	if len(last) == 0 {
		return a
	}
	for _, r := range reps {
		if r.Session != last[0].Session {
			continue
		}
		a.Band = r.Band
		for _, m := range b.marks[r.ID] {
			switch m.Kind {
			case ledger.FaceAnswer:
				a.Face, _ = drills.ParseFace(m.Value)
			case ledger.RiseAnswer:
				a.Rise = map[string]pattern.Rise{"soon": pattern.RisesSoon, "late": pattern.RisesLate, "never": pattern.NeverHigh}[m.Value]
			}
		}
	}
	return a
}
