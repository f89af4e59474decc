package app

import (
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"sync/atomic"

	"drillbay/app/widget"
	"drillbay/camera/lookback"
	"drillbay/drills"
	"drillbay/drills/clips"
)

// clipRates are the frame rates that phones record slow motion at, for a clip that plays
// slower than it was taken and does not say so; 0 stands for a clip that plays at its own
// speed.
var clipRates = []float64{0, 60, 120, 240}

// clipScreen opens a clip, a phone's say, and shows its reps. Nothing of it is
// stored.
type clipScreen struct {
	path     widget.Field
	hand     widget.Choice
	distance widget.Number
	field    widget.Number
	rate     widget.Choice
	row      int // of the form
	why      string

	files []string // that were found, the newest first
	found chan []string
	file  widget.List

	read   atomic.Uint64 // share of the clip, as float64 bits
	done   chan clipOutcome
	cancel context.CancelFunc // not nil: a clip is being measured

	clip string // the name of the one that was measured
	reps []clips.Rep
	list widget.List
	show int // the rep that loop plays, from 1
	loop lookbackPart
}

type clipOutcome struct {
	reps []clips.Rep
	err  error
}

// The rows of the form.
const (
	clipPath = iota
	clipHand
	clipDistance
	clipField
	clipRate
	clipRows
)

func (a *App) openClip() {
	if a.d.Measure == nil {
		a.tell("clip", "Clips cannot be opened here.", "")
		return
	}
	s := &clipScreen{path: widget.Field{Most: 400}, hand: widget.Choice{Options: []string{"right-handed", "left-handed"}},
		distance: widget.Number{Least: 2, Most: 4, Step: 0.1}, field: widget.Number{Least: 30, Most: 110, Step: 1},
		rate: widget.Choice{Options: []string{"as it says", "60", "120", "240"}}, done: make(chan clipOutcome, 1)}
	s.distance.Set(3.2)
	s.field.Set(70)
	if a.d.Clips != nil {
		found := make(chan []string, 1)
		s.found = found
		go func() { found <- a.d.Clips() }()
	}
	a.open(s)
}

func (*clipScreen) name() string { return "clip" }

func (s *clipScreen) typing() bool { return s.reps == nil && s.cancel == nil && s.row == clipPath }

func (s *clipScreen) typed(a *App, text string) { s.path.Type(text); s.why = "" }

func (s *clipScreen) act(a *App, d Do, n int) {
	switch {
	case s.cancel != nil:
		if d == Back || d == PageBack {
			s.cancel()
		}
	case s.reps != nil:
		s.look(a, d, n)
	default:
		s.fill(a, d, n)
	}
}

// look goes through the reps.
func (s *clipScreen) look(a *App, d Do, n int) {
	if s.loop.on && s.loop.play(a, d, n) {
		return
	}
	switch d {
	case Back, PageBack, Go:
		s.forget()
	case Up:
		s.list.Move(-1)
	case Down, Next, PageOn:
		s.list.Move(1)
	case Choose:
		s.list.Choose(n)
	}
}

func (s *clipScreen) forget() {
	for _, r := range s.reps {
		if r.Picture != nil {
			r.Picture.Release()
		}
		if r.Loop != nil {
			r.Loop.Release()
		}
	}
	s.reps, s.show, s.loop = nil, 0, lookbackPart{}
}

// turn plays the loop of the rep that is chosen.
func (s *clipScreen) turn(a *App) {
	n := s.list.Chosen() + 1
	if n == s.show {
		return
	}
	if s.show > 0 && s.reps[s.show-1].Loop != nil {
		s.reps[s.show-1].Loop.Release()
	}
	s.show, s.loop = n, lookbackPart{}
	if r := s.reps[n-1]; r.Loop != nil {
		m := r.Rep.Moments
		at := math.NaN()
		for _, t := range []float64{m.Top, m.Catch, m.Level} {
			if !math.IsNaN(t) {
				at = t
			}
		}
		s.loop = lookbackPart{on: true, known: true, rep: r.Done, player: lookback.NewPlayer(r.Loop.Times(), at, a.now)}
	}
}

// fill fills in the form.
func (s *clipScreen) fill(a *App, d Do, n int) {
	switch d {
	case Back:
		a.back()
	case Up:
		s.file.Move(-1)
		s.take(s.file.Chosen())
	case Down:
		if s.path.Text() != "" {
			s.file.Move(1) // the first press takes the newest
		}
		s.take(s.file.Chosen())
	case Next:
		s.row = (s.row + 1) % clipRows
	case Choose:
		if n >= 100 {
			s.file.Choose(n - 100)
			s.take(n - 100)
			return
		}
		if s.row = min(n/10, clipRows-1); s.row == clipHand {
			s.hand.Choose(n % 10)
		}
	case Erase, EraseOn, Home, End:
		edit(&s.path, d)
	case Left, Less:
		s.move(n, -1)
	case Right, More, Hold:
		s.move(n, 1)
	case Go, PageOn:
		s.begin(a)
	}
}

