package app

import (
	"fmt"
	"math"
	"strings"

	"drillbay/drills"
	"drillbay/drills/bay"
)

// words writes the one correction that matters most now, read from the mat; what
// comes after it is told small.
func (s *lensScreen) words(c *canvas, r Rect, o bay.Offset, seen bool) {
	size, row := c.correctionSize(r)
	if !seen {
		c.fitted(r.X, r.Y+math.Round(size*CapHeight), r.W, "Looking", size, min(c.floor, size), Bold, Quiet)
		c.paragraph(r.X, r.Y+row+c.heading, r.W, said(func() string { return s.why }, "I cannot see your hands yet. Take your address and stand still, with the whole club in the picture."), c.heading, Regular, Quiet)
		return
	}
	up, upCm, near, nearCm := moveWords(o, c.units())
	height, side := correction{up, upCm, 0}, correction{near, nearCm, 1}
	if up == "lower" {
		height.turn = 2
	}
	// The ball lies on the right for a right-hander, as the picture is seen.
	if (near == "nearer you") == (s.hand == drills.Right) {
		side.turn = 3
	}
	first, then := height, side
	if up == "" || near != "" && math.Abs(o.NearCm) > math.Abs(o.UpCm) {
		first, then = side, height
	}
	if first.word == "" || o.Good() {
		y := r.Y + math.Round(size*CapHeight)
		c.text(r.X, y, c.ruler.Cut("Good", size, Bold, r.W), size, Bold, Ink)
		c.paragraph(r.X, y+row, r.W, "The camera stands well. Enter ends this.", c.heading, Regular, Quiet)
		return
	}
	after := ""
	if then.word != "" {
		rest := bay.Offset{UpCm: o.UpCm}
		if then == side {
			rest = bay.Offset{NearCm: o.NearCm}
		}
		after = "Then " + moveLine(rest, c.units()) + "."
	}
	c.correct(r, first, after)
}

// correction is one way to move the camera: in words, by how much, and which way
// its triangle points, in quarters of a turn; less than 0 is none.
type correction struct {
	word, length string
	turn         int
}

// correctionSize returns the size of the letters and the height of the rows in which a
// correction fits into r.
func (c *canvas) correctionSize(r Rect) (size, row float64) {
	size = min(c.mat, math.Floor(r.H/4.4))
	return size, math.Round(size * 1.1)
}

// correct writes a correction to be read from the mat, and small what comes after.
func (c *canvas) correct(r Rect, o correction, after string) {
	size, row := c.correctionSize(r)
	y := r.Y + math.Round(size*CapHeight)
	for _, w := range strings.Fields(o.word) {
		fits, _ := c.ruler.Fit(w, size, min(c.floor, c.mat, size), Bold, r.W)
		c.text(r.X, y, w, fits, Bold, Ink)
		y += row
	}
	end := c.text(r.X, y, o.length, size, Bold, Ink)
	if o.turn >= 0 {
		c.add(Item{Shape: Triangle, Role: Ink, X: min(end+size*0.7, r.Right()-size*0.35), Y: y - math.Round(size*CapHeight/2), R: size * 0.32, Turn: o.turn})
	}
	if after != "" {
		c.paragraph(r.X, y+math.Round(c.title*1.6), r.W, after, c.title, Medium, Quiet)
	}
}

// explain says the one thing that is to be done at the laptop now, and in small
// how.
func (s *lensScreen) explain(a *App, c *canvas, r Rect) {
	do, how := "", "Use the mouse; or Tab takes the next end and the arrows move it."
	switch {
	case s.bay(a).FaceOn && s.step == drawLines:
		lines := faceLines()
		do, how = lines[0], strings.Join(lines[1:], " ")
		if len(s.level) > 0 {
			how = "By the lines drawn on the ground " + rollTold(*s.bay(a)) + ". " + how
		}
	case s.step == hangClub:
		do, how = "Hold the club by the end of its grip and let it hang still.", "Turn its toe toward the camera or away from it. Enter skips this: the camera is then taken to be level."
	case s.found:
		do = "These lines were found. Does each point at the target? Then Enter."
		how = "Drag any that does not onto the mat's edge, or a stick on the ground. " + how
	case s.moved == 3:
		do, how = "Do both lines lie along the target line? Then Enter.", "Where they meet is the target point. "+how
	case s.moved > 0:
		do = "Now drag the other line onto a second one, some way from the first."
	default:
		do = "Drag a line onto something that points at the target: the mat's edge, a stick."
		if s.usual && s.view(a).Lens.Find != nil {
			how = "No clear lines found yet. " + how
		}
	}
	told := ""
	if s.step == hangClub {
		if told = s.hung(a); s.rolled {
			how = "Enter goes on."
		}
		c.again(0.3)
	}
	size := c.mat * 0.5
	below := linesTall(c, []string{how}, c.body, r.W) + c.px(24)
	for size > c.heading && (linesTall(c, []string{do}, size, r.W) > r.H*0.62 || size+linesTall(c, []string{do}, size, r.W)+below > r.H) {
		size--
	}
	y := c.paragraph(r.X, r.Y+size, r.W, do, size, Bold, Ink) + c.px(8)
	letters := c.body
	for letters > c.small && y+linesTall(c, []string{how}, letters, r.W) > r.Bottom() {
		letters--
	}
	y = c.paragraph(r.X, y, r.W, how, letters, Regular, Quiet) + c.px(8)
	for _, l := range append(nonEmpty(s.why), nonEmpty(told)...) {
		if s.step == hangClub && l == s.why || s.usual && s.step == drawLines {
			continue // what to do about it is being said
		}
		y = c.paragraph(r.X, y, r.W, l, c.body, Bold, Ink) + c.px(8)
	}
}

