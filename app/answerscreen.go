package app

import (
	"math"

	"drillbay/app/widget"
)

// answerScreen takes the coach's answers to what the camera does not see, for
// the last session.
type answerScreen struct {
	player PlayerLine
	list   [2]widget.Choice
	row    int
}

// unknown is the answer that is none.
const unknown = "not known"

var questions = [2]struct {
	head, text string
	options    []string
	answers    []string // as they are kept
}{
	{"How does the face look at level?", "Stop a lookback at level and look. Mark it with the pencil on four of them and you need not answer.",
		[]string{unknown, "open", "neutral", "shut"}, []string{"", "open", "neutral", "shut"}},
	{"When do the hands gain height?", "Watch two ordinary swings.",
		[]string{unknown, "on the way to level", "only after it", "never"}, []string{"", "soon", "late", "never"}},
}

func newAnswerScreen(p PlayerLine, sheet ProgressSheet) *answerScreen {
	s := &answerScreen{player: p}
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

func (*answerScreen) name() string { return "answers" }

func (s *answerScreen) act(a *App, d Do, n int) {
	switch d {
	case Back, PageBack:
		a.back()
	case Next, Up, Down:
		s.row = 1 - s.row
	case Left, Less:
		s.list[s.row].Move(-1)
	case Right, More, Hold:
		s.list[s.row].Move(1)
	case Choose:
		s.row = min(max(n/10-1, 0), 1)
		s.list[s.row].Choose(n % 10)
	case Go, PageOn:
		answer := func(i int) string { return questions[i].answers[s.list[i].Chosen()] }
		if a.waits() {
			return
		}
		face, rise := answer(0), answer(1)
		a.store(func() error { return a.d.Book.Answer(s.player.Player.ID, face, rise) }, func(err error) {
			if err != nil {
				a.tell("answer", "The answers are not stored: "+err.Error()+".", "")
				return
			}
			if a.on(s) {
				a.back()
			}
		})
	}
}

func (s *answerScreen) draw(a *App, c *canvas) {
	c.head("Answers", []string{s.player.Player.Name, "the last session"}, button{do: Next, word: "next"}, button{do: Right, word: "change"}, button{do: Go, word: "keep"}, button{do: Back, word: "back, change nothing"})
	x, w := c.margin+c.px(120), c.Width-2*c.margin-c.px(240)
	y := c.headHeight() + c.px(50) + c.title
	for i, q := range questions {
		size, _ := c.ruler.Fit(q.head, c.title, c.heading, Bold, w)
		c.text(x, y, c.ruler.Cut(q.head, size, Bold, w), size, Bold, Ink)
		y = c.paragraph(x, y+math.Round(c.body*1.7), w, q.text, c.body, Regular, Quiet)
		c.options(x, y, c.px(56), &s.list[i], s.row == i, (i+1)*10)
		y += c.px(56) + c.px(80)
	}
	c.paragraph(x, y, w, "The camera cannot be sure of either. Your answer helps to tell two causes apart; it changes no verdict.", c.body, Regular, Quiet)
}
