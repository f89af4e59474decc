//go:build !windows

package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/drills/ledger"
)

// A session that is closed by destroying its window, by taking its display, by
// a signal or two, ends within a second and says so in one sentence, whatever
// keys and sizes came before; what was told is on the disk.
func TestASessionThatIsEndedFromOutside(t *testing.T) {
	if testing.Short() {
		t.Skip("it works the window for a while")
	}
	ways := map[string]func(d *desk){
		"interrupt":  func(d *desk) { d.signal(syscall.SIGINT) },
		"two":        func(d *desk) { d.signal(syscall.SIGINT); d.signal(syscall.SIGINT) },
		"terminated": func(d *desk) { d.signal(syscall.SIGTERM) },
		"destroyed":  func(d *desk) { d.do("search", "--name", "^drillbay", "windowclose") },
		"display":    func(d *desk) { d.do("search", "--name", "^drillbay", "windowkill") },
	}
	random := 2 * time.Second
	if os.Getenv("DRILLBAY_LONG") != "" {
		random = 45 * time.Second
	}
	for name, end := range ways {
		t.Run(name, func(t *testing.T) {
			t.Parallel() // each has a screen and a program of its own, and mostly waits
			d := newDesk(t, "--virtual", "--silent", "--deaf", "--size", "480x270", "--seed", "4")
			for _, key := range []string{"Return", "A", "d", "a", "Return", "Return", "Return", "Return", "Return", "Return", "Return", "Return", "Return"} {
				d.tap(key)
			}
			path := filepath.Join(d.dir, "drillbay", ledger.FileName)
			told := func() (n int) {
				l, err := ledger.Open(path)
				require.NoError(t, err)
				defer l.Close()
				require.NoError(t, l.Check(context.Background()))
				reps, err := l.Reps(context.Background(), ledger.Which{})
				require.NoError(t, err)
				return len(reps)
			}
			d.until("a rep is told", time.Minute, func() bool { return told() > 0 })
			d.play(rand.New(rand.NewPCG(5, uint64(len(name)))), random)
			before := told()
			at := time.Now()
			end(d)
			select {
			case err := <-d.ended:
				require.NoError(t, err, d.log.String())
			case <-time.After(5 * time.Second):
				t.Fatal("it goes on: " + d.log.String())
			}
			took := time.Since(at)
			// A second where nothing else works; other tests beside it make a
			// reading that is under way, and finished first, take longer.
			require.Less(t, took, 3*time.Second)
			var said []string
			for _, line := range strings.Split(d.log.String(), "\n") {
				if strings.HasPrefix(line, "drillbay") {
					said = append(said, line)
				}
			}
			require.Equal(t, []string{"drillbay: ended from outside: every rep that was told is in the ledger."}, said)
			require.GreaterOrEqual(t, told(), before)
			t.Logf("ended in %d ms, %d reps before, %d after", took.Milliseconds(), before, told())
		})
	}
}

// Who leaves by the keys hears nothing of an end from outside.
func TestAnOrdinaryEndSaysNothing(t *testing.T) {
	d := newDesk(t, "--virtual", "--silent", "--deaf", "--size", "480x270")
	d.tap("Escape")
	d.do("sleep", "1")
	d.tap("Return")
	select {
	case err := <-d.ended:
		require.NoError(t, err, d.log.String())
	case <-time.After(10 * time.Second):
		t.Fatal("it goes on: " + d.log.String())
	}
	require.NotContains(t, d.log.String(), "drillbay:")
}

// Keys that are let go at once, at any moment of an update, all act: 30 of 30.
func TestShortTapsAreHeard(t *testing.T) {
	d := newDesk(t, "--virtual", "--silent", "--deaf", "--size", "480x270")
	d.press("Return", "new player")
	d.do("type", "--delay", "0", "Ada")
	d.do("key", "--delay", "0", "Return") // right behind the letters
	d.do("key", "--delay", "0", "Tab")
	for range 30 { // 94 cm less 30
		d.do("key", "--delay", "0", "Left")
	}
	d.do("key", "--delay", "0", "Return")
	l, err := ledger.Open(filepath.Join(d.dir, "drillbay", ledger.FileName))
	require.NoError(t, err)
	defer l.Close()
	ctx := context.Background()
	d.until("Ada is stored", 10*time.Second, func() bool { p, err := l.Players(ctx); return err == nil && len(p) == 1 })
	players, err := l.Players(ctx)
	require.NoError(t, err)
	require.Equal(t, "Ada", players[0].Name)
	d.until("her club is stored", 10*time.Second, func() bool { c, err := l.Clubs(ctx, players[0].ID); return err == nil && len(c) == 1 })
	clubs, err := l.Clubs(ctx, players[0].ID)
	require.NoError(t, err)
	require.InDelta(t, 0.64, clubs[0].Length, 1e-9)
}

func (d *desk) signal(s syscall.Signal) { require.NoError(d.t, d.program.Process.Signal(s)) }

// play presses keys, clicks and resizes at random, but not those that leave.
func (d *desk) play(random *rand.Rand, howLong time.Duration) {
	keys := strings.Fields("Return Escape space n c p d s b m v t y h e u f a i o k z g plus minus r w j q Left Right Up Down 4 2 1 Tab Delete BackSpace Home End Prior Next question x period")
	for end := time.Now().Add(howLong); time.Now().Before(end); {
		switch n := random.IntN(20); {
		case n == 0:
			d.do("search", "--name", "^drillbay", "windowsize", fmt.Sprint(640+random.IntN(380)), fmt.Sprint(360+random.IntN(240)))
		case n < 3:
			d.do("mousemove", fmt.Sprint(random.IntN(1000)), fmt.Sprint(random.IntN(590)), "click", "1")
		default:
			key := keys[random.IntN(len(keys))]
			if d.title() == "start" && key == "Escape" {
				continue // it would ask whether to leave
			}
			d.do("key", "--delay", "20", key)
		}
		select {
		case err := <-d.ended:
			d.t.Fatalf("the window ended (%v): %s", err, d.log)
		default:
		}
	}
}

// Clicks that are let go at once all act, 30 of 30, and where they were made.
func TestShortClicksAreHeard(t *testing.T) {
	d := newDeskOf(t, 1280, 720, "--virtual", "--silent", "--deaf", "--size", "480x270")
	d.press("n", "new player")
	d.do("type", "--delay", "0", "Ada")
	for i := range 30 { // 94 cm less 30: on "less" of the club, and away a fifth of a second later
		x, y := 168, 401
		d.do("mousemove", fmt.Sprint(x+i%3), fmt.Sprint(y), "mousedown", "1", "mouseup", "1", "sleep", "0.2", "mousemove", "900", fmt.Sprint(500+i))
	}
	d.shot("clicks")
	d.do("key", "Return")
	l, err := ledger.Open(filepath.Join(d.dir, "drillbay", ledger.FileName))
	require.NoError(t, err)
	defer l.Close()
	ctx := context.Background()
	d.until("Ada is stored", 10*time.Second, func() bool { p, err := l.Players(ctx); return err == nil && len(p) == 1 })
	players, err := l.Players(ctx)
	require.NoError(t, err)
	d.until("her club is stored", 10*time.Second, func() bool { c, err := l.Clubs(ctx, players[0].ID); return err == nil && len(c) == 1 })
	clubs, err := l.Clubs(ctx, players[0].ID)
	require.NoError(t, err)
	require.InDelta(t, 0.64, clubs[0].Length, 1e-9)
}
