package pattern

import (
	"fmt"

	"drillbay/drills"
)

// Drift says where in a session the shaft line left its level.
type Drift struct {
	Found    bool
	After    int     // reps of the session before it was noticed
	Drill    string  // in which
	From, To float64 // degrees, means before and of the reps that showed it
}

// A drill with fewer readings in a session shows no drift; the slack and the
// limit of the sum are in standard deviations, for a shift of about one and a
// half.
const (
	driftReps  = 16
	driftSlack = 0.75
	driftLimit = 5.0
)

// driftOf looks for drift in the reps of one session, each drill by itself.
func driftOf(reps []Rep) Drift {
	type place struct {
		value float64
		after int
	}
	by := map[string][]place{}
	var order []string
	for i, r := range reps {
		if !r.ShaftLine.OK() || r.Kind == drills.Retention {
			continue
		}
		key := r.Session + "/" + r.Drill
		if by[key] == nil {
			order = append(order, key)
		}
		by[key] = append(by[key], place{r.ShaftLine.Value, i})
	}
	for _, key := range order {
		list := by[key]
		if len(list) < driftReps {
			continue
		}
		values := make([]float64, len(list))
		for i, p := range list {
			values[i] = p.value
		}
		at, _, _ := drills.Cusum{K: driftSlack, H: driftLimit}.Signal(drills.SelfStarting(values))
		if at < 0 {
			continue
		}
		at += 2 // the sum has no first two values
		i := list[at].after
		return Drift{Found: true, After: before(reps, i), Drill: reps[i].Drill,
			From: drills.MeanOf(values[:at-1]).Value, To: drills.MeanOf(values[at-1 : at+1]).Value}
	}
	return Drift{}
}

// before counts the reps of the same session before one.
func before(reps []Rep, i int) (n int) {
	for _, r := range reps[:i] {
		if r.Session == reps[i].Session {
			n++
		}
	}
	return n
}

// String says it.
func (d Drift) String() string {
	if !d.Found {
		return ""
	}
	return fmt.Sprintf("After %d reps the shaft line left %s for %s: rest before that, or end there.", d.After, Side(d.From), Side(d.To))
}
