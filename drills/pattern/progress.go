package pattern

import (
	"fmt"
	"math"
	"strings"
	"time"

	"drillbay/drills"
)

// Session is one session's practice, or its retention set.
type Session struct {
	ID                string
	Began             time.Time
	Retention         bool
	Share             drills.Share // in line and swung
	Line              drills.Mean  // degrees
	Low, Middle, High float64      // degrees: of the readings, one in ten is lower, half are, nine in ten
	Ratio             drills.Mean  // tempo ratio
	Body              [drills.BodyParts]drills.Mean
	Backswing         float64 // s, median; NaN without ordinary swings
}

// Sessions puts reps, oldest first, together by session; practice and
// retention apart.
func Sessions(reps []Rep) []Session {
	type key struct {
		id    string
		later bool
	}
	index := map[key]int{}
	var groups [][]Rep
	for _, r := range reps {
		k := key{r.Session, r.Kind == drills.Retention}
		if _, ok := index[k]; !ok {
			index[k] = len(groups)
			groups = append(groups, nil)
		}
		groups[index[k]] = append(groups[index[k]], r)
	}
	out := make([]Session, len(groups))
	for i, g := range groups {
		out[i] = sessionOf(g)
	}
	return out
}

func sessionOf(reps []Rep) Session {
	s := Session{ID: reps[0].Session, Began: reps[0].At, Retention: reps[0].Kind == drills.Retention}
	var line, ratio, back []float64
	for _, r := range reps {
		if !r.FaceOn() {
			s.Share = count(s.Share, r.Counts())
		}
		if r.ShaftLine.OK() {
			line = append(line, r.ShaftLine.Value)
		}
		if r.Tempo > 0 {
			ratio, back = append(ratio, r.Tempo), append(back, r.Moments.Top-r.Moments.BackStart)
		}
	}
	s.Line, s.Ratio, s.Backswing = drills.MeanOf(line), drills.MeanOf(ratio), drills.Quantile(back, 0.5)
	var e Evidence
	e.body(reps, nil)
	s.Body = e.Body
	s.Low, s.Middle, s.High = drills.Quantile(line, 0.1), drills.Quantile(line, 0.5), drills.Quantile(line, 0.9)
	return s
}

// Progress describes a player's development over the sessions.
type Progress struct {
	Sessions  []Session // oldest first
	Practice  Trend     // of the share, per session
	Retention Trend     // of the share, per test
	Spread    Trend     // of the shaft line's spread in practice, degrees per session
	Body      []Trend   // of the parts of the body, those that are shown
	Later     Later
}

// ProgressOf works it out from reps, oldest first.
func ProgressOf(reps []Rep) Progress {
	p := Progress{Sessions: Sessions(reps)}
	var practice, tests, spread []float64
	var shares []drills.Share
	for _, s := range p.Sessions {
		if s.Share.Of == 0 {
			continue // seen from the front alone
		}
		if s.Retention {
			tests, shares = append(tests, s.Share.Value()), append(shares, s.Share)
			continue
		}
		practice = append(practice, s.Share.Value())
		if s.Line.N >= Fewest {
			spread = append(spread, s.Line.Spread)
		}
	}
	p.Practice = Trend{drills.TrendOf(practice), "in line and swung in practice", "session", 100, "reps in 100", ""}
	p.Retention = Trend{drills.TrendOf(tests), "in line and swung on a later day", "test", 100, "reps in 100", ""}
	p.Spread = Trend{drills.TrendOf(spread), "spread of the shaft line", "session", 1, "degrees", fmt.Sprintf(" with %d readings or more", Fewest)}
	for part := range drills.BodyPart(drills.BodyParts) {
		var means []float64
		for _, s := range p.Sessions {
			if m := s.Body[part]; !s.Retention && m.N >= Fewest {
				means = append(means, m.Value)
			}
		}
		if t := (Trend{drills.TrendOf(means), part.String(), "session", 1, part.Unit(), ""}); t.N >= drills.FewestForTrend && t.Shown() {
			p.Body = append(p.Body, t)
		}
	}
	p.Later = laterOf(shares)
	return p
}

// Trend is a trend with the words to tell it.
type Trend struct {
	drills.Trend
	what, step string
	scale      float64
	unit       string
	each       string // what a step needs to be counted, "" for nothing
}

