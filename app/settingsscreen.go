package app

import (
	"fmt"
	"math"

	"drillbay/app/widget"
	"drillbay/drills/book"
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
	taps   widget.Choice
	unit   widget.Choice
	loud   [3]widget.Number // 1 to 10
	camera cameraChoice
}

// The rows of the form: those on the left, then those on the right.
const (
	leftRows    = 9
	unitsRow    = 8
	cameraRow   = 9
	modeRow     = 10
	tapsRow     = 11
	loudRow     = 12 // voice, beat, tones
	settingRows = 15
)

func (*settingsScreen) name() string { return "settings" }

func newSettingsScreen(a *App) *settingsScreen {
	s := &settingsScreen{
		theme: widget.Choice{Options: []string{"daylight", "indoors"}}, voice: widget.Choice{Options: []string{"on", "off"}},
		motion: widget.Choice{Options: []string{"swings", "steps"}},
		inch:   widget.Number{Least: 7, Most: 85, Step: 0.1}, metres: widget.Number{Least: 1, Most: 8, Step: 0.1},
		late: widget.Number{Least: 1, Most: 8, Step: 0.5}, length: widget.Number{Least: 10, Most: 120, Step: 5},
		flip: widget.Choice{Options: []string{"as it is", "flipped"}}, taps: widget.Choice{Options: []string{"off", "on"}},
		unit:   widget.Choice{Options: []string{"centimetres", "inches"}},
		camera: newCameraChoice(a),
	}
	if a.setup.Taps {
		s.taps.Choose(1)
	}
	if a.setup.Inches {
		s.unit.Choose(1)
	}
	for i, q := range []int{a.setup.Quieter.Voice, a.setup.Quieter.Beat, a.setup.Quieter.Tones} {
		s.loud[i] = widget.Number{Least: 1, Most: 10, Step: 1}
		s.loud[i].Set(10 - float64(q))
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
	case Pencil:
		a.open(newCoachScreen(a))
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
			s.row = min(n-1, settingRows-1)
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
	a.setup.Taps, a.setup.Inches = s.taps.Chosen() == 1, s.unit.Chosen() == 1
	a.setup.Camera, a.setup.Mode = s.camera.name, s.camera.mode
	before := a.setup.Quieter
	steps := func(i int) int { return int(math.Round(10 - s.loud[i].Value())) }
	if a.setup.Quieter = (book.Quieter{Voice: steps(0), Beat: steps(1), Tones: steps(2)}); a.setup.Quieter != before && a.d.Try != nil {
		a.d.Try(s.row-loudRow, a.setup)
	}
	if flipped := s.flip.Chosen() == 1; flipped != a.bay.Flipped {
		a.bay.Flipped = flipped
		a.keepBay()
	}
}

func (s *settingsScreen) choice() *widget.Choice {
	return map[int]*widget.Choice{0: &s.theme, 3: &s.voice, 5: &s.motion, 7: &s.flip, unitsRow: &s.unit, tapsRow: &s.taps}[s.row]
}

func (s *settingsScreen) move(n int) {
	if c := s.choice(); c != nil {
		c.Move(n)
		return
	}
	switch s.row {
	case cameraRow:
		s.camera.move(n)
		return
	case modeRow:
		s.camera.moveMode(n)
		return
	}
	if i := s.row - loudRow; i >= 0 && i < len(s.loud) {
		s.loud[i].Move(n)
		return
	}
	map[int]*widget.Number{1: &s.inch, 2: &s.metres, 4: &s.late, 6: &s.length}[s.row].Move(n)
}

func (s *settingsScreen) draw(a *App, c *canvas) {
	c.head("Settings", nil, button{do: Next, word: "next"}, button{do: Right, word: "change"}, button{do: Pencil, word: "name on reports"}, button{do: Go, word: "done"}, button{do: Back, word: "back"})
	top := c.headHeight() + c.px(12)
	row := math.Floor((c.Height - top - c.px(112)) / leftRows)
	x := c.margin + c.px(340)
	tall := min(c.px(48), row-c.px(14))
	for i, l := range []struct{ name, why string }{
		{"Looks", "daylight for sun and bright halls"},
		{"Screen, corner to corner", "sizes what is read from the mat"},
		{"From mat to screen", "as far as you look at it"},
		{"Voice", "verdicts and cues, spoken"},
		{"Look-up picture", "how late it is"},
		{"Metronome's bob", "steps: with less motion"},
		{"Session", "how long a planned one takes"},
		{"Picture of this bay", "flipped: for cameras that mirror"},
		{"Lengths", "and metres, or yards"},
	} {
		y := top + float64(i)*row
		mid := y + row/2
		room := c.px(324)
		size, _ := c.ruler.Fit(l.name, min(c.heading, math.Round(row*0.42)), c.small, Bold, room)
		c.text(c.margin, mid-c.px(3), c.ruler.Cut(l.name, size, Bold, room), size, Bold, Ink)
		c.text(c.margin, mid-c.px(3)+math.Round(min(c.small*1.4, row*0.36)), c.ruler.Cut(l.why, c.small, Regular, room), c.small, Regular, Quiet)
		box := Rect{x, mid - tall/2, c.px(300), tall}
		focus, base := s.row == i, (i+1)*10
		switch i {
		case 0:
			c.options(x, box.Y, tall, &s.theme, focus, base)
		case 1:
			c.stepperAt(box, fmt.Sprintf("%.1f inches", s.inch.Value()), focus, i+1)
		case 2:
			c.stepperAt(box, c.units().far(s.metres.Value(), 1), focus, i+1)
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
		case unitsRow:
			c.options(x, box.Y, tall, &s.unit, focus, base)
		}
		if i < leftRows-1 {
			c.rule(c.margin, c.px(672), y+row)
		}
	}
	right := Rect{c.px(712), top, c.Width - c.margin - c.px(712), 0}
	s.drawDevices(a, c, Rect{right.X, s.sample(c, right), right.W, top + leftRows*row})
	// What these sizes mean on this screen, in the user's terms.
	line := readable(matMinutes(c.mat, a.diag, a.setup))
	if n := a.nearest(c); n > 0 {
		line = fmt.Sprintf("This window is small for that: from farther than %.1f m the words are hard to read.", n)
	}
	c.paragraph(c.margin, c.Height-c.px(76), c.Width-2*c.margin, line, c.body, Regular, Ink)
	c.text(c.margin, c.Height-c.px(24), "Full screen (F11) is easiest to read. Another camera or mode is used from the next start.", c.small, Regular, Quiet)
}

// sample shows what is read from the mat at its size, to be tried by
// walking there.
func (s *settingsScreen) sample(c *canvas, r Rect) (bottom float64) {
	box := Rect{r.X, r.Y, r.W, math.Round(c.mat*1.02 + c.px(64))}
	c.fill(box, Plate, 4)
	c.text(box.X+c.px(20), box.Y+c.px(38), "Walk to the mat: can you read this?", c.heading, Regular, Ink)
	size, _ := c.ruler.Fit("in line", c.mat, c.small, Bold, r.W-c.px(40))
	c.text(box.X+c.px(20), box.Y+c.px(46)+math.Round(c.mat*0.84), "in line", size, Bold, Ink)
	return box.Bottom()
}

// drawDevices draws the rows on the right; r's height is where they end.
func (s *settingsScreen) drawDevices(a *App, c *canvas, r Rect) {
	s.camera.look(a, c)
	y := r.Y + c.px(10)
	row := math.Floor((r.H - y) / (settingRows - leftRows))
	tall := min(c.px(48), row-c.px(12))
	for i, l := range []struct{ name, value string }{{"Camera", s.camera.word(a)}, {"Its mode", s.camera.mode.String()}, {"Taps", ""},
		{"Voice volume", ""}, {"Beat volume", ""}, {"Tones volume", ""}} {
		mid := y + (float64(i)+0.5)*row
		at := leftRows + i
		x := r.X + c.px(150)
		label, _ := c.ruler.Fit(l.name, c.heading, c.small, Bold, c.px(144))
		c.text(r.X, mid+math.Round(label*CapHeight/2), c.ruler.Cut(l.name, label, Bold, c.px(146)), label, Bold, Ink)
		box := Rect{x, mid - tall/2, r.Right() - x, tall}
		if at == tapsRow {
			x = c.options(x, box.Y, tall, &s.taps, s.row == at, (at+1)*10) + c.px(16)
			lines := c.ruler.Wrap("two on the mat: the verdict again, or the next set", c.small, Regular, r.Right()-x)
			for k, w := range lines {
				c.text(x, mid+math.Round(c.small*CapHeight/2+(float64(k)-float64(len(lines)-1)/2)*c.small*1.25), w, c.small, Regular, Quiet)
			}
			continue
		}
		if k := at - loudRow; k >= 0 {
			c.stepperAt(box, fmt.Sprintf("%.0f of 10", s.loud[k].Value()), s.row == at, at+1)
			continue
		}
		size, _ := c.ruler.Fit(l.value, c.heading, c.small, Bold, box.W-2*box.H)
		n := len(c.Hits)
		c.stepperIn(box, c.ruler.Cut(l.value, size, Bold, box.W-2*box.H), size, s.row == at, at+1)
		c.Hits[n].N = (at + 1) * 10
	}
}

// stepperAt is a stepper whose presses name the row, from 1.
func (c *canvas) stepperAt(r Rect, value string, focus bool, row int) {
	n := len(c.Hits)
	c.stepper(r, value, focus, row)
	c.Hits[n].N = row * 10
}

// readable says how well letters of so many minutes of arc are read (ISO 9241-303: 16 at
// least, 20 to 22 preferred).
func readable(minutes float64) string {
	switch {
	case minutes >= capMinutes-0.5:
		return "From the mat these letters are easy to read."
	case minutes >= floorMinutes-0.5:
		return "From the mat these letters can just be read."
	}
	return "From the mat these letters are too small to read: stand nearer, or take a larger screen."
}

// matMinutes returns the height of capitals of the mat size as seen from the viewing
// distance, minutes of arc.
func matMinutes(mat, diagonal float64, s book.Setup) float64 {
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
