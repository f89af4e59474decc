package app

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/camera/lookback"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/book"
	"drillbay/drills/clips"
	"drillbay/drills/runner"
)

// on are trials on each screen, in a state in which its keys have something to do.
var on = map[string]func() *trial{
	"start": func() *trial { return marta() },
	"practice": func() *trial {
		a := inClinic()
		a.snap.Beat.Rate, a.snap.SetDone = 60, true
		a.snap.Reps = append(a.snap.Reps, done("a", 3))
		a.snap.All = a.snap.Reps
		return a
	},
	"lookback": func() *trial {
		a := martaPractises()
		a.tell(bodied("a"))
		a.key(Down)
		a.key(Down) // the level moment
		a.snap.Against = append(a.snap.Against, runner.Compare{Label: "last", Rep: done("b", 2), Loop: a.snap.Lookback.Loop})
		a.step()
		return a
	},
	"pencil": func() *trial {
		a := martaPractises()
		a.tell(done("a", 20))
		a.step()
		a.key(Pencil)
		a.step(Action{Kind: Press, X: 200, Y: 400}, Action{Kind: Move, X: 300, Y: 300}, Action{Kind: Let, X: 300, Y: 300})
		a.key(Left)
		return a
	},
	"lens": func() *trial {
		a := marta()
		a.key(Lens)
		x := 10.0
		a.d.Lens.Find = func() []bay.Segment {
			x++
			return []bay.Segment{{A: drills.Pixel{X: x, Y: 30}, B: drills.Pixel{X: 30, Y: 20}}, {A: drills.Pixel{X: 50, Y: 30}, B: drills.Pixel{X: 40, Y: 20}}}
		}
		a.key(Left)
		return a
	},
	"clinic": func() *trial { a := clinicOf("Ada\nBo\nCy\n"); a.key(PageOn); a.key(Down); return a },
	"new clinic": func() *trial {
		a := clinicOf("Ada\nBo\n")
		a.key(Up)
		a.key(Up)
		return a
	},
	"progress": func() *trial {
		a := marta()
		a.players = append(a.players, book.PlayerLine{Player: runner.Player{ID: "b", Name: "Ben"}})
		a.deleted = []book.PlayerLine{{Player: runner.Player{ID: "c", Name: "Cy"}}}
		a.key(Progress)
		return a
	},
	"delete":  func() *trial { a := marta(); a.key(Progress); a.key(EraseOn); a.typed("Marta"); return a },
	"consent": func() *trial { a := marta(); a.key(Progress); a.key(Agree); a.key(Down); return a },
	"caution": func() *trial { a := marta(); a.key(Go); return a },
	"watched": func() *trial { a := marta(); a.key(Drills); a.key(Pencil); a.key(Down); return a },
	"drills":  func() *trial { a := marta(); a.key(Drills); return a },
	"new player": func() *trial {
		a := marta()
		a.key(NewPlayer)
		a.typed("Ada")
		a.key(Next)
		a.key(Right)
		a.key(Next)
		a.key(Right)
		return a
	},
	"answers":  func() *trial { a := marta(); a.key(Progress); a.key(Pencil); a.key(Right); return a },
	"coach":    func() *trial { a := marta(); a.key(Settings); a.typed("i"); a.typed("Wil"); return a },
	"settings": func() *trial { a := marta(); a.key(Settings); a.key(Next); a.key(Right); return a },
	"clubs": func() *trial {
		a := marta()
		a.clubs = []book.ClubLine{{Name: "wedge", Cm: 89, Used: true}, {Name: "7-iron", Cm: 94}, {Name: "driver", Cm: 114}}
		a.key(Progress)
		a.key(Club)
		a.key(Down)
		return a
	},
	"keep": func() *trial {
		a := martaPractises()
		a.players[0].Consent = book.PlayerAgrees
		a.tell(done("a", 20))
		a.key(Keep)
		return a
	},
	"check": func() *trial {
		a := clinicOf("Ada\nBo\nCy\n")
		a.key(PageOn)
		a.check = []string{"Grip: light.", "Aim: at the mark.", "Ball: forward."}
		a.key(Go)
		a.key(Go)
		a.key(Go)
		a.key(PageOn)
		return a
	},
	"clip": func() *trial {
		a := clipFound()
		a.key(Down)
		a.key(Down)
		a.key(Next)
		a.key(Right)
		return a
	},
	"consent taken back": func() *trial {
		a := marta()
		a.players[0].Consent = book.PlayerAgrees
		a.clips = []book.ClipLine{{ID: "1", File: "one.avi"}}
		a.key(Progress)
		a.key(Agree)
		a.key(Up)
		a.key(Go)
		return a
	},
	"kept clips": func() *trial {
		a := marta()
		a.clips = []book.ClipLine{{ID: "1", File: "one.avi"}, {ID: "2", File: "two.avi"}, {ID: "3", File: "three.avi"}}
		a.d.Watch = func(string) (clips.Loop, error) { return &film{}, nil }
		a.key(Keep)
		a.key(Down)
		return a
	},
	"save a copy": func() *trial {
		a := marta()
		a.clips = []book.ClipLine{{ID: "1", File: "one.avi"}}
		a.key(Keep)
		a.d.Places = func() []string { return []string{"/media/a", "/media/b", "/media/c"} }
		a.key(Keep)
		for s := a.top().(*saveScreen); s.places == nil; a.step() {
			runtime.Gosched()
		}
		a.key(Down)
		return a
	},
	"late players": func() *trial {
		a := clinicOf("Ada\nBo\n")
		a.key(PageOn)
		a.key(Join)
		a.step(Action{Kind: Pasted, Text: "Cy\nDee\n"})
		a.key(Up)
		a.key(Up)
		return a
	},
}