// String says the trend, or that none is shown.
func (t Trend) String() string {
	switch {
	case t.N < drills.FewestForTrend:
		return fmt.Sprintf("%s: too early to tell. That takes %d %ss%s, so far %s.", drills.UpperFirst(t.what), drills.FewestForTrend, t.step, t.each, soFar(t.N))
	case !t.Shown():
		return fmt.Sprintf("%s: no trend over %d %ss (Mann–Kendall, p = %.2f).", drills.UpperFirst(t.what), t.N, t.step, t.P)
	}
	way := "up"
	if t.S < 0 {
		way = "down"
	}
	much, unit := fmt.Sprintf("%.2g", math.Abs(t.Slope)*t.scale), t.unit
	if much == "1" {
		unit = strings.NewReplacer("degrees", "degree", "reps", "rep").Replace(unit)
	}
	return fmt.Sprintf("%s: %s by about %s %s a %s, over %d %ss (Theil–Sen; Mann–Kendall, p %s).",
		drills.UpperFirst(t.what), way, much, unit, t.step, t.N, t.step, probability(t.P))
}

// soFar says how many there are so far.
func soFar(n int) string {
	if n == 0 {
		return "none"
	}
	return fmt.Sprint(n)
}

func probability(p float64) string {
	if p < 0.001 {
		return "< 0.001"
	}
	return fmt.Sprintf("= %.3f", p)
}

// Later compares ordinary swings on later days: the first test with the last
// ones.
type Later struct {
	Tests             int
	First, Last       drills.Share // the last two together, when there are three
	More, Low, High   float64      // how much larger the share became, with its 95 % interval
	Better, Worse     bool         // the interval leaves no doubt
	LastLow, LastHigh float64
}

func laterOf(tests []drills.Share) Later {
	l := Later{Tests: len(tests)}
	if len(tests) == 0 {
		return l
	}
	l.First, l.Last = tests[0], tests[len(tests)-1]
	if len(tests) > 2 {
		l.Last = l.Last.Add(tests[len(tests)-2])
	}
	l.LastLow, l.LastHigh = l.Last.Bounds()
	if len(tests) > 1 {
		l.More, l.Low, l.High = l.Last.Difference(l.First)
		l.Better, l.Worse = l.Low > 0, l.High < 0
	}
	return l
}

// String is the headline of progress.
func (l Later) String() string {
	switch {
	case l.Tests == 0:
		return "Ordinary swings were not tested on a later day yet."
	case l.Tests == 1:
		return fmt.Sprintf("Ordinary swings, without feedback: %s in line and swung. A second test, on a later day, will show whether that grows.", l.First)
	}
	numbers := fmt.Sprintf("%s at first, %s now; the change is %+.0f percentage points (95 %% between %+.0f and %+.0f)", l.First, l.Last, 100*l.More, 100*l.Low, 100*l.High)
	switch {
	case l.Better:
		return "Ordinary swings on a later day are better: " + numbers + "."
	case l.Worse:
		return "Ordinary swings on a later day are worse: " + numbers + "."
	}
	return "Ordinary swings on a later day: no change is shown. " + numbers + "."
}

// LatestFaceOn are the reps of the newest session that was seen from the front,
// when it has enough of them; reps come oldest first.
func LatestFaceOn(reps []Rep) (last []Rep) {
	of := map[string]int{}
	newest := ""
	for _, r := range reps {
		if r.FaceOn() {
			if of[r.Session]++; of[r.Session] >= Fewest {
				newest = r.Session
			}
		}
	}
	for _, r := range reps {
		if r.FaceOn() && r.Session == newest {
			last = append(last, r)
		}
	}
	return last
}

// Latest are the reps of the newest session that has enough readings, and
// those of all sessions before it; reps come oldest first.
func Latest(reps []Rep) (last, earlier []Rep) {
	readings := map[string]int{}
	newest := ""
	for _, r := range reps {
		if r.ShaftLine.OK() {
			readings[r.Session]++
		}
	}
	for _, r := range reps {
		if readings[r.Session] >= Fewest {
			newest = r.Session
		}
	}
	if newest == "" {
		return nil, nil
	}
	for i, r := range reps {
		if r.Session != newest {
			continue
		}
		if last == nil {
			earlier = reps[:i:i]
		}
		last = append(last, r)
	}
	return last, earlier
}
