package app

import (
	"math"
	"strings"

	"drillbay/app/widget"
	"drillbay/drills"
	"drillbay/drills/book"
)

// answerScreen takes the coach's answers to what the camera does not see, for
// the last session, where they would tell something, and the player's name as it
// ought to be.
type answerScreen struct {
	player book.PlayerLine
	asked  bool
	read   bool // when the hands gain height was read: that is not asked
	list   [2]widget.Choice
	row    int
	field  widget.Field // the name
	why    string
}

// heightRow is the question that ordinary swings answer by themselves.
const heightRow = 1

// nameRow is the row of the name, after those of the questions.
const nameRow = len(questions)

// unknown is the answer that is none.
const unknown = "not known"

var questions = [2]struct {
	head, text string
	options    []string
	answers    []string // as they are kept
}{
	{"How does the face look at level?", "Pause a lookback at level and look. Mark the face in four lookbacks, with the pencil, and you need not answer.",
		[]string{unknown, "open", "neutral", "shut"}, []string{"", "open", "neutral", "shut"}},
	{"When do the hands gain height?", "Eight ordinary swings with the hands in the picture will tell. Until then watch two, and answer.",
		[]string{unknown, "on the way to level", "only after it", "never"}, []string{"", "soon", "late", "never"}},
}

func newAnswerScreen(p book.PlayerLine, sheet book.ProgressSheet) *answerScreen {
	s := &answerScreen{player: p, asked: sheet.Asked, read: sheet.HeightRead, field: widget.Field{Most: 60}}
	s.field.Set(p.Player.Name)
	if !s.asked {
		s.row = nameRow
	}
	for i, q := range questions {
		s.list[i].Options = q.options
		for k, a := range q.answers {
			if a == [2]string{sheet.Face, sheet.Rise}[i] {
				s.list[i].Choose(k)
			}
		}
	}
	return s
}

func (*answerScreen) name() string   { return "answers" }
func (s *answerScreen) typing() bool { return s.row == nameRow }
func (s *answerScreen) typed(a *App, t string) {
	s.field.Type(t)
	s.why = ""
}

func (s *answerScreen) act(a *App, d Do, n int) {
	switch d {
	case Back, PageBack:
		a.back()
	case Next, Down:
		s.move(1)
	case Up:
		s.move(-1)
	case Left, Less, Right, More, Hold:
		by := 1
		if d == Left || d == Less {
			by = -1
		}
		if s.typing() {
			s.field.Move(by)
			return
		}
		s.list[s.row].Move(by)
	case Choose:
		if s.row = min(max(n/10-1, 0), nameRow); !s.typing() {
			s.list[s.row].Choose(n % 10)
		}
	case Go, PageOn:
		s.keep(a)
	default:
		if s.typing() {
			edit(&s.field, d)
		}
	}
}

// move goes to another row, round and round.
func (s *answerScreen) move(by int) {
	if !s.asked {
		return
	}
	const rows = nameRow + 1
	if s.row = (s.row + by + rows) % rows; s.row == heightRow && s.read {
		s.row = (s.row + by + rows) % rows
	}
}

// keep stores the answers, and the name where it is another.
func (s *answerScreen) keep(a *App) {
	answer := func(i int) string { return questions[i].answers[s.list[i].Chosen()] }
	name := strings.Join(strings.Fields(s.field.Value()), " ")
	switch {
	case a.waits():
		return
	case name == "":
		s.why = "A player needs a name."
		return
	}
	face, rise, id := answer(0), answer(1), s.player.Player.ID
	a.store(func() error {
		if s.asked {
			if err := a.d.Book.Answer(id, face, rise); err != nil {
				return err
			}
		}
		if name == s.player.Player.Name {
			return nil
		}
		return a.d.Book.Rename(id, name)
	}, func(err error) {
		if err != nil {
			s.why = drills.Sentence(err.Error())
			return
		}
		if a.on(s) {
			a.back()
		}
	})
}

func (s *answerScreen) draw(a *App, c *canvas) {
	keys := []button{{do: Go, word: "keep"}, {do: Back, word: "back, change nothing"}}
	if s.asked {
		keys = append([]button{{do: Next, word: "next"}, {do: Right, word: "change"}}, keys...)
	}
	c.head("Answers", []string{s.player.Player.Name, "the last session"}, keys...)
	x, w := c.margin+c.px(120), c.Width-2*c.margin-c.px(240)
	y := c.headHeight() + c.px(40) + c.title
	for i, q := range questions {
		if !s.asked || i == heightRow && s.read {
			break
		}
		size, _ := c.ruler.Fit(q.head, c.title, c.heading, Bold, w)
		c.text(x, y, c.ruler.Cut(q.head, size, Bold, w), size, Bold, Ink)
		y = c.paragraph(x, y+math.Round(c.body*1.7), w, q.text, c.body, Regular, Quiet)
		c.options(x, y, c.px(52), &s.list[i], s.row == i, (i+1)*10)
		y += c.px(52) + c.px(56)
	}
	if s.asked {
		sees := "The camera does not see the face, and the height only in ordinary swings. "
		if s.read {
			sees = "The camera does not see the face; when the hands gain height it has read. "
		}
		y = c.paragraph(x, y, w, sees+"Your answer helps to tell two causes apart; it changes no verdict.", c.body, Regular, Quiet) + c.px(34)
	}
	c.text(x, y, "Name", c.title, Bold, Ink)
	box := Rect{x, y + c.px(14), w, c.px(52)}
	c.field(box, &s.field, s.typing())
	c.press(box, Choose, (nameRow+1)*10)
	if s.why != "" {
		c.text(x, box.Bottom()+math.Round(c.body*1.4), c.ruler.Cut(s.why, c.body, Regular, w), c.body, Regular, Ink)
	}
}