func (s *clipScreen) move(n, by int) {
	if n > 0 {
		s.row = n / 10
	}
	switch s.row {
	case clipPath:
		s.path.Move(by)
	case clipHand:
		s.hand.Move(by)
	case clipDistance:
		s.distance.Move(by)
	case clipField:
		s.field.Move(by)
	case clipRate:
		s.rate.Move(by)
	}
}

// take puts a file that was found into the field.
func (s *clipScreen) take(i int) {
	if i < len(s.files) {
		s.path.Set(s.files[i])
		s.why = ""
	}
}

// begin measures the clip beside; the screen shows how far it is.
func (s *clipScreen) begin(a *App) {
	job := clips.Job{Path: s.path.Value(), Hand: drills.Hand(s.hand.Chosen()), Distance: s.distance.Value(), Field: s.field.Value(), Rate: clipRates[s.rate.Chosen()]}
	if job.Path == "" {
		s.why = "Choose a clip, or type where it is."
		return
	}
	ctx, cancel := context.WithCancel(context.Background())
	s.cancel, s.clip = cancel, filepath.Base(job.Path)
	s.read.Store(0)
	go func() {
		reps, err := a.d.Measure(ctx, job, func(share float64) { s.read.Store(math.Float64bits(share)) })
		s.done <- clipOutcome{reps, err}
	}()
}

// follow takes what came of the work.
func (s *clipScreen) follow() {
	select {
	case s.files = <-s.found:
		s.found = nil
	default:
	}
	select {
	case o := <-s.done:
		s.cancel()
		s.cancel, s.reps = nil, o.reps
		switch {
		case errors.Is(o.err, context.Canceled):
			s.forget()
			s.why = "Stopped."
		case o.err != nil:
			s.forget()
			s.why = drills.Sentence(o.err.Error())
		case len(o.reps) == 0:
			s.reps, s.why = nil, "No rep was found in "+s.clip+"."
		}
	default:
	}
}

func (s *clipScreen) draw(a *App, c *canvas) {
	s.follow()
	switch {
	case s.cancel != nil:
		c.again(0.2)
		c.head("Clip", []string{s.clip}, button{do: Back, word: "stop"})
		y := c.headHeight() + c.px(160)
		share := math.Float64frombits(s.read.Load())
		c.text(c.margin, y, c.ruler.Cut("Reading "+s.clip, c.title, Bold, c.Width-2*c.margin), c.title, Bold, Ink)
		r := Rect{c.margin, y + c.px(40), c.Width - 2*c.margin, c.px(28)}
		c.frame(r, Ink, c.stroke(2), 4)
		c.fill(Rect{r.X, r.Y, math.Round(r.W * min(share, 1)), r.H}, Ink, 4)
		c.text(c.margin, r.Bottom()+math.Round(c.body*1.6), fmt.Sprintf("%.0f %%", 100*min(share, 1)), c.body, Regular, Quiet)
	case s.reps != nil:
		s.drawReps(a, c)
	default:
		s.drawForm(c)
	}
}

