package live

import (
	"bufio"
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/app"
	"drillbay/camera/lookback"
	"drillbay/camera/sight"
	"drillbay/cues"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/book"
	"drillbay/drills/ledger"
	"drillbay/drills/runner"
	"drillbay/drills/voice"
)

// replay works the program by a text: the real book and session, with glances
// and readings that the text gives. Its clock is the text's.
type replay struct {
	t     *testing.T
	now   float64
	l     *ledger.Ledger
	s     *runner.Stepper
	a     *app.App
	view  *app.View
	next  drills.Rep // what the next reading finds
	beats []sight.Glance
}

func newReplay(t *testing.T) *replay {
	r := &replay{t: t}
	var err error
	r.l, err = ledger.Open(filepath.Join(t.TempDir(), ledger.FileName))
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, r.l.Close()) })
	b, err := book.Read(context.Background(), r.l, "")
	require.NoError(t, err)
	began := time.Now() // the book dates its clinic by it
	r.s = runner.NewStepper(runner.Options{
		Ring: lookback.NewRing(1<<20, 64), Speaker: voice.New(cues.Silent{}, drills.Ladder{}, nil), Began: began, Now: func() float64 { return r.now },
		Store: book.Store{Ledger: r.l, Book: b, Club: func() float64 { return 0.94 }},
		Analyse: func(k runner.Take) runner.Analysis {
			x := runner.Unread(k, "")
			x.ShaftLine, x.Manner, x.Moments.Level = r.next.ShaftLine, r.next.Manner, k.Span.Catch
			x.Verdict, x.Just = drills.Judge(x.ShaftLine, k.Drill.Width())
			return runner.Analysis{Rep: x}
		},
	})
	t.Cleanup(r.s.Close)
	setup := book.Defaults()
	setup.Minutes = 10
	r.a = app.New(app.Deps{Snapshot: r.s.Snapshot, Order: r.s.Order, Book: b, Setup: setup,
		Bay: bay.Bay{Name: "Net 2", Target: drills.Pixel{X: math.NaN(), Y: math.NaN()}}})
	return r
}

// until lets time pass: glances come at 30 a second, the program steps with
// each.
func (r *replay) until(at float64) {
	for r.now < at {
		r.now += 1.0 / 30
		g := sight.Glance{Phase: sight.Away, HandsX: math.NaN(), HandsY: math.NaN()}
		if len(r.beats) > 0 {
			g, r.beats = r.beats[0], r.beats[1:]
		}
		g.At = r.now
		r.s.See(nil, g)
		r.step()
	}
}

func (r *replay) step(actions ...app.Action) { r.view = r.a.Step(actions, r.now) }

// rep lines up the glances of a rep from now on.
func (r *replay) rep(line float64, manner drills.Manner) {
	r.next.ShaftLine, r.next.Manner = drills.Reading{Value: line, Sigma: 0.8}, manner
	nan := math.NaN()
	start := r.now + 0.8
	span := sight.Span{From: r.now, Address: nan, To: nan, Start: start, BackStart: start + 0.4, Catch: start + 1, End: nan}
	at, since := r.now, r.now
	phase := func(p sight.Phase, seconds float64, last func(*sight.Glance)) {
		n := int(math.Round(seconds * 30))
		since = at
		for i := range n {
			at += 1.0 / 30
			g := sight.Glance{Phase: p, Since: since, HandsX: nan, HandsY: nan}
			if last != nil && i == n-1 {
				last(&g)
			}
			r.beats = append(r.beats, g)
		}
	}
	phase(sight.Address, 0.8, nil)
	phase(sight.Forward, 0.4, nil)
	phase(sight.Back, 0.6, nil)
	phase(sight.Hold, 0.2, func(g *sight.Glance) { g.Caught, g.Span = true, span })
	phase(sight.Hold, 1, func(g *sight.Glance) { span.End = at; g.Ended, g.Span = true, span })
	phase(sight.Settling, 0.4, nil)
	phase(sight.Address, 0.3, nil) // ends the lookback
}

// do carries out one line of the text.
func (r *replay) do(what, arg string) error {
	switch what {
	case "key":
		if len(arg) == 1 && arg != "?" && arg != "+" {
			r.step(app.Action{Kind: app.Typed, Text: strings.ToLower(arg)})
			return nil
		}
		for d := app.Nothing + 1; d.String() != ""; d++ {
			if d.Cap() == arg {
				r.step(app.Action{Kind: app.Key, Do: d})
				return nil
			}
		}
		return fmt.Errorf("no key has the cap %q", arg)
	case "type":
		r.step(app.Action{Kind: app.Typed, Text: arg})
	case "paste":
		r.step(app.Action{Kind: app.Pasted, Text: strings.ReplaceAll(arg, "|", "\n") + "\n"})
	case "rep":
		line, word, _ := strings.Cut(arg, " ")
		v, err := strconv.ParseFloat(line, 64)
		if err != nil {
			return err
		}
		m, err := drills.ParseManner(word)
		if err != nil {
			return err
		}
		r.rep(v, m)
	case "screen":
		if r.view.Screen != arg {
			return fmt.Errorf("the screen is %q, not %q", r.view.Screen, arg)
		}
	case "says":
		var all []string
		for _, i := range r.view.Items {
			if i.Shape == app.Text {
				all = append(all, i.Text)
			}
		}
		if !strings.Contains(strings.Join(all, "\n"), arg) {
			return fmt.Errorf("%q does not stand on %q: %q", arg, r.view.Screen, all)
		}
	case "stored":
		reps, err := r.l.Reps(context.Background(), ledger.Which{})
		if err != nil {
			return err
		}
		if fmt.Sprint(len(reps)) != arg {
			return fmt.Errorf("%d reps are stored, not %s", len(reps), arg)
		}
	default:
		return fmt.Errorf("%q is nothing that can be done", what)
	}
	return nil
}

// A session that was worked once goes the same way every time: a first run, a
// set with a rep taken back, progress, another club, and a clinic.
func TestASessionOfActionsIsReplayed(t *testing.T) {
	f, err := os.Open(filepath.Join("..", "..", "testdata", "session.txt"))
	require.NoError(t, err)
	defer f.Close()
	r := newReplay(t)
	lines := bufio.NewScanner(f)
	for n := 1; lines.Scan(); n++ {
		text, _, _ := strings.Cut(lines.Text(), "#")
		when, rest, ok := strings.Cut(strings.TrimSpace(text), " ")
		if !ok {
			continue
		}
		at, err := strconv.ParseFloat(when, 64)
		require.NoError(t, err, "session.txt:%d", n)
		require.GreaterOrEqual(t, at, r.now-1.0/30, "session.txt:%d: time goes on", n)
		r.until(at)
		what, arg, _ := strings.Cut(strings.TrimSpace(rest), " ")
		require.NoError(t, r.do(what, strings.TrimSpace(arg)), "session.txt:%d: %s", n, lines.Text())
	}
	require.NoError(t, lines.Err())

	// What the session leaves behind.
	reps, err := r.l.Reps(context.Background(), ledger.Which{})
	require.NoError(t, err)
	by := map[string]drills.Share{}
	taken := 0
	for _, x := range reps {
		if x.Taken {
			taken++
			continue
		}
		s := by[x.Player.Name]
		by[x.Player.Name] = s.Add(drills.Counted([]bool{x.Counts()}))
	}
	require.Equal(t, 1, taken)
	require.Equal(t, drills.Share{Good: 9, Of: 10}, by["Ada"])
	require.Equal(t, drills.Share{Good: 4, Of: 5}, by["Bo"])
	require.NoError(t, r.l.Check(context.Background()))
}
