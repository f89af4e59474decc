package book

import (
	"context"
	"errors"
	"math"
	"time"

	"drillbay/drills"
	"drillbay/drills/clinic"
	"drillbay/drills/report"
)

// GroupPage is the clinic that is going on, on one page for the coach.
func (b *Book) GroupPage(ctx context.Context, now time.Time) (report.Group, error) {
	c, going := b.Group()
	if !going {
		return report.Group{}, errors.New("there is no clinic: begin one with a list of names")
	}
	g := report.Group{Began: c.Began.In(now.Location()), Made: now, Band: drills.Band}
	if setup, err := b.Setup(ctx); err == nil {
		g.Coach, g.Place = setup.Coach, setup.Place
	}
	for _, l := range c.Sheet(now) {
		if l.Player.Name == deletedName {
			continue
		}
		g.Members = append(g.Members, b.member(&c, l))
	}
	return g, nil
}

// member is a player of a clinic as the coach's page has it.
func (b *Book) member(c *clinic.Clinic, l clinic.Line) report.Member {
	m := report.Member{ID: l.Player.ID, Name: l.Player.Name, Hand: l.Player.Hand, Rung: l.Player.Rung, Needs: drills.UpperFirst(l.Stuck), Middle: math.NaN()}
	b.mu.Lock()
	var lines []float64
	for _, r := range b.inClinic(c, l.Player.ID) {
		if r.Rep.FaceOn() {
			continue
		}
		m.Share.Of++
		if r.Counts() {
			m.Share.Good++
		}
		if r.Rep.ShaftLine.OK() && r.Rep.Verdict != drills.NoReading {
			lines = append(lines, r.Rep.ShaftLine.Value)
		}
		if r.Rep.Manner != drills.Unsure {
			m.Placed.Of++
			if r.Rep.Manner == drills.Placed {
				m.Placed.Good++
			}
		}
	}
	b.mu.Unlock()
	m.Middle = drills.Quantile(lines, 0.5)
	v := b.View(l.Player.ID)
	switch {
	case m.Share.Of == 0:
	case len(v.Pattern.Causes) > 0:
		f := v.Pattern.Causes[0]
		m.Work, m.Feel = drills.Sentence(f.Cause.String()), f.Feel
	case len(v.Pattern.Lapses) > 0:
		f := v.Pattern.Lapses[0]
		m.Work, m.Feel, m.Body = drills.Sentence(f.Loss.String()), f.Feel, true
	default:
		m.Feel = v.feel(b.ladder.Rungs[v.Standing.Here])
	}
	return m
}
