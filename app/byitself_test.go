package app

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/camera/sight"
	"drillbay/drills/runner"
)

// inClinic is a trial in which Ada practises in a clinic and has ticked her
// set-up.
func inClinic() *trial {
	a := clinicOf("Ada\nBo\nCy\n")
	a.key(PageOn)
	a.check = []string{"Grip: light."}
	a.key(Go)
	a.key(Go)
	a.key(Go)
	a.snap.Phase = sight.Address
	a.now++
	a.step()
	return a
}

// came are the screens that can come by themselves while somebody practises,
// and how.
var came = map[string]func(a *trial){
	"lookback": func(a *trial) { a.tell(done("a", 20)) },
	"check": func(a *trial) {
		a.sheet.Over, a.snap.Phase = true, sight.Away
		a.now++
		a.step()
	},
}

// A key that does something in practice does the same, or nothing, on a screen
// that comes by itself. Going on and going back are the same on all of them:
// one step each.
func TestAKeyKeepsItsMeaningOnAScreenThatComesByItself(t *testing.T) {
	type did struct{ orders, turns, top, setup string }
	keys := []Action{{Kind: Typed, Text: " "}}
	for d := Go; d < dos; d++ {
		switch d {
		case Go, Back, PageOn, PageBack, Keys, FullScreen, Number, Choose:
		default:
			keys = append(keys, Action{Kind: Key, Do: d})
		}
	}
	for r := '1'; r <= '9'; r++ {
		keys = append(keys, Action{Kind: Typed, Text: string(r)})
	}
	press := func(a *trial, k Action) did {
		a.snap.Reps, a.snap.Beat.Rate = a.snap.All, 60
		orders, turns, setup, was := len(a.orders), len(a.turns), a.setup, a.step().Screen
		top := a.step(k).Screen
		if top == was {
			top = ""
		}
		out := did{fmt.Sprint(a.orders[orders:]), fmt.Sprint(a.turns[turns:]), top, ""}
		if a.setup != setup {
			out.setup = fmt.Sprintf("%+v", a.setup)
		}
		return out
	}
	for name, come := range came {
		t.Run(name, func(t *testing.T) {
			for _, k := range keys {
				a, b := inClinic(), inClinic()
				come(b)
				require.Equal(t, name, b.step().Screen)
				b.now++ // long after it came
				there, here := press(b, k), press(a, k)
				if k.Do == LookBack || k.Do == Keep {
					continue // they look back at the last rep, or keep it: on a lookback that is the one that is shown
				}
				nothing := did{"[]", "[]", "", ""}
				if here == nothing || there == nothing {
					continue
				}
				// Whom a turn goes to depends on who is up, not on the key.
				require.Equal(t, here.turns, there.turns, "%v %q", k.Do, k.Text)
				if here.turns == "[]" {
					require.Equal(t, here, there, "%v %q", k.Do, k.Text)
				}
			}
		})
	}
}

// In the moment in which a screen comes by itself a key means what it meant on
// the one before.
func TestAKeyMeansWhatWasSeenWhenItWasPressed(t *testing.T) {
	a := martaPractises()
	a.tell(done("a", 20))
	a.step()
	a.snap.Lookback.On = false
	a.step()
	orders := len(a.orders)
	for _, d := range []Do{Go, PageOn} { // to end the lookback that has just ended
		a.self = byItself{from: "lookback", to: "practice", at: a.now}
		require.Equal(t, "practice", a.key(d).Screen)
	}
	require.Len(t, a.orders, orders)
	a.self = byItself{from: "lookback", to: "practice", at: a.now}
	a.key(LookBack)
	require.Equal(t, runner.LookBack, a.did().Do, "somebody wanted to look, and it had just ended")
	a.now += 2 * grace
	require.Equal(t, "start", a.key(Back).Screen, "a moment later it ends the session")

	a = martaPractises()
	a.snap.Paused = true
	a.tell(done("a", 20))
	a.self = byItself{from: "practice", to: "lookback", at: a.now}
	a.key(Go)
	require.False(t, a.snap.Paused, "go on was meant")

	a = inClinic()
	came["check"](a)
	require.Equal(t, "check", a.view.Screen)
	require.Equal(t, "check", a.key(PageOn).Screen, "nobody ticks a list that was not seen")
	require.Equal(t, "practice", a.key(PageOn).Screen)
	a = inClinic()
	came["check"](a)
	require.Equal(t, "clinic", a.key(Back).Screen, "the end was meant")
	require.Equal(t, runner.Finish, a.did().Do)
}

