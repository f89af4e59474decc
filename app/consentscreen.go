package app

import (
	"math"

	"drillbay/app/widget"
	"drillbay/drills"
	"drillbay/drills/book"
)

// consentScreen notes who agreed that clips of a player are kept.
type consentScreen struct {
	player book.PlayerLine
	list   widget.List
	then   func() // once somebody agreed; nil: nothing
}

var consentWords = [...]struct{ word, why string }{
	book.NoConsent:      {"Keep no clip", "Reps are measured and stored all the same."},
	book.PlayerAgrees:   {"The player agrees", "and is of age."},
	book.GuardianAgrees: {"A guardian agrees", "The player is a minor."},
}

func (*consentScreen) name() string { return "consent" }

func newConsentScreen(p book.PlayerLine, then func()) *consentScreen {
	s := &consentScreen{player: p, then: then}
	s.list.Fit(len(consentWords), len(consentWords))
	s.list.Choose(int(p.Consent))
	return s
}

func (s *consentScreen) act(a *App, d Do, n int) {
	switch d {
	case Back, PageBack:
		a.back()
	case Up, Left:
		s.list.Move(-1)
	case Down, Right, Next:
		s.list.Move(1)
	case Choose:
		s.list.Choose(n)
	case Number: // Enter notes it: a slip of a key is no consent
		s.list.Choose(n - 1)
	case Go, PageOn:
		c := book.Consent(s.list.Chosen())
		if clips := a.d.Book.Clips(s.player.Player.ID); c == book.NoConsent && s.player.Consent != book.NoConsent && len(clips) > 0 {
			a.back()
			a.open(newWithdrawScreen(s.player))
			return
		}
		if a.waits() {
			return
		}
		a.store(func() error { return a.d.Book.Consent(s.player.Player.ID, c) }, func(err error) { s.noted(a, c, err) })
	}
}

// noted goes on once the answer is stored.
func (s *consentScreen) noted(a *App, c book.Consent, err error) {
	if err != nil {
		a.tell("consent", "The consent is not noted: "+err.Error()+".", "")
		return
	}
	here := a.on(s)
	if here {
		a.back()
	}
	switch {
	case c == book.NoConsent && s.player.Consent != book.NoConsent:
		a.tell("consent", "No more clips of "+s.player.Player.Name+" are kept.", "")
	case c == book.NoConsent:
	case s.then != nil && here:
		s.then()
	default:
		a.tell("consent", "Noted: clips of "+s.player.Player.Name+" may be kept.", "")
	}
}

func (s *consentScreen) draw(a *App, c *canvas) {
	c.head("Consent", []string{s.player.Player.Name, s.player.ConsentAt}, button{do: Down, word: "mark the next"}, button{do: Go, word: "note: " + drills.LowerFirst(consentWords[s.list.Chosen()].word)}, button{do: Back, word: "back, change nothing"})
	x, w := c.margin+c.px(120), c.Width-2*c.margin-c.px(240)
	y := c.headHeight() + c.px(44) + c.title
	size, _ := c.ruler.Fit("May clips of "+s.player.Player.Name+" be kept?", c.title, c.heading, Bold, w)
	name := c.ruler.Cut(s.player.Player.Name, size, Bold, w-c.ruler.Width("May clips of  be kept?", size, Bold))
	c.text(x, y, "May clips of "+name+" be kept?", size, Bold, Ink)
	y = c.paragraph(x, y+math.Round(c.heading*1.8), w, "A clip shows a person. It is saved only when you press K, stays on this laptop, and is for the player and the coach. Ask first; for a child, ask a parent or guardian. Whoever agreed can change their mind here at any time.", c.heading, Regular, Quiet)
	row := c.px(92)
	y += c.px(4)
	for i, o := range consentWords {
		r := Rect{x, y, w, row - c.px(12)}
		role, second := Ink, Quiet
		if i == s.list.Chosen() {
			c.fill(r, Ink, 4)
			role, second = Page, Page
		} else {
			c.frame(r, Edge, c.stroke(1), 4)
		}
		mid := r.Y + r.H/2
		end := c.key(x+c.px(20), mid-c.keyHeight(c.heading)/2, c.heading, string(rune('1'+i)), role)
		base := mid + math.Round(c.heading*CapHeight/2)
		end = c.text(end+c.px(20), base, o.word, c.heading, Bold, role)
		c.text(end+c.px(20), base, c.ruler.Cut(o.why, c.body, Regular, r.Right()-end-c.px(40)), c.body, Regular, second)
		c.press(r, Choose, i)
		y += row
	}
	c.paragraph(x, y+c.px(30), w, "If they change their mind no more clips are saved, and you say what happens to the ones saved so far.", c.body, Regular, Quiet)
}

// player is the one of an id, as the book has it.
func (a *App) player(id string) (book.PlayerLine, bool) {
	for _, p := range a.d.Book.Players() {
		if p.Player.ID == id {
			return p, true
		}
	}
	return book.PlayerLine{}, false
}
