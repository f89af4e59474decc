package live

import (
	"bufio"
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/camera/virtual"
	"drillbay/cues/soundtest"
	"drillbay/drills"
	"drillbay/drills/ledger"
	"drillbay/drills/runner"
	"drillbay/drills/stage"
)

// plan is a session that a test has practised by a process of its own: sound
// devices belong to a process. With sound it practises in real time. Without, its
// clock goes on when nobody has work to do: no machine is too slow for it.
type plan struct {
	Ledger  string
	Seed    uint64
	Reps    int
	Sound   bool
	Taps    bool    // the microphone listens
	Swings  bool    // ordinary swings, whose strikes are played, with one between each
	Faults  []fault // of the camera and the clock
	Both    bool    // a second camera shows the other view
	Second  []fault // of the second camera
	Width   int     // px of the pictures, 0: 320
	Minutes float64 // of a soak
}

// line is one message of the process, one JSON object a line.
type line struct {
	Told   string   // the id of a rep that was told
	At     float64  // s of the practice, when it was, or when a notice came up or went
	Notice string   // the key of a notice that is up
	Text   string   // of the notice
	Gone   string   // the key of a notice that is no longer up
	End    *outcome // the session is over
	Sample *sample
}

// outcome is the process's summary at its end.
type outcome struct {
	Drawn, Seen, Stored int
	Frames, Late        int // pictures that came, and those nobody had time for
	Heard               int // strikes and taps
	Both                int // reps that two cameras saw
	Lag                 float64
	Looks               float64 // of the first camera's eye, a second
	Error               string
}

// practice is the bay of a plan: reps in short order.
func (p plan) practice() virtual.Setup {
	s := stage.Practice(p.Seed, cmp.Or(p.Width, 320), cmp.Or(p.Width, 320)*9/16, 30)
	s.Scene.PasserBy = false
	s.Reps = s.Reps[:p.Reps]
	for i := range s.Reps {
		if p.Swings {
			s.Reps[i] = virtual.RepSpec{Drill: virtual.Ordinary, Arms: virtual.BothArms}
		}
		s.Reps[i].Still, s.Reps[i].Hold, s.Reps[i].Before = 0.9, 1, nil
	}
	if p.Swings {
		s.Reps[0].Still = 3 // until loudspeaker and microphone are awake
	}
	return s
}

// TestHelperSession is no test: it is the process that practises.
func TestHelperSession(t *testing.T) {
	soundtest.Helper(t)
	var p plan
	require.NoError(t, json.Unmarshal([]byte(os.Getenv("DRILLBAY_PLAN")), &p))
	out := json.NewEncoder(os.Stdout)
	play := func(t *testing.T) {
		end, err := p.play(func(l line) { require.NoError(t, out.Encode(l)) })
		if err != nil {
			end.Error = err.Error()
		}
		require.NoError(t, out.Encode(line{End: &end}))
	}
	if p.Sound {
		play(t)
		return
	}
	synctest.Test(t, play)
}

// play practises, and says what is told.
func (p plan) play(say func(line)) (end outcome, err error) {
	ctx, cancel := context.WithTimeout(context.Background(), 3*time.Minute)
	defer cancel()
	book, err := ledger.Open(p.Ledger)
	if err != nil {
		return end, err
	}
	s, start := p.practice(), time.Now()
	c := Config{Ledger: book, Virtual: true, Drawn: s, Sound: p.Sound, Taps: p.Taps, Deaf: !p.Sound}
	stop, err := p.spoil(&c)
	if err != nil {
		return end, err
	}
	defer stop()
	l, err := Open(ctx, c)
	if err != nil {
		return end, err
	}
	d, err := l.Deps(ctx)
	if err != nil {
		return end, err
	}
	if p.Both {
		if err := setBoth(d, s); err != nil {
			return end, err
		}
	}
	who, err := d.Book.AddPlayer("Ada", drills.Right, 94)
	if err != nil {
		return end, err
	}
	b, err := virtual.New(s)
	if err != nil {
		return end, err
	}
	began := l.Now()
	drill := d.Book.Rungs(who.Player.ID)[0].Drill
	drill.Reps, drill.Beat = 0, 72
	if p.Swings {
		drill.Kind, drill.Ball, drill.Beat = runner.Ordinary, true, 0
	}
	d.Order(runner.Command{Do: runner.Begin, Player: who.Player, Bay: "a bay", Drill: drill})
	d.Order(runner.Command{Do: runner.Ready})
	if p.Swings {
		go l.strike(b.Events(), l.mode.At.Seconds())
	}
	told, up := 0, map[string]string{}
	look := func() (waiting int) {
		snap := d.Snapshot()
		for ; told < len(snap.All); told++ {
			say(line{Told: snap.All[told].ID, At: time.Since(start).Seconds()})
		}
		now := map[string]string{}
		for _, n := range snap.Notices {
			now[n.Key] = n.Text
			if up[n.Key] != n.Text {
				say(line{Notice: n.Key, Text: n.Text + " " + n.To, At: time.Since(start).Seconds()})
			}
		}
		for key := range up {
			if _, ok := now[key]; !ok {
				say(line{Gone: key, At: time.Since(start).Seconds()})
			}
		}
		up = now
		return snap.Waiting
	}
	for {
		select {
		case <-l.Wake():
		case <-ctx.Done():
			return end, ctx.Err()
		}
		if waiting := look(); l.Now() > began+b.Seconds()+0.3+p.extra() && waiting == 0 {
			break
		}
	}
	snap, stats := d.Snapshot(), l.source.Stats()
	end = outcome{Drawn: p.Reps, Seen: snap.Counters.Reps, Frames: stats.Frames, Late: stats.Dropped + snap.Counters.Dropped, Heard: l.hearing.Count()}
	reps, err := book.Reps(ctx, ledger.Which{})
	end.Stored = len(reps)
	for _, r := range reps {
		if r.Rep.Views.Two() {
			end.Both++
		}
	}
	end.Looks = float64(l.eye.Seen.Looks()) / (l.Now() - began)
	if o := l.second.Load(); o != nil {
		end.Lag, _, _ = o.reads.Lag()
	}
	if err != nil {
		return end, err
	}
	return end, l.Finish(context.Background(), 20*time.Second)
}

