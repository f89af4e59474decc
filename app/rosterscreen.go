package app

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"drillbay/app/widget"
	"drillbay/drills"
	"drillbay/drills/book"
)

// rosterScreen takes a list of names: for a new clinic, or of those who come
// late. What stands in it stays there until it is used.
type rosterScreen struct {
	late  bool
	names []string
	at    int // the place of the name in the field; behind the last: a new one
	field widget.Field
	turns widget.Choice
	many  widget.Choice // stations
	where widget.Field  // their names
	focus int           // a row of the form
	why   string
}

// The rows of the form.
const (
	rosterNames = iota
	rosterTurns
	rosterMany
	rosterWhere
	rosterRows
)

// rosterName and more, with Choose, is a name of the list.
const rosterName = 1000

// mostStations that a clinic may have in the window.
const mostStations = 6

// longestRoster bounds a list.
const longestRoster = 99

var turnRules = [...]struct {
	word string
	book.Turns
}{{"3 reps", book.Turns{Reps: 3}}, {"5 reps", book.Turns{Reps: 5}}, {"10 reps", book.Turns{Reps: 10}}, {"3 minutes", book.Turns{Minutes: 3}}, {"5 minutes", book.Turns{Minutes: 5}}}

// openRoster opens the form, with what was put into it before.
func (a *App) openRoster(late bool) {
	if a.roster == nil {
		a.roster = &rosterScreen{field: widget.Field{Most: 60}}
		for _, r := range turnRules {
			a.roster.turns.Options = append(a.roster.turns.Options, r.word)
		}
		a.roster.turns.Choose(1) // five reps (common practice)
		a.roster.where = widget.Field{Most: 120}
		for n := 1; n <= mostStations; n++ {
			a.roster.many.Options = append(a.roster.many.Options, fmt.Sprint(n))
		}
	}
	a.roster.late, a.roster.focus, a.roster.why = late, 0, ""
	a.open(a.roster)
}

func (s *rosterScreen) name() string {
	if s.late {
		return "late players"
	}
	return "new clinic"
}

func (s *rosterScreen) typing() bool { return s.focus == rosterNames || s.focus == rosterWhere }

// stations are the names of the stations, the first with the camera: as
// written, letters where no name is.
func (s *rosterScreen) stations() []string {
	out := make([]string, s.many.Chosen()+1)
	written := strings.Split(s.where.Value(), ",")
	for i := range out {
		if i < len(written) {
			out[i] = strings.Join(strings.Fields(written[i]), " ")
		}
		if out[i] == "" {
			out[i] = string(rune('a' + i))
		}
	}
	return out
}

// rows returns how many rows of the form can be reached now.
func (s *rosterScreen) rows() int {
	switch {
	case s.late:
		return 1
	case s.many.Chosen() == 0:
		return rosterWhere // one station needs no name
	}
	return rosterRows
}

// typed takes letters; a comma or a line break, which separates the names of a list, ends a
// name.
func (s *rosterScreen) typed(a *App, text string) {
	s.why = ""
	if s.focus == rosterWhere {
		s.where.Type(text)
		return
	}
	for {
		i := strings.IndexAny(text, "\n\r,;\t")
		if i < 0 {
			s.field.Type(text)
			return
		}
		s.field.Type(text[:i])
		s.take()
		text = text[i+1:]
	}
}

// take puts the text of the field on the list: a new name at the end, a corrected one in
// its old place. A name that was emptied leaves the list.
func (s *rosterScreen) take() {
	n := s.field.Value()
	switch {
	case s.at < len(s.names) && n != "":
		s.names[s.at] = n
	case s.at < len(s.names):
		s.names = slices.Delete(s.names, s.at, s.at+1)
	case n != "" && len(s.names) < longestRoster:
		s.names = append(s.names, n)
	}
	s.at = len(s.names)
	s.field.Set("")
}

// mend puts a name of the list into the field to be corrected, once the field's text is on
// the list.
func (s *rosterScreen) mend(i int) {
	before, from := len(s.names), s.at
	s.take()
	if len(s.names) < before && i > from {
		i-- // the emptied one went from before it
	}
	if s.at = min(max(i, 0), len(s.names)); s.at < len(s.names) {
		s.field.Set(s.names[s.at])
	}
}

