package app

import (
	"fmt"
	"math"
	"slices"

	"drillbay/camera/sight"
	"drillbay/drills"
	"drillbay/drills/runner"
)

// setEnd keeps the end of a set on the practice screen until the next set begins: how many
// counted, the set's picture, and what to feel next.
type setEnd struct {
	session string
	set     int
	feel    string
	gone    int // the set whose end was left for another view
}

// feeling says what to feel next: what fits the misses or, without
// one, what the rung is about. The book is asked once a set.
func (s *setEnd) feeling(a *App, snap *runner.Snapshot) string {
	if s.session != snap.Session || s.set != snap.Set {
		sheet := a.d.Book.Progress(snap.Player.ID)
		*s = setEnd{snap.Session, snap.Set, sheet.Feel, s.gone}
		for _, r := range sheet.Rungs { // another rung may be practised than the one whose turn it is
			if !sheet.Own && r.Drill.ID == snap.Drill.ID && r.Feel != "" {
				s.feel = r.Feel
			}
		}
		if len(sheet.Causes) > 0 && sheet.Causes[0].Feel != "" {
			s.feel = sheet.Causes[0].Feel
		}
	}
	return drills.UpperFirst(s.feel)
}

// ended reports that a set is over and nobody swings again yet.
func (p *practiceScreen) ended(a *App, snap *runner.Snapshot) bool {
	switch snap.Phase {
	case sight.Forward, sight.Back, sight.Hold, sight.Finish:
		return false
	}
	return snap.SetDone && !snap.Paused && p.end.gone != snap.Set && len(a.ofSet(snap)) > 0
}

// onward says how to go on after a set, at most as long as a cue.
func (a *App) onward() string {
	switch {
	case a.group != nil:
		return ""
	case a.plan != nil && a.plan.done():
		return "Done for today"
	}
	return "Next set: step in"
}

// drawSetEnd draws the end of a set: one thing, large, and its picture.
func (p *practiceScreen) drawSetEnd(a *App, c *canvas, picture, column Rect, snap *runner.Snapshot) {
	reps := a.ofSet(snap)
	hand := a.bay.Side(snap.Player.Hand)
	box := Rect{picture.X + c.margin, picture.Y + c.px(8), picture.W - c.margin - c.px(8), picture.H - c.px(8)}
	drawn := math.Round(0.4 * box.H)
	box.H -= drawn + c.px(20)
	c.set(box, reps, 0, snap.Drill.Width(), hand)
	a.shownDrill(c, Rect{box.X, box.Bottom() + c.px(16), box.W, drawn}, snap.Drill, hand)

	counted := 0
	for _, r := range reps {
		if r.Counts() {
			counted++
		}
	}
	rest := p.heading(a, c, column, fmt.Sprintf("Set %d", snap.Set), snap)
	floor := min(c.floor, c.mat)
	words, below := fmt.Sprintf("%d of %d", counted, len(reps)), "counted"
	if !slices.ContainsFunc(reps, func(r drills.Rep) bool { return !r.FaceOn() }) {
		words, below = fmt.Sprintf("%d reps", len(reps)), "seen face-on"
	}
	size, _ := c.ruler.Fit(words, min(math.Round(1.2*c.mat), math.Round(0.28*rest.H)), floor, Bold, rest.W)
	y := rest.Y + math.Round(size*0.9)
	c.text(rest.X, y, words, size, Bold, Ink)
	size = min(size, floor)
	y += math.Round(size * 1.0)
	word, _ := c.ruler.Fit(below, size, min(floor, size), Bold, rest.W)
	c.text(rest.X, y, below, word, Bold, Ink)
	y += math.Round(size * 0.35)
	feel := p.end.feeling(a, snap)
	if feel == "" || snap.Drill.Later {
		return
	}
	// As large as there is room for: it may be read from the mat.
	y += c.title
	c.text(rest.X, y, "Feel", c.title, Bold, Quiet)
	size = max(floor, c.title)
	tall := func() float64 {
		return math.Round(size*1.1) + float64(len(c.ruler.Wrap(feel, size, Medium, rest.W))-1)*math.Round(size*1.32) + size*0.25
	}
	for size > c.small && y+tall() > rest.Bottom() {
		size--
	}
	c.paragraph(rest.X, y+math.Round(size*1.1), rest.W, feel, size, Medium, Ink)
}