// strike plays the strikes of what is drawn, and one while the player stands
// at each ball.
func (l *Live) strike(events []virtual.Event, began float64) {
	sound := bang()
	for _, e := range events {
		for _, at := range []float64{e.StillFrom + 0.4, e.Impact} {
			wait, cancel := l.clock.After(time.Duration((began + at - l.sound.Delay() - l.Now()) * float64(time.Second)))
			<-wait
			cancel()
			l.sound.Probe(sound)
		}
	}
}

// played is such a process while it runs.
type played struct {
	t       *testing.T
	name    string
	cmd     *exec.Cmd
	lines   chan line
	told    []string
	seen    []line // notices that came up
	gone    []line // and went
	samples []sample
	last    float64 // s of the practice, when a rep was told last
	end     *outcome
}

// begin starts the process of a plan. cmd is one of soundtest's programs.
func begin(t *testing.T, name string, cmd *exec.Cmd, p plan) *played {
	t.Helper()
	text, err := json.Marshal(p)
	require.NoError(t, err)
	cmd.Env = append(cmd.Env, "DRILLBAY_PLAN="+string(text))
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	g := &played{t: t, name: name, cmd: cmd, lines: make(chan line, 256)}
	t.Cleanup(func() { _ = cmd.Process.Kill(); _ = cmd.Wait() })
	go g.read(out)
	return g
}

func (g *played) read(out io.Reader) {
	defer close(g.lines)
	for in := bufio.NewScanner(out); in.Scan(); {
		var l line
		if json.Unmarshal(in.Bytes(), &l) == nil {
			g.lines <- l
		}
	}
}

// until reads what the process says until ok, or its end.
func (g *played) until(ok func(line) bool) bool {
	g.t.Helper()
	for l := range g.lines {
		switch {
		case l.Told != "":
			g.told, g.last = append(g.told, l.Told), l.At
		case l.Notice != "":
			g.seen = append(g.seen, l)
		case l.Gone != "":
			g.gone = append(g.gone, l)
		case l.Sample != nil:
			g.samples = append(g.samples, *l.Sample)
		case l.End != nil:
			g.end = l.End
		}
		if ok(l) {
			return true
		}
	}
	return false
}

// finish waits for the end of the session.
func (g *played) finish() outcome {
	g.t.Helper()
	g.until(func(line) bool { return false })
	if g.end == nil {
		g.t.Fatalf("%s: the session ended without a word", g.name)
	}
	return *g.end
}

// noticed reports whether a notice was up.
func (g *played) noticed(key string) bool {
	for _, n := range g.seen {
		if n.Notice == key {
			return true
		}
	}
	return false
}

// kept checks that the ledger is sound and has every rep that was told, once.
func kept(t *testing.T, path string, told []string) {
	t.Helper()
	l, err := ledger.Open(path)
	require.NoError(t, err)
	defer l.Close()
	ctx := context.Background()
	require.NoError(t, l.Check(ctx))
	reps, err := l.Reps(ctx, ledger.Which{})
	require.NoError(t, err)
	count := map[string]int{}
	for _, r := range reps {
		count[r.ID]++
	}
	for _, id := range told {
		require.Equal(t, 1, count[id], "a rep that was told")
	}
}

func (o outcome) String() string {
	return fmt.Sprintf("%d drawn, %d seen, %d stored, %d of %d pictures late %s", o.Drawn, o.Seen, o.Stored, o.Late, o.Frames, o.Error)
}
