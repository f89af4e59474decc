package app

import (
	"math"

	"drillbay/drills/runner"
)

// cautionScreen shows what must be right before the first swing of a session.
type cautionScreen struct{}

func (*cautionScreen) name() string { return "caution" }

// Caution is one thing to look at before swinging.
type Caution struct{ Head, Text string }

// Cautions are shown, and spoken, before the first rep of a session.
func Cautions() []Caution {
	return []Caution{
		{"Room", "Club and arms at full reach and one step more, all round and overhead. Indoors, mind lamps and floor."},
		{"Nobody near", "Nobody inside that circle, in front of the ball, or behind the net."},
		{"Net", "In good order and hung clear of the wall. If in doubt, foam balls."},
		{"Laptop and camera", "Out of the club's reach and out of the ball's way."},
		{"No ball yet", "None with a moving start, until a drill asks you to strike. Then the club passes clear above the ball on its way back."},
		{"Hold", "Light, but never so loose that the club could fly."},
		{"Body", "Warm up about ten minutes. Stop on pain; chest or jaw pain or dizziness needs help."},
		{"Children", "With an adult. Keep nobody's clip without consent, a guardian's for a minor."},
	}
}

// shortCautions fit beside the start.
func shortCautions() []string {
	return []string{
		"Room for club and arms and one step more, all round and overhead.",
		"Nobody in the circle or in front of the ball.",
		"Net in good order, clear of the wall, nobody behind.",
		"Warm up. Stop on pain.",
		"Range rules first. Children with an adult.",
	}
}

func (*cautionScreen) act(a *App, d Do, n int) {
	switch d {
	case Go, PageOn:
		a.back()
		if a.group != nil {
			a.group.seen = true
		}
		if who := a.d.Snapshot().Player; a.unchecked(who.ID) {
			a.openCheck(who)
			return
		}
		a.ready()
	case Back:
		a.back() // the cautions
		a.back() // the practice that had not begun
		a.finish()
	}
}

// finish ends what is practised.
func (a *App) finish() {
	a.plan, a.group = nil, nil
	a.d.Order(runner.Command{Do: runner.Finish})
}

func (*cautionScreen) draw(a *App, c *canvas) {
	snap := a.d.Snapshot()
	c.head("Before the first swing", []string{snap.Player.Name, snap.Drill.Name}, button{do: Go, word: "all clear"}, button{do: Back, word: "back"})
	bar := c.bar("All clear? Enter")
	c.press(Rect{0, bar, c.Width, c.Height - bar}, Go, 0)
	body := Rect{c.margin, c.headHeight() + c.px(24), c.Width - 2*c.margin, bar - c.headHeight() - c.px(24)}
	half := (body.W - c.px(40)) / 2
	list := Cautions()
	// Four rows of two: a drawing each, the words beside it.
	row := math.Floor((body.H - c.px(40)) / 4)
	side := math.Floor(min(row-c.px(14), c.px(108)))
	words := half - side - c.px(20)
	size := c.heading
	for size > c.small && !cautionsFit(c, list, words, row-c.px(8), size) {
		size--
	}
	for i, k := range list {
		x, y := body.X+float64(i/4)*(half+c.px(40)), body.Y+float64(i%4)*row
		c.cautionDrawing(i, Rect{x, y, side, side})
		x += side + c.px(20)
		y += math.Round(size * 0.9)
		c.text(x, y, k.Head, size, Bold, Ink)
		c.paragraph(x, y+math.Round(size*1.25), words, k.Text, size, Regular, Quiet)
	}
	c.text(c.margin, bar-c.px(14), "Local rules of the range, and your coach's or doctor's word, come first.", c.body, Medium, Ink)
}

// cautionsFit reports whether each caution's words fit a height.
func cautionsFit(c *canvas, list []Caution, width, height, size float64) bool {
	for _, k := range list {
		if lines := float64(len(c.ruler.Wrap(k.Text, size, Regular, width))); size*(0.9+1.25+1.32*(lines-1)+0.3) > height {
			return false
		}
	}
	return true
}