func (s *rosterScreen) act(a *App, d Do, n int) {
	switch d {
	case Back:
		a.back()
	case Go:
		if s.focus == rosterNames && (s.field.Value() != "" || s.at < len(s.names)) {
			s.take()
			return
		}
		s.begin(a)
	case PageOn:
		s.begin(a)
	case Next:
		s.row(1)
	case Down:
		if s.focus == rosterNames && s.at < len(s.names) {
			s.mend(s.at + 1)
			return
		}
		s.row(1)
	case Up:
		if s.focus == rosterNames {
			if s.at > 0 {
				s.mend(s.at - 1)
			}
			return
		}
		s.row(-1)
	case Choose:
		if n >= rosterName {
			s.focus = rosterNames
			s.mend(n - rosterName)
			return
		}
		s.focus = min(max(n/10, 0), s.rows()-1)
		if c := s.choice(); c != nil {
			c.Choose(n % 10)
		}
	case Erase:
		if s.focus == rosterWhere {
			edit(&s.where, d)
			return
		}
		// In an empty field the last name comes back to be mended. A key that is
		// held empties that one and no other.
		if k := len(s.names); s.field.Text() == "" && s.at == k && k > 0 {
			s.mend(k - 1)
			return
		}
		edit(&s.field, d)
	case EraseOn, Home, End:
		if s.focus == rosterWhere {
			edit(&s.where, d)
			return
		}
		if d == EraseOn && s.focus == rosterNames && s.at < len(s.names) && s.field.Cursor() == len([]rune(s.field.Text())) {
			s.field.Set("")
			s.take()
			return
		}
		edit(&s.field, d)
	case Left, Less:
		s.move(-1)
	case Right, More, Hold:
		s.move(1)
	}
}

func (s *rosterScreen) move(n int) {
	switch c := s.choice(); {
	case c != nil:
		c.Move(n)
	case s.focus == rosterWhere:
		s.where.Move(n)
	default:
		s.field.Move(n)
	}
}

// choice is the one in focus, nil in a field.
func (s *rosterScreen) choice() *widget.Choice {
	return map[int]*widget.Choice{rosterTurns: &s.turns, rosterMany: &s.many}[s.focus]
}

// row goes to another row of the form; a name in the field is on the list then.
func (s *rosterScreen) row(by int) {
	if s.focus == rosterNames {
		s.take()
	}
	s.focus = (s.focus + s.rows() + by) % s.rows()
}

func (s *rosterScreen) begin(a *App) {
	s.take()
	list := strings.Join(s.names, "\n")
	if len(s.names) == 0 {
		s.why = "There is no name on the list yet."
		return
	}
	if a.waits() {
		return
	}
	var told string
	late, turns, stations := s.late, turnRules[s.turns.Chosen()].Turns, s.stations()
	a.store(func() (err error) {
		if late {
			return a.d.Book.ClinicJoin(list)
		}
		told, err = a.d.Book.ClinicBegin(list, turns, stations)
		return err
	}, func(err error) {
		if err != nil {
			s.why = drills.Sentence(err.Error())
			return
		}
		if told != "" {
			a.tell("clinic", told, "Add an initial, and let them join with J.")
		}
		a.roster = nil
		if !a.on(s) {
			return
		}
		a.back()
		if !late {
			a.open(&clinicScreen{})
		}
	})
}

