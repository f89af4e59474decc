package widget

import "math"

// List is a column of rows of which one is chosen and some are in view.
type List struct {
	count, view   int
	chosen, first int
}

// Fit tells how many rows there are and how many can be seen at once.
func (l *List) Fit(count, view int) {
	l.count, l.view = max(count, 0), max(view, 1)
	l.Choose(l.chosen)
}

// Choose chooses a row, the nearest one there is, and brings it into view.
func (l *List) Choose(row int) {
	l.chosen = min(max(row, 0), max(l.count-1, 0))
	l.first = min(l.first, l.chosen)
	l.first = max(l.first, l.chosen-l.view+1, 0)
	l.first = min(l.first, max(l.count-l.view, 0))
}

// Move chooses a row some rows further down (up when negative).
func (l *List) Move(rows int) { l.Choose(l.chosen + rows) }

// Page moves by what is in view.
func (l *List) Page(pages int) { l.Move(pages * l.view) }

// Chosen is the chosen row, 0 when there is none.
func (l *List) Chosen() int { return l.chosen }

// Seen are the rows in view, from inclusive to exclusive.
func (l *List) Seen() (from, to int) { return l.first, min(l.first+l.view, l.count) }

// Below returns the number of rows below those in view.
func (l *List) Below() int { return max(l.count-l.first-l.view, 0) }

// Choice is one of some named options.
type Choice struct {
	Options []string
	chosen  int
}

// Chosen is the index of the chosen option.
func (c *Choice) Chosen() int { return min(max(c.chosen, 0), max(len(c.Options)-1, 0)) }

// Choose chooses an option, the nearest one there is.
func (c *Choice) Choose(i int) { c.chosen = min(max(i, 0), max(len(c.Options)-1, 0)) }

// Move goes on by options, round and round.
func (c *Choice) Move(n int) {
	if k := len(c.Options); k > 0 {
		c.chosen = ((c.Chosen()+n)%k + k) % k
	}
}

// Name is the chosen option, "" when there is none.
func (c *Choice) Name() string {
	if len(c.Options) == 0 {
		return ""
	}
	return c.Options[c.Chosen()]
}

// Number is a value that goes up and down by steps between two ends.
type Number struct {
	Least, Most, Step float64
	value             float64
}

// Value is the number, always between the ends.
func (n *Number) Value() float64 { return min(max(n.value, n.Least), n.Most) }

// Set takes a value, brought between the ends and onto a step; what is not a
// number changes nothing.
func (n *Number) Set(v float64) {
	if math.IsNaN(v) {
		return
	}
	v = min(max(v, n.Least), n.Most)
	if n.Step > 0 {
		v = n.Least + math.Round((v-n.Least)/n.Step)*n.Step
	}
	n.value = min(v, n.Most)
}

// Move goes on by steps.
func (n *Number) Move(steps int) { n.Set(n.Value() + float64(steps)*n.Step) }

// Press follows a pointer: what went down and up on one thing was pressed.
type Press struct {
	on   int
	down bool
}

// Down says that the pointer went down on thing; a negative thing is none.
func (p *Press) Down(thing int) { p.on, p.down = thing, thing >= 0 }

// Up says that the pointer went up on thing and reports whether that was a
// press of it.
func (p *Press) Up(thing int) bool {
	was := p.down && p.on == thing && thing >= 0
	p.down = false
	return was
}

// Holds reports whether the pointer is down on thing.
func (p *Press) Holds(thing int) bool { return p.down && p.on == thing }
