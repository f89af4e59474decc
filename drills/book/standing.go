package book

import (
	"fmt"
	"slices"
	"strings"

	"drillbay/drills"
	"drillbay/drills/pattern"
)

// title is a drill as a list names it.
func (b *Book) title(id string) string {
	d, ok := b.ladder.Drill(id)
	switch {
	case ok && d.Rung > 0:
		return fmt.Sprintf("Rung %d: %s", d.Rung, d.Name)
	case ok:
		return d.Name
	}
	return id
}

// Rungs is the ladder with where a player stands on it.
func (b *Book) Rungs(player string) []RungLine {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.rungs(player)
}

func (b *Book) rungs(player string) []RungLine {
	s := b.view(player).Standing
	out := make([]RungLine, len(b.ladder.Rungs))
	for i, d := range b.ladder.Rungs {
		r := s.Rungs[i]
		out[i] = RungLine{Drill: b.forRunner(d), How: how(d), Cause: d.Purpose,
			State: state(s, r, d.ID), Passed: r.Passed, Here: i == s.Here}
		if len(d.Feel) > 0 {
			out[i].Feel = d.Feel[0]
		}
		if d.Form == drills.FormMixed {
			// Another day, another order.
			order := b.ladder.Mixture(s, d.Reps, uint64(b.today()))
			out[i].Order = b.mixOf(order, d.ID)
		}
	}
	return out
}

// state is a rung in a few words, with the numbers of the sentence that was
// said of it last.
func state(s drills.Standing, r drills.RungState, drill string) string {
	last := func(o drills.Outcome) string {
		for _, d := range slices.Backward(s.Said) {
			if d.Drill == drill && d.Outcome == o {
				return fmt.Sprintf("%s, %s", o, d.Share)
			}
		}
		return o.String()
	}
	switch {
	case r.Kept:
		return last(drills.Kept)
	case r.Passed:
		return last(drills.Passed)
	}
	for _, d := range slices.Backward(s.Said) {
		if d.Drill == drill {
			return d.Share.String()
		}
	}
	if r.Last.Of > 0 {
		return r.Last.String()
	}
	return ""
}

// Progress is a player's way across the weeks.
func (b *Book) Progress(player string) ProgressSheet {
	b.mu.Lock()
	defer b.mu.Unlock()
	w := b.ofToday(player)
	if w.sheet == nil {
		sheet := b.workedSheet(player)
		w = b.ofToday(player)
		w.sheet = &sheet
		b.worked[player] = w
	}
	return *w.sheet
}

func (b *Book) workedSheet(player string) ProgressSheet {
	sheet := ProgressSheet{Rungs: b.rungs(player)}
	v := b.view(player)
	here := b.ladder.Rungs[v.Standing.Here]
	sheet.Headline = fmt.Sprintf("Rung %d of %d", here.Rung, len(b.ladder.Rungs))
	if sheet.Why = v.Standing.Why(here.ID); sheet.Why == "" {
		sheet.Why = fmt.Sprintf("No set of this rung yet; a set has %s.", drills.Count(here.Reps, "rep"))
		if sets := b.setsOf(player); len(sets) > 0 && sets[len(sets)-1].Drill != here.ID {
			sheet.Why += " The last set was of another: " + b.title(sets[len(sets)-1].Drill) + "."
		}
	}
	for _, s := range v.Progress.Sessions {
		if s.Line.N == 0 {
			continue
		}
		low, high := s.Share.Bounds()
		sheet.Sessions = append(sheet.Sessions, SessionLine{Date: s.Began.Local().Format("2 Jan"), Later: s.Retention,
			Counted: s.Share.Good, Of: s.Share.Of, ShareLow: low, ShareHigh: high, Low: s.Low, Middle: s.Middle, High: s.High})
	}
	sheet.Next = b.next(v)
	sheet.Face, sheet.Rise = b.answers(player, v)
	sheet.Club = v.Standing.Club
	if why := b.offer(player); why != "" {
		sheet.Next = append(sheet.Next, why)
	}
	sheet.HeightRead = v.Pattern.HeightRead
	sheet.Asked = len(v.Pattern.Ask) > 0 || sheet.Face != "" || sheet.Rise != "" && !sheet.HeightRead
	for _, f := range v.Pattern.Causes {
		sheet.Causes = append(sheet.Causes, b.cause(f))
	}
	sheet.Unnamed, sheet.Feel = v.Pattern.Unnamed, v.feel(here)
	sheet.Own = v.Pattern.Feel != "" || len(v.Pattern.Lapses) > 0
	if n := len(sheet.Sessions); n > 0 {
		sheet.Trend = v.Progress.Practice.String()
		sheet.Spread = v.Progress.Spread.String()
		if v.Progress.Later.Tests > 0 {
			sheet.Trend = v.Progress.Later.String()
		}
	}
	return sheet
}

// feel is what to feel where no cause is named: what fits the misses, else what keeps the
// body, else what the rung is about.
func (v View) feel(here drills.Drill) string {
	switch {
	case len(v.Pattern.Causes) > 0:
		return ""
	case v.Pattern.Feel != "":
		return v.Pattern.Feel
	case len(v.Pattern.Lapses) > 0:
		return v.Pattern.Lapses[0].Feel
	case len(here.Feel) > 0:
		return here.Feel[0]
	}
	return ""
}

// biased is the chance under which a direction is no accident.
const biased = 0.05

// next says in sentences what else to know.
func (b *Book) next(v View) []string {
	var out []string
	if d := v.Pattern.Evidence.Drift; d.Found {
		out = append(out, d.String())
	}
	if e := v.Pattern.Evidence; len(v.Pattern.Causes) == 0 && e.Line.N >= pattern.Fewest && e.Line.PValue() < biased {
		out = append(out, e.Summary()[0]) // the direction is known before its cause
	}
	for _, l := range v.Pattern.Lapses {
		out = append(out, "Body: "+l.Loss.String()+". "+l.Evidence+" It could also be: "+strings.Join(l.Else, ", ")+". "+drills.NoAdvice)
	}
	return append(out, v.Pattern.Ask...)
}

// cause is a cause as a screen tells it.
func (b *Book) cause(f pattern.Found) CauseLine {
	c := CauseLine{Name: f.Cause.String(), Else: strings.Join(f.Else, ", "), Feel: f.Feel}
	if len(f.Evidence) > 0 {
		c.Evidence = f.Evidence[0]
	}
	if d, ok := b.ladder.For(f.Cause); ok {
		c.Rung = b.title(d.ID)
	}
	return c
}
