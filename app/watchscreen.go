package app

import (
	"math"
	"slices"
	"strings"

	"drillbay/app/widget"
	"drillbay/drills"
	"drillbay/drills/runner"
)

// watchScreen chooses what a drill watches of the body beside the shaft line,
// two things at most, and by how much each may be off.
type watchScreen struct {
	drill runner.Drill
	parts []drills.Watch // all, with the bands as they are chosen
	on    []drills.BodyPart
	list  widget.List
	full  bool // a third one was asked for
}

func newWatchScreen(a *App, d runner.Drill) *watchScreen {
	s := &watchScreen{drill: d}
	for p := range drills.BodyPart(drills.BodyParts) {
		s.parts = append(s.parts, drills.UsualWatch(p))
	}
	for _, w := range a.d.Book.Watched(d.ID) {
		s.parts[w.Part] = w
		s.on = append(s.on, w.Part)
	}
	s.list.Fit(len(s.parts), len(s.parts))
	return s
}

func (*watchScreen) name() string { return "watched" }

func (s *watchScreen) act(a *App, d Do, n int) {
	w := &s.parts[s.list.Chosen()]
	switch d {
	case Up, Down, Next, Choose:
		a.browse(&s.list, d, n)
		if d == Choose {
			s.turn()
		}
		return
	case Hold:
		s.turn()
	case More, Right:
		s.widen(w, 1)
	case Less, Left:
		s.widen(w, -1)
	case Back, PageBack:
		a.back()
	case Go, PageOn:
		if a.waits() {
			return
		}
		list := make([]drills.Watch, len(s.on))
		for i, p := range s.on {
			list[i] = s.parts[p]
		}
		a.store(func() error { return a.d.Book.Watch(s.drill.ID, list) }, func(err error) {
			if err != nil {
				a.tell("watched", "What is watched is not stored: "+err.Error()+".", "")
				return
			}
			if a.on(s) {
				a.back()
			}
		})
	}
}

// turn takes the chosen part in, or out.
func (s *watchScreen) turn() {
	p := drills.BodyPart(s.list.Chosen())
	s.full = false
	if i := slices.Index(s.on, p); i >= 0 {
		s.on = slices.Delete(slices.Clone(s.on), i, i+1)
		return
	}
	if s.full = len(s.on) == drills.MostWatched; !s.full {
		s.on = append(s.on, p)
	}
}

// widen moves each end of a band that is not open outward by so much.
func (s *watchScreen) widen(w *drills.Watch, by float64) {
	wider := *w
	wider.High += by
	if !math.IsInf(w.Low, 0) && w.Low < 0 || math.IsInf(w.High, 0) {
		wider.Low -= by
	}
	if wider.Check() == nil && (math.IsInf(wider.Low, 0) || math.IsInf(wider.High, 0) || wider.High-wider.Low >= 2) {
		*w = wider
	}
}

// watchedWords are things that are watched, in one line.
func watchedWords(list []drills.Watch) string {
	var out []string
	for _, w := range list {
		out = append(out, w.String())
	}
	return strings.Join(out, ", ")
}

func (s *watchScreen) draw(a *App, c *canvas) {
	c.head("Watched", []string{s.drill.Name}, button{do: More, word: "wider"}, button{do: Less, word: "narrower"}, button{do: Hold, word: "watch it, or not"}, button{do: Go, word: "keep"}, button{do: Back, word: "back, change nothing"})
	x, w := c.margin, c.Width-2*c.margin
	y := c.paragraph(x, c.headHeight()+c.px(16)+c.body, w, "Two things at most besides the shaft line: nobody can think of more at once. A rep that loses one is told so in a few words after its verdict; it counts all the same.", c.body, Regular, Quiet) + c.px(12)
	foot := c.Height - c.margin - c.small*1.6
	row := min(math.Round(c.body*2.1), math.Floor((foot-y)/float64(len(s.parts))))
	from, to := s.list.Seen()
	for i := from; i < to; i++ {
		p := drills.BodyPart(i)
		box := Rect{x, y, w, row - 2}
		role, second := Ink, Quiet
		if i == s.list.Chosen() {
			c.fill(box, Ink, 4)
			role, second = Page, Page
		}
		weight, state := Regular, ""
		if slices.Contains(s.on, p) {
			weight, state = Bold, "watched"
		}
		base := box.Y + math.Round(box.H/2+c.body*CapHeight/2)
		view := "down the line"
		if p.FaceOn() {
			view = "face-on"
		}
		c.text(x+c.px(12), base, s.parts[i].String(), c.body, weight, role)
		right := c.before(box.Right()-c.px(12), base, view, c.body, Regular, second)
		c.before(min(right-c.px(24), x+w*0.72), base, state, c.body, Bold, role)
		c.press(box, Choose, i)
		y += row
	}
	last := drills.NoAdvice
	if s.full {
		last = "Two are watched already: take one out first. " + last
	}
	c.paragraph(x, foot+c.small, w, last, c.small, Regular, Quiet)
}
