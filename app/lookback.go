package app

import (
	"drillbay/camera/lookback"
	"drillbay/drills"
	"drillbay/drills/runner"
)

// lookbackPart shows the loop of a rep over the practice screen: by itself
// while the session says so, and by key.
type lookbackPart struct {
	on      bool
	id      string
	loop    *lookback.Loop
	beside  *lookback.Loop // the other camera's, nil: there is none
	later   float64        // s, by which it shows the same moment later
	said    []string       // of the body, over the foot of the pictures
	player  lookback.Player
	known   bool
	rep     runner.Done
	who     runner.Player     // whose rep it is
	number  int               // of the rep
	keeps   bool              // it was asked to keep it, which waits until it is read
	asked   bool              // B called it: it stays, whatever comes, until it is left
	last    bool              // the session has ended it, and it is the last of a turn: it runs once
	left    bool              // a key ended it
	own     [2]*lookback.Loop // held while somebody draws, writes, keeps or asked for it: of both cameras
	of      [2]*lookback.Loop // what own are of
	against int               // 0: none, else the place in Against from 1
	pencil  *pencil
	body    int // which line of the body is drawn: 0 as it comes, 1 none, from 2 on by bodyLines
}

// follow takes over what the session shows.
func (l *lookbackPart) follow(a *App) {
	if l.busy(a) {
		// Reps go on being counted; what they would show waits.
		l.hold()
		return
	}
	snap := a.d.Snapshot()
	now := snap.Lookback
	showing := now.On && now.Loop != nil
	if l.asked = l.asked && snap.Player.ID == l.who.ID; l.asked && now.ID != l.id {
		l.catchUp(a, snap)
		return
	}
	if !showing && l.lasts(a, snap) {
		l.last = true
		l.hold()
		l.catchUp(a, snap)
		return
	}
	if of := [2]*lookback.Loop{now.Loop, now.Beside}; !l.asked || of != l.of {
		l.let()
	}
	if !showing {
		if l.on {
			l.let()
			*l = lookbackPart{}
		}
		return
	}
	if !l.on || l.id != now.ID {
		*l = lookbackPart{on: true, id: now.ID, loop: now.Loop, player: now.Player, who: snap.Player, number: now.Number}
	}
	if l.own[0] == nil {
		l.beside, l.later = now.Beside, now.Later
		if now.Loop != l.loop {
			l.loop, l.player = now.Loop, l.player.Longer(now.Loop.Times(), a.now)
		}
	}
	if l.asked {
		l.hold()
	}
	if l.rep = now.Rep; now.Known {
		l.take(a, now.Rep, now.Player.Moment())
	}
}

// lasts reports that a lookback goes on although the session has ended it: the last one
// of a player's turn runs once, and then the next player is called.
func (l *lookbackPart) lasts(a *App, snap *runner.Snapshot) bool {
	if !l.on || l.left || a.group == nil || snap.Player.ID != l.who.ID {
		return false
	}
	if l.last && l.asked {
		return true
	}
	if sheet, ok := a.d.Book.Clinic(); !ok || sheet.UpID != l.who.ID || !sheet.Over && (l.known || !snap.SetFull || snap.Waiting == 0) {
		return false
	}
	return !l.known || l.player.At(a.now).Lap == 0
}

// catchUp takes over what was read, or marked, of the rep since the session shows another
// or none.
func (l *lookbackPart) catchUp(a *App, snap *runner.Snapshot) {
	for _, d := range snap.All {
		if d.ID == l.id {
			l.take(a, d, d.Rep.Moments.Main())
		}
	}
}

// take takes over a reading; the first one holds the pictures at its moment.
func (l *lookbackPart) take(a *App, d runner.Done, moment float64) {
	if l.rep = d; !l.known {
		l.known, l.player = true, l.player.FreezeAt(moment, a.now)
		if _, on := a.top().(*practiceScreen); on && l.keeps {
			l.keepClip(a)
		}
	}
}

// called reports that somebody asked for the lookback, or looks into it: it is left by a
// key then, before practice is.
func (l *lookbackPart) called(a *App) bool {
	now := a.d.Snapshot().Lookback
	return l.asked || l.against > 0 || l.player.Still() || now.Stays && now.ID == l.id
}

// busy reports that somebody draws on the rep that is shown, writes about it,
// or is asked how it is kept: nothing takes it away then.
func (l *lookbackPart) busy(a *App) bool {
	if !l.on || l.loop == nil {
		return false
	}
	switch a.top().(type) {
	case *keepScreen, *consentScreen:
		return l.known
	}
	return l.pencil != nil
}

// hold holds the pictures that are shown, whatever the session does with them.
func (l *lookbackPart) hold() {
	for i, loop := range []**lookback.Loop{&l.loop, &l.beside} {
		if l.own[i] != nil || *loop == nil {
			continue
		}
		if own := (*loop).Again(); own != nil {
			l.own[i], l.of[i], *loop = own, *loop, own
		}
	}
}

// let releases the pictures that hold kept.
func (l *lookbackPart) let() {
	for i, own := range l.own {
		if own != nil {
			own.Release()
			l.own[i], l.of[i] = nil, nil
		}
	}
}