func (s *rosterScreen) draw(a *App, c *canvas) {
	head, word := "New clinic", s.enters()
	if s.late {
		head = "Late players"
	}
	count := ""
	if len(s.names) > 0 {
		count = fmt.Sprintf("%d on the list", len(s.names))
	}
	keys := []button{{do: Back, word: "back"}}
	if word != "" {
		keys = append([]button{{do: Go, word: word}}, keys...)
	}
	if !s.late {
		next := "reps, stations"
		if s.focus != rosterNames {
			next = "next"
		}
		keys = append([]button{{do: Next, word: next}}, keys...)
	}
	if s.choice() != nil {
		keys = append([]button{{do: Left}, {do: Right, word: "change"}}, keys...)
	}
	c.head(head, []string{count}, keys...)
	x, w := c.margin, c.Width-2*c.margin
	y := c.headHeight() + c.px(16) + c.heading
	c.text(x, y, "Names, one after another", c.heading, Bold, Ink)
	y += c.px(14)
	c.field(Rect{x, y, w, c.px(60)}, &s.field, s.focus == rosterNames)
	c.press(Rect{x, y, w, c.px(60)}, Choose, 0)
	y += c.px(60) + math.Round(c.body*1.4)
	hint, role := "Type a name and press Enter, paste a list with Ctrl + V, or drop a text file here. Put (L) after a left-hander. ↑ goes back to a name.", Quiet
	if s.why != "" {
		hint, role = s.why, Ink
	}
	size, _ := c.ruler.Fit(hint, c.body, c.small, Regular, w)
	c.text(x, y, c.ruler.Cut(hint, size, Regular, w), size, Regular, role)
	y += c.px(20)
	foot := c.Height - c.px(84)
	bottom := foot - c.px(12)
	if !s.late {
		bottom -= c.px(100)
		c.text(x, bottom+c.px(20), "A turn is over after", c.heading, Bold, Ink)
		x := c.options(x, bottom+c.px(34), c.px(48), &s.turns, s.focus == rosterTurns, 10*rosterTurns) + c.px(40)
		c.text(x, bottom+c.px(20), "Stations", c.heading, Bold, Ink)
		c.options(x, bottom+c.px(34), c.px(48), &s.many, s.focus == rosterMany, 10*rosterMany)
		if s.many.Chosen() > 0 {
			s.drawStations(c, Rect{c.margin + c.px(400), foot, w - c.px(400), c.px(60)})
		}
	}
	s.drawNames(c, Rect{x, y, w, bottom - c.px(8) - y})
	if word == "" {
		return
	}
	r := Rect{x, foot, c.px(360), c.px(60)}
	c.fill(r, Ink, 4)
	k := c.keyWidth("Enter", c.heading)
	c.fitted(r.X+c.px(24), r.Y+math.Round(r.H/2+c.heading*CapHeight/2), r.W-k-c.px(56), drills.UpperFirst(word), c.heading, c.small, Bold, Page)
	c.key(r.Right()-k-c.px(16), r.Y+(r.H-c.keyHeight(c.heading))/2, c.heading, "Enter", Page)
	c.press(r, Go, 0)
}

// enters says what Enter does now, "" while there is nobody to begin with.
func (s *rosterScreen) enters() string {
	name := s.field.Value()
	switch {
	case s.focus == rosterNames && s.at < len(s.names) && name == "":
		return "take " + s.names[s.at] + " off"
	case s.focus == rosterNames && s.at < len(s.names):
		return "keep " + name
	case s.focus == rosterNames && name != "":
		return "add " + name
	case len(s.names) == 0:
		return ""
	case s.late:
		return "let them join"
	}
	return "begin"
}

// drawStations draws the fields in which the stations are named.
func (s *rosterScreen) drawStations(c *canvas, r Rect) {
	label := math.Round(r.W * 0.44)
	lines := c.ruler.Wrap("Names of the stations, commas between; the camera is at the first: "+s.stations()[0], c.small, Regular, label-c.px(16))
	y := r.Y + math.Round((r.H-float64(len(lines)-1)*c.small*1.3)/2+c.small*CapHeight/2)
	for _, l := range lines {
		c.text(r.X, y, l, c.small, Regular, Quiet)
		y += math.Round(c.small * 1.3)
	}
	box := Rect{r.X + label, r.Y + c.px(4), r.W - label, r.H - c.px(8)}
	c.field(box, &s.where, s.focus == rosterWhere)
	if s.where.Text() == "" && s.focus != rosterWhere {
		c.text(box.X+c.px(12), box.Y+math.Round(box.H/2+c.body*CapHeight/2), strings.Join(s.stations(), ", "), c.body, Regular, Quiet)
	}
	c.press(box, Choose, 10*rosterWhere)
}

// drawNames writes the list in columns, no more than there must be, so that
// long names have room; the newest names when not all fit.
func (s *rosterScreen) drawNames(c *canvas, r Rect) {
	if len(s.names) == 0 {
		c.text(r.X, r.Y+c.heading*1.4, "Nobody yet. Players you have had before are found by their name.", c.heading, Regular, Quiet)
		return
	}
	row := math.Round(c.body * 1.45)
	rows := max(int(r.H/row), 1)
	columns := min((len(s.names)+rows-1)/rows, 4)
	from := min(max(len(s.names)-rows*columns, 0), s.at)
	wide := r.W / float64(columns)
	for i, n := range s.names[from:min(from+rows*columns, len(s.names))] {
		x, y := r.X+float64(i/rows)*wide, r.Y+float64(i%rows+1)*row
		box := Rect{x, y - math.Round(row*0.76), wide - c.px(8), row}
		c.press(box, Choose, rosterName+from+i)
		if from+i == s.at {
			n = s.field.Text()
			c.frame(box, Ink, c.stroke(2), 4)
		}
		c.before(x+c.px(34), y, fmt.Sprint(from+i+1), c.body, Regular, Quiet)
		c.text(x+c.px(46), y, c.ruler.Cut(n, c.body, Bold, wide-c.px(60)), c.body, Bold, Ink)
	}
}
