package book

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"drillbay/drills"
	"drillbay/drills/ledger"
	"drillbay/drills/report"
	"drillbay/drills/runner"
)

// homeworkMinutes is the length of a session planned for home.
const homeworkMinutes = 20

// Page is the report of a player without its pictures and drawings; shown is the
// drill that its first page names.
func (b *Book) Page(ctx context.Context, player string, now time.Time) (page report.Page, shown runner.Drill, err error) {
	v := b.View(player)
	p := report.Page{ID: player, Made: now, Club: v.Standing.Club, Band: drills.Band, Headline: v.Progress.Later.String()}
	b.mu.Lock()
	if i := b.find(player); i >= 0 {
		p.Player, p.Hand = b.players[i].Name, b.players[i].Hand
	}
	reps := b.counted(player)
	if len(reps) > 0 {
		p.Band = reps[len(reps)-1].Band
	}
	if slices.ContainsFunc(reps, func(r ledger.Record) bool { return r.Rep.FaceOn() }) {
		p.Front = drills.Sentence(drills.SeenFaceOn + ": " + drills.SideFaceOn)
	}
	b.mu.Unlock()
	for i, d := range b.ladder.Rungs {
		r := v.Standing.Rungs[i]
		p.Rungs = append(p.Rungs, report.Rung{Number: d.Rung, Name: d.Name, State: state(v.Standing, r, d.ID), Here: i == v.Standing.Here})
	}
	p.Why = v.Standing.Why(b.ladder.Rungs[v.Standing.Here].ID)
	for _, s := range v.Progress.Sessions {
		if s.Share.Of == 0 {
			continue // seen from the front alone
		}
		one := report.Session{Date: s.Began.In(now.Location()), Share: s.Share, Low: s.Low, Middle: s.Middle, High: s.High, Spread: s.Line.Spread, Ratio: s.Ratio.Value}
		if s.Retention {
			p.Later = append(p.Later, one)
		} else {
			p.Practice = append(p.Practice, one)
		}
	}
	p.Trends = []string{v.Progress.Practice.String(), v.Progress.Retention.String(), v.Progress.Spread.String()}
	for _, f := range v.Pattern.Causes {
		c := report.Cause{Name: f.Cause.String(), Evidence: f.Evidence, Else: f.Else, Feel: f.Feel}
		if d, ok := b.ladder.For(f.Cause); ok {
			c.Rung = b.title(d.ID)
		}
		p.Causes = append(p.Causes, c)
	}
	if v.Pattern.Unnamed != "" {
		p.Next = append(p.Next, v.Pattern.Unnamed)
	}
	if feel := v.feel(b.ladder.Rungs[v.Standing.Here]); feel != "" {
		p.Next = append(p.Next, "Feel: "+feel)
	}
	for _, l := range v.Pattern.Lapses {
		p.Body = append(p.Body, report.Lapse{Name: l.Loss.String(), Evidence: l.Evidence, Else: l.Else, Feel: l.Feel})
	}
	for _, t := range v.Progress.Body {
		p.Trends = append(p.Trends, t.String())
	}
	p.BodyRead, p.RepByRep = v.Pattern.Evidence.BodyRead(), v.Pattern.Evidence.RepByRep()
	p.Ask, p.Last = v.Pattern.Ask, v.Pattern.Evidence.Summary()
	if d := v.Pattern.Evidence.Drift; d.Found {
		p.Next = append(p.Next, d.String())
	}
	for _, d := range v.Standing.Said {
		if d.Outcome == drills.Stays {
			continue
		}
		p.History = append(p.History, report.Decision{Date: d.At.In(now.Location()), Rung: b.title(d.Drill), Sentence: strings.TrimSpace(d.Sentence + " " + d.Figures)})
	}
	p.Homework = b.homework(player, now)
	shown = b.firstPage(&p, v, now)
	setup, err := b.Setup(ctx)
	if err == nil {
		p.Coach, p.Place = setup.Coach, setup.Place
	}
	return p, shown, nil
}

// homework is a short session by oneself, in sentences.
func (b *Book) homework(player string, now time.Time) []string {
	items, err := b.Plan(player, homeworkMinutes, now)
	if err != nil {
		return nil
	}
	var out []string
	times, reps := map[string]int{}, map[string]int{}
	for _, i := range items {
		if i.Reps > 0 && i.Kind != drills.Retention {
			times[i.Drill]++
			reps[i.Drill] += i.Reps
		}
	}
	for _, i := range items {
		switch d, _ := b.ladder.Drill(i.Drill); {
		case i.Part == drills.WarmUp:
			out = append(out, fmt.Sprintf("%.0f minutes of warming up. %s", math.Round(i.Seconds/60), i.Why))
		case i.Kind != drills.Retention && times[i.Drill] == 1:
			out = append(out, fmt.Sprintf("%s: %d reps.", d.Name, i.Reps))
		case i.Kind != drills.Retention && times[i.Drill] > 1:
			out = append(out, fmt.Sprintf("%s: %d sets of %.0f reps, a minute's rest between them.", d.Name, times[i.Drill], math.Round(float64(reps[i.Drill])/float64(times[i.Drill]))))
		}
		if i.Kind != drills.Retention {
			delete(times, i.Drill)
		}
	}
	return out
}
