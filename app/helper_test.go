package app

import (
	"fmt"
	"math"
	"runtime"
	"strings"
	"time"

	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/camera/sight"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/book"
	"drillbay/drills/runner"
)

// trial is a program in front of a session that is a plain value.
type trial struct {
	*App
	snap    runner.Snapshot
	orders  []runner.Command
	said    []string
	jobs    []Job
	players []book.PlayerLine
	deleted []book.PlayerLine
	clips   []book.ClipLine
	hands   drills.Pixel
	offset  bay.Offset
	ring    *lookback.Ring
	now     float64
	picture bool
	kept    []book.Setup
	marks   map[string]book.Marks
	stored  int // how often marks were
	sheet   book.ClinicSheet
	group   bool
	turns   []string // what the clinic was asked
	agreed  map[string]book.Consent
	check   []string
	plan    []book.PlanLine
	answers []string
	// heightRead: when the hands gain height was read.
	heightRead bool
	watched    []drills.Watch
	clubs      []book.ClubLine
}

func newTrial() *trial {
	t := &trial{hands: drills.Pixel{X: math.NaN(), Y: math.NaN()}, now: 10, ring: lookback.NewRing(1<<20, 60), picture: true, marks: map[string]book.Marks{}, agreed: map[string]book.Consent{}}
	for i := range 45 {
		p := frame.New(64, 36, frame.Sub420)
		p.At = time.Duration(i) * time.Second / 30
		if err := t.ring.Add(p, false); err != nil {
			panic(err)
		}
	}
	t.App = New(Deps{
		Snapshot: func() *runner.Snapshot { return &t.snap },
		Order:    t.order,
		Picture: func(float64) *frame.Picture {
			if !t.picture {
				return nil
			}
			return t.ring.Newest()
		},
		Hands: func() (float64, float64) { return t.hands.X, t.hands.Y },
		Lens: LensWork{
			Meet: func(lines []bay.Segment, w, h int) (bay.Target, error) {
				return bay.Target{Pixel: drills.Pixel{X: lines[0].A.X, Y: 10}, Sd: 1}, nil
			},
			Offset: func(bay.Bay, drills.Pixel, drills.Hand) (bay.Offset, error) { return t.offset, nil },
		},
		Book:      t,
		KeepSetup: func(s book.Setup) error { t.kept = append(t.kept, s); return nil },
		Say:       func(o bay.Offset) { t.said = append(t.said, spokenMove(o)) },
		Work:      func(j Job) (string, error) { t.jobs = append(t.jobs, j); return "Written.", nil },
	})
	return t
}

// martaPractises is a trial in which the only player has gone past the cautions.
func martaPractises() *trial {
	a := newTrial()
	a.players = []book.PlayerLine{{Player: runner.Player{ID: "m", Name: "Marta"}}}
	a.key(Go)
	a.key(Go)
	return a
}

// order does to the snapshot what the session would.
func (t *trial) order(c runner.Command) {
	t.orders = append(t.orders, c)
	switch c.Do {
	case runner.Begin:
		t.snap = runner.Snapshot{Session: "s", Player: c.Player, Drill: c.Drill, Phase: sight.Address, Cue: "Read the cautions"}
	case runner.Ready:
		t.snap.Ready, t.snap.Cue = true, "Swing it back"
	case runner.Finish:
		t.snap = runner.Snapshot{}
	case runner.Pause:
		t.snap.Paused = !t.snap.Paused
	case runner.Enough:
		t.snap.Ready = false
	case runner.LookOn:
		t.snap.Lookback.On = false
	case runner.Stay:
		t.snap.Lookback.Stays = t.snap.Lookback.On
	case runner.Change:
		t.snap.Drill = c.Drill
	}
}

// did returns the last command.
func (t *trial) did() runner.Command {
	if len(t.orders) == 0 {
		return runner.Command{}
	}
	return t.orders[len(t.orders)-1]
}

func (t *trial) step(actions ...Action) *View {
	t.now += 1.0 / 30
	return t.Step(actions, t.now)
}

// worked steps until what takes time is done.
func (t *trial) worked() {
	for t.busy != "" {
		runtime.Gosched()
		t.step()
	}
}

func (t *trial) key(d Do) *View       { return t.step(Action{Kind: Key, Do: d}) }
func (t *trial) typed(s string) *View { return t.step(Action{Kind: Typed, Text: s}) }

// click presses where an action can be pressed.
func (t *trial) click(d Do) (*View, bool) {
	v := t.step()
	for _, h := range v.Hits {
		if h.Do == d {
			x, y := h.X+h.W/2, h.Y+h.H/2
			t.step(Action{Kind: Press, X: x, Y: y})
			return t.step(Action{Kind: Let, X: x, Y: y}), true
		}
	}
	return v, false
}

// The trial is its own book.

