// Package app is the program behind the window: Step takes actions and the
// time and returns a View, a plain value that says what is drawn. It knows no
// graphics library, so every screen can be tested, printed and replayed
// without a display.
package app

import (
	"context"
	"math"

	"drillbay/app/letters"
	"drillbay/app/widget"
	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/drills/bay"
	"drillbay/drills/book"
	"drillbay/drills/clips"
	"drillbay/drills/runner"
	"drillbay/drills/watch"
)

// Deps holds what the program works with: the session, the book, the devices. A function
// that is nil switches off what needs it.
type Deps struct {
	// Snapshot is the session; Order gives it a command.
	Snapshot func() *runner.Snapshot
	Order    func(runner.Command)
	// Picture is the live picture late seconds ago (0: the newest) with a
	// reference for the caller, or nil.
	Picture func(late float64) *frame.Picture
	// Hands are the hands at address in px as seen; NaN when not seen.
	Hands func() (x, y float64)
	// Seen returns what the eye saw in the picture nearest to a time (s, capture clock);
	// false when it looked at no picture near that time.
	Seen  func(at float64) (watch.Seen, bool)
	Lens  LensWork
	Book  Book
	Bay   bay.Bay
	Setup book.Setup
	// Other is the second camera, which shows the other view.
	Other OtherView
	// KeepSetup and KeepBay store what the user set.
	KeepSetup func(book.Setup) error
	KeepBay   func(bay.Bay) error
	// Try lets a sound be heard as loud as a setup has it: the voice (0), the beat
	// (1), the tones (2).
	Try func(kind int, s book.Setup)
	// Later does what may wait for the disk on another goroutine, one after the
	// other; nil: at once.
	Later func(func())
	// Do carries out what takes time (report, export, keep) and returns one
	// line on what came of it; it runs on another goroutine.
	Work func(Job) (string, error)
	// Say speaks how the camera must be moved: the lens guide is led by voice
	// from the mat.
	Say func(bay.Offset)
	// Camera and Sound say in one line what is in use, "" when nothing is.
	Camera func() string
	Sound  func() string
	// Cameras lists those that are there; it may take a second.
	Cameras func() []CameraLine
	// Clips are files of clips that are found on this laptop, the newest first;
	// Measure reads one, telling the share that is read, until ctx is done.
	Clips   func() []string
	Measure func(ctx context.Context, j clips.Job, read func(share float64)) ([]clips.Rep, error)
	// Places are folders that a copy of a clip is likely to go to; it may take a second.
	Places func() []string
	// Watch reads a kept clip to be played; it may take a second.
	Watch func(file string) (clips.Loop, error)
	// Second opens a window of its own for what the mat sees, and says so.
	Second func() (string, error)
	// Letters finds fonts of the system for what the built-in ones lack.
	Letters *letters.Finder
	// MP4 says that clips can be kept as MP4 too.
	MP4 bool
	// Virtual says that the picture is drawn, not filmed.
	Virtual bool
}

// Job is something to be done that takes time.
type Job struct {
	Do     Do // Join (the next camera as the other view), Report, Clinic (its report), Export, Keep, EraseOn (delete a player), TakeBack (bring one back), Erase (a player's clips)
	Player string
	RepID  string
	// Clip with an ID: Pencil (rename it to Name), Export (show it in its folder),
	// Keep (save a copy in the folder Name; Sure: a file of its name there is replaced, a folder made),
	// EraseOn (delete it).
	Clip book.ClipLine
	Name string
	Sure bool
	// Keep: the ending of the file ("avi", "mp4", "gif", "jpg"), with the
	// overlay or without, and for a picture the instant, s.
	As      string
	Overlay bool
	At      float64
	// Loop has the pictures, held until the job is done, and Rep the reading of them.
	Loop *lookback.Loop
	Rep  runner.Done
	// Beside has the other camera's pictures, which show the same later, s; nil: there
	// are none.
	Beside *lookback.Loop
	Later  float64
}