func (s *clipScreen) drawForm(c *canvas) {
	c.head("Clip", nil, button{do: Next, word: "next"}, button{do: Down, word: "the files"}, button{do: Go, word: "read it"}, button{do: Back, word: "back"})
	x, w := c.margin, c.Width-2*c.margin
	y := c.headHeight() + c.px(16) + c.heading
	c.text(x, y, "A clip from a camera or a phone", c.heading, Bold, Ink)
	box := Rect{x, y + c.px(14), w, c.px(56)}
	c.field(box, &s.path, s.row == clipPath)
	c.press(box, Choose, 10*clipPath)
	y = box.Bottom() + math.Round(c.body*1.5)
	hint, role := "AVI; MP4 and MOV where ffmpeg is installed. Filmed down the line, from behind the hands. Nothing of it is stored.", Quiet
	if s.why != "" {
		hint, role = s.why, Ink
	}
	for _, l := range c.ruler.Wrap(hint, c.body, Regular, w) {
		c.text(x, y, l, c.body, Regular, role)
		y += math.Round(c.body * 1.32)
	}
	foot := c.Height - c.margin - c.px(60) - c.heading - c.px(14)
	rows := max(int((foot-y-c.px(10))/math.Round(c.body*1.6)), 1)
	s.file.Fit(len(s.files), rows)
	from, to := s.file.Seen()
	for i := from; i < to; i++ {
		y += math.Round(c.body * 1.6)
		weight := Regular
		if s.files[i] == s.path.Value() {
			weight = Bold
		}
		c.text(x, y-math.Round(c.body*0.3), c.ruler.Cut(s.files[i], c.body, weight, w), c.body, weight, Ink)
		c.press(Rect{x, y - math.Round(c.body*1.3), w, math.Round(c.body * 1.6)}, Choose, 100+i)
	}
	if s.found != nil {
		c.again(0.2)
		c.text(x, y+math.Round(c.body*1.4), "Looking for clips …", c.body, Regular, Quiet)
	}
	y = foot + c.heading
	c.text(x, y, "Hand", c.heading, Bold, Ink)
	end := c.options(x, y+c.px(14), c.px(56), &s.hand, s.row == clipHand, 10*clipHand) + c.px(24)
	wide := math.Floor((c.Width - c.margin - end - 2*c.px(24)) / 3)
	for i, f := range []struct{ name, value string }{
		{"Lens to hands", c.units().far(s.distance.Value(), 1)},
		{"Field of view", fmt.Sprintf("%.0f°", s.field.Value())},
		{"Frames a second", s.rate.Options[s.rate.Chosen()]},
	} {
		r := Rect{end + float64(i)*(wide+c.px(24)), y + c.px(14), wide, c.px(56)}
		c.text(r.X, y, c.ruler.Cut(f.name, c.heading, Bold, wide), c.heading, Bold, Ink)
		c.stepper(r, f.value, s.row == clipDistance+i, 10*(clipDistance+i))
	}
}

func (s *clipScreen) drawReps(a *App, c *canvas) {
	count := "1 rep"
	if len(s.reps) != 1 {
		count = fmt.Sprintf("%d reps", len(s.reps))
	}
	keys := []button{{do: Down, word: "next rep"}, {do: Back, word: "another clip"}}
	top := c.headHeight() + c.px(12)
	left := Rect{c.margin, top, math.Round(c.Width * 0.6), c.Height - top - c.margin}
	x := left.Right() + c.px(32)
	row := math.Round(c.body * 1.9)
	s.list.Fit(len(s.reps), max(int((left.H-c.heading)/row), 1))
	r := s.reps[s.list.Chosen()]
	s.turn(a)
	switch {
	case s.loop.on:
		overlay := "overlay off"
		if a.setup.OverlayOff {
			overlay = "overlay on"
		}
		keys = append([]button{{do: Hold, word: "hold"}, {do: Right, word: "step"}, {do: Overlay, word: overlay}}, keys...)
		left.H -= c.px(124)
		s.loop.who.Hand = drills.Hand(s.hand.Chosen())
		at := s.loop.picture(a, c, 0, r.Loop, s.loop.player, r.Done, true, left)
		c.tags(at, s.loop.said...)
		s.loop.timeline(a, c, Rect{at.X, at.Bottom() + c.px(8), at.W, c.beatHeight()})
		c.speeds(at.X, at.Bottom()+c.px(92), s.loop.player.Speed())
		c.again(min(1.0/60/s.loop.player.Speed(), 1.0/15))
	case r.Picture != nil:
		at := c.show(0, r.Picture.Retain(), left, Rect{})
		c.overlay(at, Rect{0, 0, float64(r.Picture.Width), float64(r.Picture.Height)}, r.Done, lookback.Position{At: r.Picture.Seconds(), Held: true})
	}
	c.head("Clip", []string{s.clip, count}, keys...)
	from, to := s.list.Seen()
	y := top
	for i := from; i < to; i++ {
		rep := s.reps[i].Rep
		box := Rect{x, y, c.Width - c.margin - x, row - 2}
		role := Ink
		if i == s.list.Chosen() {
			c.fill(box, Ink, 4)
			role = Page
		}
		base := y + math.Round(row/2+c.body*CapHeight/2)
		c.before(x+c.px(32), base, fmt.Sprint(i+1), c.body, Bold, role)
		words := tellingOf(rep).String()
		right := c.before(box.Right()-c.px(10), base, fmt.Sprintf("%.1f s", rep.Moments.Start), c.small, Regular, role)
		c.text(x+c.px(46), base, c.ruler.Cut(words, c.body, Regular, right-x-c.px(56)), c.body, Regular, role)
		c.press(box, Choose, i)
		y += row
	}
	if why := r.Rep.Why; why != "" && y+c.small < c.Height-c.margin {
		c.paragraph(x, y+math.Round(c.small*1.5), c.Width-c.margin-x, drills.Sentence(whyOf(why)), c.small, Regular, Quiet)
	}
}