// B looks back, K keeps the last rep: whether the lookback is on already or not.
func TestBAndKMeanTheLastRepWhateverIsShown(t *testing.T) {
	a := martaPractises()
	a.tell(done("a", 20))
	require.Equal(t, "lookback", a.step().Screen)
	a.now++
	require.Equal(t, "lookback", a.key(LookBack).Screen)
	require.Equal(t, runner.Stay, a.did().Do, "it does not go away under somebody who wants to look")
	a.snap.Lookback.Stays = true
	a.key(LookBack)
	require.Equal(t, runner.LookOn, a.did().Do, "once more ends it")

	a = martaPractises()
	a.tell(done("a", 20))
	a.step()
	a.snap.Lookback.On = false
	a.now++
	require.Equal(t, "practice", a.step().Screen)
	a.key(Keep)
	require.Equal(t, runner.LookBack, a.did().Do)
	a.snap.Lookback.On, a.snap.Lookback.Stays = true, true
	require.Equal(t, "consent", a.step().Screen, "who agreed is asked first")

	// Without a rep nothing comes, and nothing comes later.
	a = martaPractises()
	a.key(Keep)
	a.now += keepWithin + 1
	a.step()
	a.tell(done("a", 20))
	require.Equal(t, "lookback", a.step().Screen)
}

func TestALookbackThatWasAskedForIsNoSurprise(t *testing.T) {
	a := martaPractises()
	a.tell(done("a", 20))
	a.snap.Lookback.On = false
	a.step()
	a.self.from = ""
	a.snap.Lookback.On, a.snap.Lookback.Stays = true, true // as B does
	a.step()
	require.Equal(t, "lookback", a.view.Screen)
	a.key(Back)
	require.Equal(t, "practice", a.step().Screen, "one step back")
	a.now++
	require.Equal(t, "start", a.key(Back).Screen)
}

// A lookback that B called stays until it is left: the next rep is told, and waits.
// One that came by itself, or that the clicker called, gives way to the next.
func TestALookbackThatBCalledStaysWhenTheNextRepComes(t *testing.T) {
	look := func(a *trial) *lookbackPart {
		p, ok := a.stack[1].(*practiceScreen)
		require.True(t, ok)
		return &p.look
	}
	called := func(d Do) *trial { // from practice
		a := martaPractises()
		a.tell(done("a", 20))
		a.snap.Lookback.On = false
		a.step()
		a.now++
		a.key(d)
		require.Equal(t, runner.LookBack, a.did().Do)
		a.snap.Lookback.On, a.snap.Lookback.Stays = true, true
		require.Equal(t, "lookback", a.step().Screen)
		return a
	}
	asked := martaPractises() // of one that came by itself
	asked.tell(done("a", 20))
	asked.step()
	asked.now++
	asked.key(LookBack)
	asked.snap.Lookback.Stays = true
	for _, a := range []*trial{called(LookBack), asked} {
		longer := a.snap.Lookback.Loop.Again() // its last pictures come
		a.snap.Lookback.Loop.Release()
		a.snap.Lookback.Loop = longer
		a.step()
		a.next("b")
		require.Equal(t, "a", look(a).id)
		require.Equal(t, "a", look(a).rep.ID)
		require.Contains(t, a.step().String(), "; rep 2 waits")
		p := look(a).loop.Frame(look(a).player.At(a.now).At)
		require.NotNil(t, p, "its pictures are held")
		p.Release()
		orders := len(a.orders)
		a.key(Up)
		require.Len(t, a.orders, orders, "it is not about the new rep")
		a.snap.Lookback.On = false // at address
		a.step()
		require.Equal(t, "lookback", a.view.Screen)
		require.Equal(t, "a", look(a).id)
		a.key(Keep)
		require.Equal(t, "consent", a.step().Screen)
		require.Equal(t, "a", look(a).rep.ID, "K is about the rep that is shown")
		a.key(Back)
		a.snap.Lookback.On = true
		own := look(a).loop
		a.key(LookBack)
		a.step()
		require.Equal(t, "b", look(a).id, "it was left: now the newer one is seen")
		require.Nil(t, own.Frame(0), "its pictures are let go")
	}
	a := called(PageBack)
	a.next("b")
	require.Equal(t, "b", look(a).id, "on the mat nobody ends it first")

	// Another player's turn, and a motion that was no rep, end it.
	for _, end := range []func(a *trial){
		func(a *trial) { a.snap.Player = runner.Player{ID: "x"}; a.next("b") },
		func(a *trial) { a.snap.Lookback.On = false },
	} {
		a = called(LookBack)
		end(a)
		a.step()
		require.NotEqual(t, "a", look(a).id)
	}
}
