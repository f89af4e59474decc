package app

import (
	"fmt"
	"math"

	"drillbay/drills"
)

// words writes the two corrections, read from the mat.
func (s *lensScreen) words(c *canvas, r Rect, up, upCm, near, nearCm string, seen bool) {
	floor := min(c.floor, c.mat)
	row := math.Min(math.Round(c.mat*1.1), r.H/4)
	size := min(c.mat, math.Floor(row/1.05))
	put := func(y float64, word, cm string, turn int) {
		s1, _ := c.ruler.Fit(word, size, min(floor, size), Bold, r.W)
		base := y + math.Round(size*CapHeight)
		c.text(r.X, base, c.ruler.Cut(word, s1, Bold, r.W), s1, Bold, Ink)
		end := c.text(r.X, base+row, cm, size, Bold, Ink)
		if cm != "" {
			c.add(Item{Shape: Triangle, Role: Ink, X: min(end+size*0.7, r.Right()-size*0.35), Y: base + row - math.Round(size*CapHeight/2), R: size * 0.32, Turn: turn})
		}
	}
	if !seen {
		c.text(r.X, r.Y+math.Round(size*CapHeight), c.ruler.Cut("Looking", size, Bold, r.W), size, Bold, Quiet)
		c.paragraph(r.X, r.Y+row+c.heading, r.W, said(func() string { return s.why }, "The hands are not seen yet. Take your address and stand still, with the whole club in the picture."), c.heading, Regular, Quiet)
		return
	}
	turn := 0
	if up == "lower" {
		turn = 2
	}
	if up == "" {
		up = "height good"
	}
	put(r.Y, up, upCm, turn)
	y := r.Y + 2*row
	if upCm == "" {
		y = r.Y + row + c.px(8)
	}
	c.rule(r.X, r.Right(), y)
	y += c.px(14)
	// The ball lies on the right for a right-hander, as the picture is seen.
	side := 1
	if (near == "nearer you") == (s.hand == drills.Right) {
		side = 3
	}
	if near == "" {
		near = "side good"
	}
	put(y, near, nearCm, side)
}

// explain says what to do at the laptop.
func (s *lensScreen) explain(a *App, c *canvas, r Rect) {
	y := r.Y + c.title
	c.text(r.X, y, s.stepName(a, s.step), c.title, Bold, Ink)
	y += math.Round(c.title * 1.3)
	lines := []string{
		"Drag each line onto something on the ground that points at the target: the mat's edge, a stick.",
		"Drag the ends with the mouse. Or Tab takes the next end and the arrows move it.",
		"Where the lines meet is the target point.",
	}
	switch {
	case a.bay.FaceOn:
		lines = faceLines()
	case s.found:
		lines = append([]string{"These lines were found.", "See that each lies on something that points at the target: the mat's edge, a stick. Drag what does not."}, lines[1:]...)
	case s.usual && a.d.Lens.Find != nil:
		lines = append(lines, "No sure lines found so far.")
	}
	told := ""
	if s.step == hangClub {
		lines = []string{
			"Hold the club by the end of the grip, clear of your body, and let it hang still for a moment.",
			"Turn its toe toward the camera or away from it: seen from its side an iron hangs up to 2° off.",
			"Enter goes on without: the camera then counts as level.",
		}
		if told = s.hung(a); s.rolled {
			lines = append(lines[:2], "Enter goes on.")
		}
		c.again(0.3)
	}
	for _, l := range lines {
		y = c.paragraph(r.X, y, r.W, l, c.heading, Regular, Quiet) + c.px(8)
	}
	if s.why != "" {
		y = c.paragraph(r.X, y+c.px(8), r.W, s.why, c.heading, Bold, Ink)
	}
	if told != "" {
		c.paragraph(r.X, y+c.px(8), r.W, told, c.heading, Bold, Ink)
	}
}

// stepName is a step's: face-on there are no lines.
func (s *lensScreen) stepName(a *App, step lensStep) string {
	if a.bay.FaceOn && step == drawLines {
		return "Before the chest"
	}
	return lensSteps[step]
}

// hung takes the roll from a club that hangs, and says it, or why there is
// none.
func (s *lensScreen) hung(a *App) string {
	if a.d.Lens.Roll == nil {
		return ""
	}
	b := &a.bay
	roll, sigma, err := a.d.Lens.Roll(*b)
	if err == nil {
		b.Roll, b.RollSd, s.rolled = roll, sigma, true
	}
	switch {
	case s.rolled:
		return capital(b.rolled()) + ", measured."
	case err != nil:
		return capital(err.Error()) + "."
	}
	return ""
}

// below draws the steps, the values, and what the offset does to a reading.
func (s *lensScreen) below(a *App, c *canvas, r Rect, o Offset, seen bool) {
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
	mid := r.Bottom() - c.px(28)
	x = r.X
	b := a.bay
	for i, v := range []struct {
		do   Do
		word string
	}{
		{Distance, valueOf("distance", b.Distance, "%.2f m")}, {Club, valueOf("club", 100*b.Club, "%.0f cm")}, {Field, valueOf("field", b.Field, "%.0f°")},
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
	var effect string
	switch {
	case math.IsNaN(o.SigmaNow):
		return
	case o.SigmaNow > drills.MaxSigma:
		effect = fmt.Sprintf("no reading: ± %.1f°, at most 4° will do", o.SigmaNow)
	case math.IsNaN(o.SigmaThere) || o.SigmaNow-o.SigmaThere < 0.1:
		effect = fmt.Sprintf("true to ± %.1f°", o.SigmaNow)
	default:
		effect = fmt.Sprintf("true to ± %.1f°, ± %.1f° when there", o.SigmaNow, o.SigmaThere)
	}
	if o.Angle > 0 && o.Cm > 0 {
		effect = fmt.Sprintf("off %.1f°, to ± %.0f cm; ", o.Angle, math.Max(1, o.Cm)) + effect
	}
	size, _ := c.ruler.Fit(effect, c.body, c.small, Medium, room)
	c.before(r.Right(), mid+math.Round(c.body*CapHeight/2), c.ruler.Cut(effect, size, Medium, room), size, Medium, Ink)
	if c.Width > c.px(1200) {
		c.before(r.Right(), y, "Move the camera itself; turning it changes nothing.", c.small, Regular, Quiet)
	}
}

func valueOf(name string, v float64, format string) string {
	if v == 0 {
		return name + " not given"
	}
	return name + " " + fmt.Sprintf(format, v)
}
