package app

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

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
		a.tell(done("a", 20))
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
		a.d.Lens.Find = func() []Segment {
			x++
			return []Segment{{A: Point{x, 30}, B: Point{30, 20}}, {A: Point{50, 30}, B: Point{40, 20}}}
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
		a.players = append(a.players, PlayerLine{Player: runner.Player{ID: "b", Name: "Ben"}})
		a.deleted = []PlayerLine{{Player: runner.Player{ID: "c", Name: "Cy"}}}
		a.key(Progress)
		return a
	},
	"delete":  func() *trial { a := marta(); a.key(Progress); a.key(EraseOn); a.typed("Marta"); return a },
	"consent": func() *trial { a := marta(); a.key(Progress); a.key(Agree); a.key(Down); return a },
	"caution": func() *trial { a := marta(); a.key(Go); return a },
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
	"answers": func() *trial { a := marta(); a.key(Progress); a.key(Pencil); a.key(Right); return a },
}

// marta is a trial with one player.
func marta() *trial {
	a := newTrial()
	a.players = []PlayerLine{{Player: runner.Player{ID: "m", Name: "Marta"}}}
	return a
}

// state is all that a key can change.
func (t *trial) state() string {
	look := ""
	if p, ok := t.top().(*practiceScreen); ok && p.look.on {
		look = fmt.Sprint(p.look.player.At(t.now), p.look.player.Speed())
	}
	v := t.step()
	return fmt.Sprint(v.String(), v.Quit, v.FullScreen, len(t.orders), len(t.turns), len(t.jobs), t.setup, t.bay, t.busy, look)
}

// What the page of keys says of a screen is true: each key on it does something
// there.
func TestThePageOfKeysIsTrue(t *testing.T) {
	for name, open := range on {
		for _, l := range append(keyLines(name), everywhere()[:2]...) {
			worked := false
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
					before := a.state()
					a.now++
					if a.step(Action{Kind: Key, Do: d, N: n}); d == Back && a.stack[0] == a.top() && name != "start" {
						worked = true
					}
					worked = worked || a.state() != before
				}
			}
			require.True(t, worked || l.dos == nil, "%s: %s, %s", name, l.caps(), l.word)
		}
	}
}

// No key stands on a page twice.
func TestNoKeyStandsTwice(t *testing.T) {
	for _, name := range []string{"start", "practice", "lookback", "lens", "clinic", "new clinic", "progress", "keep", "clubs", "delete", "consent", "consent taken back", "caution", "check", "drills", "pencil", "settings"} {
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
