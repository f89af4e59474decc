package live

import (
	"context"
	"math"
	"path/filepath"

	"drillbay/app"
	"drillbay/app/letters"
	"drillbay/camera/frame"
	"drillbay/camera/sight"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/book"
	"drillbay/drills/clips"
	"drillbay/drills/runner"
)

// Deps returns what the program behind the window works with.
func (l *Live) Deps(ctx context.Context) (app.Deps, error) {
	setup, err := l.book.Setup(ctx)
	if err != nil {
		l.complain = err.Error()
	}
	l.setQuiet(!setup.Voice)
	l.loud(setup)
	l.taps.Store(setup.Taps || l.cfg.Taps)
	if l.complain != "" {
		l.runner.Raise("kept", drills.Sentence(l.complain), "")
	}
	return app.Deps{
		Snapshot: l.runner.Snapshot, Order: l.Order, Picture: l.picture, Hands: l.guide.Hands, Seen: l.Seen,
		Lens: app.LensWork{Meet: bay.Meet, Offset: bay.OffsetOf, Under: bay.Under, Face: bay.FaceOffsetOf, Find: l.guide.Find, Level: l.guide.Level, Roll: l.guide.Roll, Mark: l.guide.Mark, Shifted: l.guide.Shifted}, Book: l.book, Bay: l.bay, Setup: setup,
		Other: l.otherView(ctx),
		KeepSetup: func(s book.Setup) error {
			l.setQuiet(!s.Voice)
			l.loud(s)
			l.taps.Store(s.Taps || l.cfg.Taps)
			l.keepLater("setup", "The settings are not stored", func() error { return l.book.KeepSetup(ctx, s) })
			return nil
		},
		KeepBay: func(b bay.Bay) error {
			b = l.takeBay(b)
			l.keepLater("kept bay", "The bay is not stored", func() error { return l.storeBay(ctx, b) })
			return nil
		},
		Try:   l.tryLoud,
		Later: l.later.do,
		Work:  func(j app.Job) (string, error) { return l.work(ctx, j) },
		Say:   l.voice.Lens,
		MP4:   clips.CanMP4(), Clips: clips.Found, Places: clips.Places, Measure: clips.Measure,
		Watch: func(file string) (clips.Loop, error) {
			return clips.Play(filepath.Join(l.cfg.Ledger.ClipFolder(), filepath.Base(file)))
		},
		Cameras: l.cameras, Camera: l.cameraInUse, Sound: l.soundInUse, Virtual: l.isDrawn,
		Letters: letters.New(letters.Folder()),
	}, nil
}

// setQuiet ends all words, or allows them again.
func (l *Live) setQuiet(on bool) {
	l.roll.Mute(on)
	l.voice.Mute(on)
}

// Order gives the session a command, and takes note of who practises.
func (l *Live) Order(c runner.Command) {
	l.roll.Order(c)
	if c.Do == runner.Begin && l.neverSet() {
		l.guide.Mark()
	}
	switch c.Do {
	case runner.Begin:
		l.takes(c.Player)
		l.aimed.Add(1) // somebody else stands there
	case runner.Change:
		l.takes(l.runner.Snapshot().Player) // another club may have been taken
	}
	l.runner.Order(c)
}

// takes notes who practises, and with which club.
func (l *Live) takes(p runner.Player) {
	l.mu.Lock()
	hand, club := p.Hand, l.book.ClubOf(p.ID)
	if l.isDrawn {
		club = 0 // the drawn club has its own length
	}
	same := hand == l.hand && club == l.club
	l.hand, l.club = hand, club
	l.mu.Unlock()
	if !same {
		l.aimed.Add(1)
	}
}

// calledNext returns the name of the player in a group who is called next; group is false
// when no clinic is on.
func (l *Live) calledNext() (name string, group bool) {
	sheet, ok := l.book.Clinic()
	return sheet.Then, ok
}

// numberOf is a player's number: that of the clinic, or the place among all.
func (l *Live) numberOf(id string) int {
	if c, ok := l.book.Group(); ok {
		for i, p := range c.Players {
			if p.ID == id {
				return i + 1
			}
		}
	}
	for i, p := range l.book.Players() {
		if p.Player.ID == id {
			return i + 1
		}
	}
	return 1
}

func (l *Live) clubInUse() float64 {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.club > 0 {
		return l.club
	}
	return l.bay.Club
}

// keepLater stores something after what is to be stored before it; what goes
// wrong is told.
func (l *Live) keepLater(key, what string, put func() error) {
	l.later.do(func() {
		if err := put(); err != nil {
			l.runner.Raise(key, what+": "+err.Error()+".", "It is used until you close drillbay.")
			return
		}
		l.runner.Clear(key)
	})
}

// takeBay works with a bay from now on.
func (l *Live) takeBay(b bay.Bay) bay.Bay {
	l.mu.Lock()
	b.Second = l.bay.Second // it is chosen elsewhere
	if b.Scenery == nil {
		b.Scenery = l.guide.Scenery()
	}
	l.bay = b
	l.mu.Unlock()
	l.aimed.Add(1)
	l.runner.Clear("bay")
	return b
}

func (l *Live) storeBay(ctx context.Context, b bay.Bay) error {
	name := l.mode.Camera
	if e := l.state.Load(); e != nil && e.Camera != "" {
		name = e.Camera
	}
	return l.book.KeepBay(ctx, name, b)
}

func (l *Live) picture(late float64) *frame.Picture {
	if late <= 0 {
		return l.ring.Newest()
	}
	return l.ring.Before(l.Now() - late)
}

func (l *Live) cameraInUse() string {
	e := l.state.Load()
	if e == nil {
		return ""
	}
	return cameraLine(*e, math.Float64frombits(l.rate.Load()))
}

func (l *Live) soundInUse() string {
	if l.sound == nil {
		return ""
	}
	if wrong, _ := l.sound.Notice(); wrong != "" {
		return ""
	}
	return "on"
}

// fromBall returns the distance from microphone to ball, m: the microphone is taken to be
// where the camera is.
func (l *Live) fromBall() float64 {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.bay.Distance
}

// faceOn reports whether the first camera looks face-on.
func (l *Live) faceOn() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.bay.FaceOn
}

// neverSet reports whether the bay's lens was never set: the camera is then
// watched from the session's beginning.
func (l *Live) neverSet() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return !l.bay.Set
}

// bayAndHand are the bay as it is set, and the player's hand.
func (l *Live) bayAndHand() (bay.Bay, drills.Hand) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.bay, l.hand
}

// keepScenery keeps the scenery of a bay that was set without one.
func (l *Live) keepScenery(ctx context.Context, s *sight.Scenery) {
	l.mu.Lock()
	l.bay.Scenery = s
	b := l.bay
	l.mu.Unlock()
	if err := l.storeBay(ctx, b); err != nil {
		l.runner.Raise("bay", drills.Sentence(err.Error()), "Set the lens again.")
	}
}