// also are further states of screens that have two.
var also = map[string]func() *trial{
	"clinic": func() *trial {
		a := clinicOf("Ada\nBo\nCy\n")
		a.key(PageOn)
		a.key(Go)
		a.key(Go)
		a.key(Clinic)
		return a
	},
	"clip": func() *trial {
		a := clipFound()
		a.key(Down)
		a.key(Go)
		for s := a.top().(*clipScreen); s.reps == nil; a.step() {
			runtime.Gosched()
		}
		a.step()
		a.now += 0.2
		return a
	},
	"clubs": func() *trial {
		a := marta()
		a.key(Progress)
		a.key(Club)
		a.key(More)
		a.typed("9-iron")
		a.key(Next)
		return a
	},
	"lens": func() *trial { // face-on, with lines found
		a := marta()
		a.bay.FaceOn = true
		a.d.Lens.Level = func() (bay.Level, bool) { return bay.Level{Lines: make([]bay.Segment, 2), Roll: 2, Sd: 0.5}, true }
		a.key(Lens)
		a.key(Choose)
		a.step()
		return a
	},
	"pencil": func() *trial { // of a rep that two cameras saw
		a := on["pencil"]()
		a.snap.Lookback.Beside = a.snap.Lookback.Loop.Again()
		a.step()
		a.top().(*practiceScreen).look.beside = a.snap.Lookback.Beside
		return a
	},
	"consent taken back": func() *trial { a := on["consent taken back"](); a.key(Down); return a },
	"kept clips": func() *trial {
		a := on["kept clips"]()
		a.key(Go)
		for s := a.top().(*keptScreen); s.loop == nil; a.step() {
			runtime.Gosched()
		}
		a.now += 0.2
		return a
	},
}

// clipFound is a trial before the form for a clip, with two files.
func clipFound() *trial {
	a := marta()
	a.d.Clips = func() []string { return []string{"/one.mp4", "/two.mp4"} }
	a.d.Measure = func(context.Context, clips.Job, func(float64)) ([]clips.Rep, error) {
		return []clips.Rep{{Done: done("a", 3), Loop: &film{}}, {Done: done("b", 20), Loop: &film{}}, {Done: done("c", 2), Loop: &film{}}}, nil
	}
	a.key(LookBack)
	for s := a.top().(*clipScreen); s.files == nil; a.step() {
		runtime.Gosched()
	}
	return a
}

// marta is a trial with one player.
func marta() *trial {
	a := newTrial()
	a.players = []book.PlayerLine{{Player: runner.Player{ID: "m", Name: "Marta"}}}
	return a
}

