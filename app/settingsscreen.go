package app

import (
	"fmt"
	"math"

	"drillbay/app/widget"
)

// settingsScreen has the few things that a user sets once.
type settingsScreen struct {
	row    int
	theme  widget.Choice
	inch   widget.Number
	metres widget.Number
	voice  widget.Choice
	late   widget.Number
	motion widget.Choice
	length widget.Number
	flip   widget.Choice
}

const settingRows = 8

func (*settingsScreen) name() string { return "settings" }

func newSettingsScreen(a *App) *settingsScreen {
	s := &settingsScreen{
		theme: widget.Choice{Options: []string{"daylight", "indoors"}}, voice: widget.Choice{Options: []string{"on", "off"}},
		motion: widget.Choice{Options: []string{"swings", "steps"}},
		inch:   widget.Number{Least: 7, Most: 85, Step: 0.1}, metres: widget.Number{Least: 1, Most: 8, Step: 0.1},
		late: widget.Number{Least: 1, Most: 8, Step: 0.5}, length: widget.Number{Least: 10, Most: 120, Step: 5},
		flip: widget.Choice{Options: []string{"as it is", "flipped"}},
	}
	if a.setup.Theme == "indoors" {
		s.theme.Choose(1)
	}
	if !a.setup.Voice {
		s.voice.Choose(1)
	}
	if a.setup.Still {
		s.motion.Choose(1)
	}
	if a.bay.Flipped {
		s.flip.Choose(1)
	}
	s.length.Set(a.setup.Minutes)
	s.inch.Set(a.setup.ScreenInch)
	s.metres.Set(a.setup.ViewMetres)
	s.late.Set(a.setup.Late)
	return s
}

func (s *settingsScreen) act(a *App, d Do, n int) {
	switch d {
	case Back, Go, PageBack:
		a.keepSetup()
		a.back()
		return
	case Up:
		s.row = max(s.row-1, 0)
	case Down, Next, PageOn:
		s.row = (s.row + 1) % settingRows
	case Left:
		s.move(-1)
	case Right, Hold:
		s.move(1)
	case Less, More:
		if n > 0 {
			s.row = n - 1
		}
		if d == More {
			s.move(1)
		} else {
			s.move(-1)
		}
	case Choose:
		s.row = min(max(n/10-1, 0), settingRows-1)
		if c := s.choice(); c != nil {
			c.Choose(n % 10)
		}
	}
	a.setup.Theme = s.theme.Name()
	a.setup.ScreenInch, a.setup.ViewMetres = s.inch.Value(), s.metres.Value()
	a.setup.Voice, a.setup.Still = s.voice.Chosen() == 0, s.motion.Chosen() == 1
	a.setup.Late, a.setup.Minutes, a.setup.Asked = s.late.Value(), s.length.Value(), true
	if flipped := s.flip.Chosen() == 1; flipped != a.bay.Flipped {
		a.bay.Flipped = flipped
		a.keepBay()
	}
}

func (s *settingsScreen) choice() *widget.Choice {
	return map[int]*widget.Choice{0: &s.theme, 3: &s.voice, 5: &s.motion, 7: &s.flip}[s.row]
}

func (s *settingsScreen) move(n int) {
	if c := s.choice(); c != nil {
		c.Move(n)
		return
	}
	map[int]*widget.Number{1: &s.inch, 2: &s.metres, 4: &s.late, 6: &s.length}[s.row].Move(n)
}