// leave stores what was drawn and written, when the window closes say.
func (l *lookbackPart) leave(a *App) {
	if l.pencil != nil {
		l.pencil.keep(a, l)
		l.pencil = nil
	}
	l.let()
}

// act carries out an action; it reports false for what the practice screen
// is to do.
func (l *lookbackPart) act(a *App, d Do, n int) bool {
	if l.pencil != nil && l.pencil.act(a, l, d, n) {
		return true
	}
	now := a.d.Snapshot().Lookback
	stay := func() {
		if now.ID == l.id {
			a.d.Order(runner.Command{Do: runner.Stay})
		}
	}
	switch d {
	case Hold, Number: // what they mean in practice, where the lookback came from
		return false
	case Next:
		stay()
	}
	if l.play(a, d, n) {
		if d == Left || d == Right {
			stay()
		}
		return true
	}
	if d == LookBack && !now.Stays && !l.asked {
		l.asked = true // it came by itself: it is looked at
		l.hold()
		stay()
		return true
	}
	switch d {
	case Back, LookBack, PageOn, Go:
		if d == Back && !l.called(a) {
			return false // the end of practice, as on the screen that it came over
		}
		a.self.asked, l.asked, l.left = a.now, false, true
		if now.ID == l.id { // else a newer rep's is under it
			a.d.Order(runner.Command{Do: runner.LookOn})
		}
	case PageBack:
		l.play(a, Left, 0)
		stay()
	case Up, Down:
		l.player = l.player.Scrub(l.nextMoment(l.player.At(a.now).At, d == Down))
		stay()
	case Choose:
		if l.choose(n) {
			stay()
		}
	case Against:
		if k := len(a.d.Snapshot().Against); k > 0 {
			l.against = (l.against + 1) % (k + 1)
			stay()
		} else {
			a.tell("against", "There is no other rep to look at yet.", "Make one more rep first.")
		}
	case Pencil:
		if !l.known {
			a.tell("reading", "This rep is still being read.", "Press "+d.Cap()+" again in a moment.")
		} else {
			l.hold()
			l.pencil = newPencil(l, a.d.Book.Marks(l.id), l.lineSlot(a))
			l.player = l.player.Scrub(l.player.At(a.now).At)
			stay()
		}
	case Keep:
		stay()
		if l.keeps = !l.known; l.keeps {
			a.tell("reading", "This rep is still being read.", "How to keep it is asked then.")
		} else {
			l.keepClip(a)
		}
	default:
		return false
	}
	return true
}

// play handles the keys that every loop has: hold, step, another speed, overlay on or off.
// It returns false for any other key.
func (l *lookbackPart) play(a *App, d Do, n int) bool {
	switch d {
	case Next:
		next := lookback.Quarter
		switch l.player.Speed() {
		case lookback.Quarter:
			next = lookback.Half
		case lookback.Half:
			next = lookback.Full
		}
		l.player = l.player.AtSpeed(next, a.now)
	case Hold:
		l.player = l.player.Hold(a.now)
	case Left:
		l.player = l.player.Step(-1, a.now)
	case Right:
		l.player = l.player.Step(1, a.now)
	case Quarter:
		l.player = l.player.AtSpeed(lookback.Quarter, a.now)
	case Half:
		l.player = l.player.AtSpeed(lookback.Half, a.now)
	case Full:
		l.player = l.player.AtSpeed(lookback.Full, a.now)
	case Lines: // of the body
		l.body = nextBody(l.body, l.bodyLines(a), l.drawn(a))
	case Overlay:
		a.setup.OverlayOff = !a.setup.OverlayOff
		a.keepSetup()
	default:
		return false
	}
	return true
}

// markOf is the order that puts the coach's words on a rep.
func markOf(id, coach, note string, kept bool) runner.Command {
	return runner.Command{Do: runner.Mark, ID: id, Coach: coach, Note: note, Kept: kept}
}

// moment is a named instant of a rep.
type moment struct {
	name string
	at   float64
}

// moments returns the moments inside the loop, in order.
func (l *lookbackPart) moments() (out []moment) {
	m := l.rep.Rep.Moments
	if !l.known {
		m = drills.NoMoments()
	}
	for _, x := range []moment{{"start", m.Start}, {"turn-round", m.BackStart}, {"level", m.Level}, {"catch", m.Catch}, {"top", m.Top}, {"impact", m.Impact}} {
		if !(x.at >= l.player.From() && x.at <= l.player.To()) {
			continue
		}
		// A catch at the level moment is one moment, called level.
		if n := len(out); n > 0 && x.at-out[n-1].at < 0.04 {
			continue
		}
		out = append(out, x)
	}
	return out
}

// nextMoment is the moment before or after an instant, at the ends the ends.
func (l *lookbackPart) nextMoment(at float64, later bool) float64 {
	best := l.player.From()
	if later {
		best = l.player.To()
	}
	for _, m := range l.moments() {
		if later && m.at > at+1e-3 && m.at < best || !later && m.at < at-1e-3 && m.at > best {
			best = m.at
		}
	}
	return best
}