func (t *trial) Players() []book.PlayerLine { return t.players }
func (t *trial) Deleted() []book.PlayerLine { return t.deleted }
func (t *trial) AddPlayer(name string, hand drills.Hand, clubCm float64) (book.PlayerLine, error) {
	p := book.PlayerLine{Player: runner.Player{ID: name, Name: name, Hand: hand}}
	t.players = append([]book.PlayerLine{p}, t.players...)
	return p, nil
}
func (t *trial) Rungs(string) []book.RungLine {
	return []book.RungLine{
		{Drill: runner.Drill{ID: "one", Name: "Lead arm", Rung: 1, Rungs: 2, Reps: 10}, Passed: true},
		{Drill: runner.Drill{ID: "two", Name: "Both hands", Rung: 2, Rungs: 2, Reps: 10}, Here: true},
	}
}
func (t *trial) Progress(string) book.ProgressSheet {
	return book.ProgressSheet{Headline: "Rung 2 of 2", Asked: true, Rise: "late", HeightRead: t.heightRead}
}
func (t *trial) Clinic() (book.ClinicSheet, bool) { return t.sheet, t.group }
func (t *trial) ClinicBegin(list string, r book.Turns, stations []string) (string, error) {
	t.group = true
	for i, n := range strings.Split(list, "\n") {
		t.sheet.Players = append(t.sheet.Players, book.ClinicLine{Number: i + 1, Name: n})
		t.players = append(t.players, book.PlayerLine{Player: runner.Player{ID: n, Name: n}})
	}
	t.turns = append(t.turns, fmt.Sprint(r))
	for i, s := range stations {
		if len(stations) > 1 {
			t.sheet.Stations = append(t.sheet.Stations, book.StationLine{Name: s, Who: t.sheet.Players[i].Name, Camera: i == 0})
		}
	}
	t.up(1)
	return "", nil
}
func (t *trial) up(n int) {
	t.sheet.Up, t.sheet.UpID, t.sheet.Over = t.sheet.Players[n-1].Name, t.sheet.Players[n-1].Name, false
	for i := range t.sheet.Players {
		t.sheet.Players[i].Up = i == n-1
	}
}
func (t *trial) ClinicJoin(list string) error { t.turns = append(t.turns, "join "+list); return nil }
func (t *trial) ClinicEnd() error             { t.group = false; return nil }
func (t *trial) ClinicDo(s book.ClinicStep, n int) error {
	var d Do
	for is, step := range clinicSteps {
		if step == s {
			d = is
		}
	}
	t.turns = append(t.turns, fmt.Sprintf("%v %d", d, n))
	switch {
	case d == NextPlayer:
		for i, p := range t.sheet.Players {
			if p.Name == t.sheet.Up {
				t.up((i+1)%len(t.sheet.Players) + 1)
				return nil
			}
		}
	case d == Number && n > len(t.sheet.Players):
		return fmt.Errorf("there is no player %d", n)
	case d == Number:
		t.up(n)
	}
	return nil
}
func (t *trial) Consent(id string, c book.Consent) error {
	t.agreed[id] = c
	for i := range t.players {
		if t.players[i].Player.ID == id {
			t.players[i].Consent = c
		}
	}
	return nil
}
func (t *trial) Rename(id, name string) error {
	for i := range t.players {
		if t.players[i].Player.ID == id {
			t.players[i].Player.Name = name
		}
	}
	return nil
}
func (t *trial) Clips(string) []book.ClipLine                 { return t.clips }
func (t *trial) Kept() []book.ClipLine                        { return t.clips }
func (t *trial) Check() []string                              { return t.check }
func (t *trial) Session(string, float64) []book.PlanLine      { return t.plan }
func (t *trial) Set(string, string, int) ([]drills.Rep, bool) { return nil, false }
func (t *trial) Marks(rep string) book.Marks                  { return t.marks[rep] }
func (t *trial) Watched(string) []drills.Watch                { return t.watched }
func (t *trial) Watch(_ string, list []drills.Watch) error {
	t.watched = list
	return nil
}
func (t *trial) Faults() []error { return nil }
func (t *trial) Answer(_, face, rise string) error {
	t.answers = append(t.answers, face+" "+rise)
	return nil
}
func (t *trial) Clubs(string) []book.ClubLine { return t.clubs }
func (t *trial) AddClub(_, name string, cm float64) error {
	t.clubs = append(t.clubs, book.ClubLine{Name: name, Cm: cm})
	return nil
}
func (t *trial) UseClub(_, name string) error {
	for i := range t.clubs {
		t.clubs[i].Used = t.clubs[i].Name == name
	}
	return nil
}
func (t *trial) KeepMarks(_, rep string, m book.Marks) error {
	t.stored++
	t.marks[rep] = m
	return nil
}

// done is a stored rep with a shaft line.
func done(id string, line float64) runner.Done {
	r := drills.Rep{Number: 1, Moments: drills.NoMoments(), ShaftLine: drills.Reading{Value: line, Sigma: 0.5},
		Elevation: drills.None(), Depth: drills.None(), Manner: drills.Swung, Tempo: math.NaN()}
	r.Verdict, r.Just = drills.Judge(r.ShaftLine, drills.Band)
	r.Moments.BackStart, r.Moments.Level, r.Moments.Catch = 0.3, 0.9, 0.9
	return runner.Done{ID: id, Set: 1, Rep: r}
}

// tell stores reps and shows the lookback of the last one.
func (t *trial) tell(reps ...runner.Done) {
	t.snap.Reps, t.snap.All = reps, reps
	last := reps[len(reps)-1]
	loop := t.ring.Cut(0.1, 1.2)
	t.snap.Lookback = runner.Lookback{On: true, ID: last.ID, Number: len(reps), Loop: loop, Known: true, Rep: last,
		Player: lookback.NewPlayer(loop.Times(), 0.9, t.now)}
	t.step()
	t.self.from = "" // as after a moment: keys mean what is seen
}

// next is the rep after the one that is looked at: the session lets the
// pictures of that go.
func (t *trial) next(id string) {
	if l := t.snap.Lookback.Loop; l != nil {
		l.Release()
	}
	t.tell(append(t.snap.All[:len(t.snap.All):len(t.snap.All)], done(id, 3))...)
	t.step()
}