func (s *settingsScreen) draw(a *App, c *canvas) {
	c.head("Settings", nil, button{do: Next, word: "next"}, button{do: Right, word: "change"}, button{do: Go, word: "done"}, button{do: Back, word: "back"})
	top := c.headHeight() + c.px(12)
	row := math.Floor((c.Height - top - c.px(112)) / settingRows)
	x := c.margin + c.px(340)
	tall := min(c.px(48), row-c.px(14))
	for i, l := range []struct{ name, why string }{
		{"Looks", "daylight for sun and bright halls"},
		{"Screen, corner to corner", "sizes what is read from the mat"},
		{"From mat to screen", "as far as you look at it"},
		{"Voice", "verdicts and cues, spoken"},
		{"Look-up picture", "how late it is"},
		{"Metronome's bob", "steps from post to post: less motion"},
		{"Session", "how long a planned one takes"},
		{"Picture of this bay", "flipped: for cameras that mirror"},
	} {
		y := top + float64(i)*row
		mid := y + row/2
		room := c.px(324)
		size, _ := c.ruler.Fit(l.name, c.heading, c.small, Bold, room)
		c.text(c.margin, mid-c.px(2), c.ruler.Cut(l.name, size, Bold, room), size, Bold, Ink)
		c.text(c.margin, mid-c.px(2)+math.Round(c.small*1.4), c.ruler.Cut(l.why, c.small, Regular, room), c.small, Regular, Quiet)
		box := Rect{x, mid - tall/2, c.px(300), tall}
		focus, base := s.row == i, (i+1)*10
		switch i {
		case 0:
			c.options(x, box.Y, tall, &s.theme, focus, base)
		case 1:
			c.stepperAt(box, fmt.Sprintf("%.1f inches", s.inch.Value()), focus, i+1)
		case 2:
			c.stepperAt(box, fmt.Sprintf("%.1f m", s.metres.Value()), focus, i+1)
		case 3:
			c.options(x, box.Y, tall, &s.voice, focus, base)
		case 4:
			c.stepperAt(box, fmt.Sprintf("%.1f s", s.late.Value()), focus, i+1)
		case 5:
			c.options(x, box.Y, tall, &s.motion, focus, base)
		case 6:
			c.stepperAt(box, fmt.Sprintf("%.0f minutes", s.length.Value()), focus, i+1)
		case 7:
			c.options(x, box.Y, tall, &s.flip, focus, base)
		}
		if i < settingRows-1 {
			c.rule(c.margin, c.px(672), y+row)
		}
	}
	s.sample(c, Rect{c.px(712), top, c.Width - c.margin - c.px(712), 0})
	// What these sizes mean on this screen, in the user's terms.
	line := fmt.Sprintf("From the mat, capitals are %.0f minutes of arc high; 16 are the least, 20 are easy to read.", matMinutes(c.mat, a.diag, a.setup))
	if n := a.nearest(c); n > 0 {
		line = fmt.Sprintf("This window is small for that: from more than %.1f m the words are hard to read.", n)
	}
	c.paragraph(c.margin, c.Height-c.px(76), c.Width-2*c.margin, line, c.body, Regular, Ink)
	c.text(c.margin, c.Height-c.px(24), "Minutes of arc by ISO 9241-303. Full screen (F11) is easiest to read.", c.small, Regular, Quiet)
}

// sample shows what is read from the mat at its size, to be tried by
// walking there.
func (s *settingsScreen) sample(c *canvas, r Rect) {
	box := Rect{r.X, r.Y, r.W, math.Round(c.mat*2.1 + c.px(76))}
	c.fill(box, Plate, 4)
	c.text(box.X+c.px(20), box.Y+c.px(38), "Walk to the mat: can you read this?", c.heading, Regular, Ink)
	for i, word := range []string{"in line", "8 of 10"} {
		size, _ := c.ruler.Fit(word, c.mat, c.small, Bold, r.W-c.px(40))
		c.text(box.X+c.px(20), box.Y+c.px(50)+math.Round(c.mat*(float64(i)*1.02+0.84)), word, size, Bold, Ink)
	}
}

// stepperAt is a stepper whose presses name the row, from 1.
func (c *canvas) stepperAt(r Rect, value string, focus bool, row int) {
	n := len(c.Hits)
	c.stepper(r, value, focus, row)
	c.Hits[n].N = row * 10
}

// matMinutes is how high capitals of the mat size are, minutes of arc.
func matMinutes(mat, diagonal float64, s Setup) float64 {
	height := mat * CapHeight / diagonal * s.ScreenInch * 0.0254
	return 2 * math.Atan(height/2/s.ViewMetres) * 180 / math.Pi * 60
}

// nearest is the greatest distance in m at which the longest cue can be read
// in this window, 0 when it can from where the user stands.
func (a *App) nearest(c *canvas) float64 {
	if _, ok := c.ruler.Fit("Step in when ready", c.mat, c.floor, Bold, c.Width-2*c.margin); ok {
		return 0
	}
	size := (c.Width - 2*c.margin) / c.ruler.Width("Step in when ready", 1, Bold)
	return a.setup.ViewMetres * size / c.floor
}