// App is the program. It is used by one goroutine.
type App struct {
	d       Deps
	view    View
	ruler   *Ruler
	setup   book.Setup
	bay     bay.Bay
	other   bay.Bay // the second camera's, while its lens is set
	now     float64
	touched float64 // s, when the last key or press came
	diag    float64
	stack   []screen
	press   widget.Press
	told    []runner.Notice // the app's own notices
	done    chan outcome
	self    byItself         // the screen that came by itself last
	storing []stored         // in the order asked for
	asked   string           // the lasting condition whose sentence was asked for
	askedAt float64          // s
	then    func(error) bool // is told first what came of the work; true: that is all
	saved   string           // the folder that a copy went to last
	busy    string
	busyAt  float64
	fresh   *newPlayerScreen // what was typed of a new player
	roster  *rosterScreen    // and of a group
	group   *turns           // a clinic's turns are practised, nil: not
	keeps   *keepScreen      // how a rep was kept last
	plan    *planned         // a session that is followed, nil: none
}

type outcome struct {
	text string
	err  error
}

// screen is one screen: it takes named actions and draws itself.
type screen interface {
	name() string
	act(a *App, d Do, n int)
	draw(a *App, c *canvas)
}

// typer is a screen that takes letters while one of its fields has the focus.
type typer interface {
	typing() bool
	typed(a *App, s string)
}

// pointer is a screen that follows the pointer beyond presses.
type pointer interface {
	point(a *App, k Kind, x, y float64) bool
}

// New returns the program on its start screen.
func New(d Deps) *App {
	if d.Snapshot == nil {
		empty := &runner.Snapshot{}
		d.Snapshot = func() *runner.Snapshot { return empty }
	}
	if d.Later == nil {
		d.Later = func(f func()) { f() }
	}
	if d.Order == nil {
		d.Order = func(runner.Command) {}
	}
	if d.Book == nil {
		d.Book = NoBook{}
	}
	if d.Setup == (book.Setup{}) {
		d.Setup = book.Defaults()
	}
	a := &App{d: d, ruler: NewRuler(d.Letters), setup: d.Setup, bay: d.Bay, done: make(chan outcome, 1), self: byItself{asked: math.Inf(-1)}}
	a.view.Width, a.view.Height, a.diag = 1280, 720, 1469
	a.stack = []screen{&startScreen{}}
	return a
}

// Step takes what happened since the last step and returns what is to be
// drawn now (s, the session's clock). The view is valid until the next step.
func (a *App) Step(actions []Action, now float64) *View {
	if a.now == 0 {
		a.touched = now
	}
	a.now = now
	a.view.Release()
	for _, x := range actions {
		if x.Kind != Size {
			a.touched = now
		}
		a.take(x)
	}
	was := a.top().name()
	a.settle()
	a.follow()
	a.collect()
	a.noteChange(was)
	c := a.canvas()
	s := a.top()
	a.view.Screen = s.name()
	lines := a.lines()
	for _, n := range a.conditions() {
		c.lasting = append(c.lasting, lasting(n))
	}
	k, kept := s.(keeper)
	c.covers = kept && len(lines) > 0
	if !kept {
		c.told = float64(len(lines)) * c.noticeHeight()
	}
	s.draw(a, c)
	if kept {
		c.strip(k.place(c), lines)
	} else {
		a.notices(c, lines)
	}
	a.answer(c)
	if len(lines) > 0 || a.busy != "" || a.waits() {
		c.again(0.5)
	}
	if a.d.Letters.Looks() {
		c.again(0.1)
	}
	return &a.view
}

func (a *App) canvas() *canvas {
	v := &a.view
	v.Items, v.Hits, v.Again = v.Items[:0], v.Hits[:0], 0
	v.Calm = false
	v.Theme = a.setup.Theme
	c := &canvas{View: v, scales: scalesFor(v.Width, v.Height, a.diag, a.setup), ruler: a.ruler, setup: a.setup, now: a.now}
	c.margin = c.px(24)
	c.fill(Rect{0, 0, v.Width, v.Height}, Page, 0)
	return c
}

// Letters finds what the built-in fonts lack, nil: nothing does.
func (a *App) Letters() *letters.Finder { return a.d.Letters }

func (a *App) top() screen { return a.stack[len(a.stack)-1] }

// open goes to a screen; back one step back, from the first screen to the
// question whether to leave.
func (a *App) open(s screen) { a.stack = append(a.stack, s) }

func (a *App) back() {
	if len(a.stack) > 1 {
		a.stack = a.stack[:len(a.stack)-1]
	}
}