// stepName is a step's: face-on there are no lines.
func (s *lensScreen) stepName(a *App, step lensStep) string {
	if s.bay(a).FaceOn && step == drawLines {
		return "In front of you"
	}
	return lensSteps[step]
}

// hung takes the roll from a club that hangs, and says it, or why there is
// none.
func (s *lensScreen) hung(a *App) string {
	if s.view(a).Lens.Roll == nil {
		return ""
	}
	b := s.bay(a)
	roll, sigma, err := s.view(a).Lens.Roll(*b)
	if err == nil {
		b.Roll, b.RollSd, s.rolled = roll, sigma, true
	}
	switch {
	case s.rolled:
		return drills.Sentence(rollTold(*b))
	case err != nil:
		return drills.Sentence(err.Error())
	}
	return ""
}

// below draws the steps, the values, and what the offset does to a reading.
func (s *lensScreen) below(a *App, c *canvas, r Rect, o bay.Offset, seen bool) {
	y := r.Y + c.px(30)
	x := r.X
	for i := range lensSteps {
		word := s.stepName(a, lensStep(i))
		w, role := Regular, Quiet
		thick := max(1, c.px(2))
		if lensStep(i) == s.step {
			w, role, thick = Bold, Ink, max(3, c.px(4))
		}
		text := fmt.Sprintf("%d  %s", i+1, word)
		end := c.text(x, y, text, c.body, w, role)
		c.fill(Rect{x, y + c.px(10), end - x, thick}, role, 0)
		c.press(Rect{x, y - c.body, end - x, c.body * 1.6}, Choose, i)
		x = end + c.px(36)
	}
	s.views(a, c, x, r.Right(), y)
	mid := r.Bottom() - max(c.px(28), c.keyHeight(c.body)/2+c.px(10))
	x = r.X
	b, u := *s.bay(a), c.units()
	for i, v := range []struct {
		do   Do
		word string
	}{
		{Distance, valueOf("distance", b.Distance, u.far(b.Distance, 2))}, {Club, valueOf("club", b.Club, u.club(100*b.Club))}, {Field, valueOf("field", b.Field, fmt.Sprintf("%.0f°", b.Field))},
	} {
		end := c.button(x, mid, c.body, button{do: v.do, word: v.word}, Ink)
		if i == s.value {
			c.fill(Rect{x, mid + c.keyHeight(c.body)/2 + 2, end - x, 3}, Ink, 0)
		}
		x = end + c.px(24)
	}
	x = c.button(x, mid, c.body, button{do: Less}, Ink) + c.px(2)
	x = c.button(x, mid, c.body, button{do: More}, Ink) + c.px(40)
	if !seen || s.step != standBy {
		return
	}
	room := r.Right() - x
	if room < c.px(240) {
		return
	}
	effect := effectOf(o)
	if effect == "" {
		return
	}
	size, fits := c.ruler.Fit(effect, c.body, c.small, Medium, room)
	if !fits { // what it will be once the camera stands there, the words beside say too
		effect, _, _ = strings.Cut(effect, ",")
	}
	c.before(r.Right(), mid+math.Round(c.body*CapHeight/2), c.ruler.Cut(effect, size, Medium, room), size, Medium, Ink)
	if c.Width > c.px(1200) && a.d.Other.Camera == nil {
		c.before(r.Right(), y, "Move the camera itself; turning it changes nothing.", c.small, Regular, Quiet)
	}
}

// effectOf says in a line what the camera's place does to a reading.
func effectOf(o bay.Offset) string {
	switch {
	case math.IsNaN(o.SigmaNow):
		return ""
	case o.SigmaNow > drills.MaxSigma:
		return "too far off: no readings from here"
	case math.IsNaN(o.SigmaThere) || wholeDegrees(o.SigmaNow) == wholeDegrees(o.SigmaThere):
		return "reads true to about " + wholeDegrees(o.SigmaNow)
	}
	return "reads true to about " + wholeDegrees(o.SigmaNow) + ", about " + wholeDegrees(o.SigmaThere) + " once moved"
}

func valueOf(name string, v float64, said string) string {
	if v == 0 {
		return name + " not given"
	}
	return name + " " + said
}