// state is all that a key can change.
func (t *trial) state() string {
	look := ""
	switch s := t.top().(type) {
	case *practiceScreen:
		if s.look.on {
			look = fmt.Sprint(s.look.player.At(t.now), s.look.player.Speed())
		}
	case *clipScreen:
		if s.loop.on {
			look = fmt.Sprint(s.loop.player.At(t.now), s.loop.player.Speed())
		}
	case *keptScreen:
		if s.loop != nil {
			look = fmt.Sprint(s.player.At(t.now), s.player.Speed())
		}
	}
	v := t.step()
	return fmt.Sprint(v.String(), v.Quit, v.FullScreen, len(t.orders), len(t.turns), t.setup, t.bay, t.busy, look)
}

// What the page of keys says of a screen is true: each key on it does something
// there.
func TestThePageOfKeysIsTrue(t *testing.T) {
	for name, open := range on {
		for _, l := range append(keyLines(name), everywhere()[:2]...) {
			worked := false
			for _, open := range []func() *trial{open, also[name]} {
				worked = worked || open != nil && works(t, name, open, l)
			}
			require.True(t, worked || l.dos == nil, "%s: %s, %s", name, l.caps(), l.word)
		}
	}
}

// works reports whether a key of a line does something on a screen.
func works(t *testing.T, name string, open func() *trial, l keyLine) (worked bool) {
	for _, d := range l.dos {
		for n := l.first; n <= max(l.last, l.first) && !worked; n++ {
			a := open()
			if name == "lens" && (d == Lines || d == PageBack) { // from another step
				a.key(PageOn)
			}
			if d == Distance { // it is the one that is chosen
				a.key(Field)
			}
			require.Equal(t, name, a.step().Screen)
			if w, ok := a.top().(typer); ok && w.typing() && d == Keys {
				worked = true // a letter there
				continue
			}
			a.now++
			before, was := a.state(), a.top()
			a.now -= 1.0 / 30 // what plays is asked at the same instant
			if a.step(Action{Kind: Key, Do: d, N: n}); d == Back && (a.stack[0] == a.top() && name != "start" || a.top() != was) {
				worked = true
			}
			a.now -= 1.0 / 30
			worked = worked || a.state() != before
		}
	}
	return worked
}

// Every screen is tried, also one that is new, but the page of keys itself and what
// only the mat sees.
func TestThePageOfKeysIsTriedOnEveryScreen(t *testing.T) {
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	found := map[string]bool{}
	name := regexp.MustCompile(`\) name\(\) string\s*\{([^}]*)\}`)
	for _, f := range files {
		src, err := os.ReadFile(f)
		require.NoError(t, err)
		for _, m := range name.FindAllStringSubmatch(string(src), -1) {
			for _, q := range regexp.MustCompile(`"([a-z ]+)"`).FindAllStringSubmatch(m[1], -1) {
				found[q[1]] = true
			}
		}
	}
	require.Greater(t, len(found), 18)
	for n := range found {
		require.True(t, on[n] != nil || n == "keys" || n == "turn", "%s is not tried", n)
	}
}

// No key stands on a page twice.
func TestNoKeyStandsTwice(t *testing.T) {
	for name := range on {
		seen := map[string]bool{}
		for _, l := range keyLines(name) {
			for _, d := range l.dos {
				at := d.String()
				if d == Number {
					at = l.caps()
				}
				require.False(t, seen[at], "%s: %s", name, at)
				seen[at] = true
			}
		}
	}
}

// Tab in the lookback goes through the speeds, and on from where it was held.
func TestTabIsTheNextSpeedInTheLookback(t *testing.T) {
	a := on["lookback"]()
	speed := func() float64 { return a.top().(*practiceScreen).look.player.Speed() }
	for _, want := range []float64{lookback.Half, lookback.Full, lookback.Quarter, lookback.Half} {
		require.Equal(t, "lookback", a.key(Next).Screen)
		require.Equal(t, want, speed())
		require.Equal(t, runner.Stay, a.did().Do, "it stays while somebody looks")
	}
	a.key(Left) // a frame back, where it stands still
	at := a.top().(*practiceScreen).look.player.At(a.now).At
	a.key(Next)
	a.now += 0.2
	require.Greater(t, a.top().(*practiceScreen).look.player.At(a.now).At, at, "it goes on")
}
