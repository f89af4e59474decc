package app

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills"
	"drillbay/drills/runner"
)

// What is drawn of a drill follows from its data, a coach's own too.
func TestADrillIsDrawnAsItsDataSay(t *testing.T) {
	reached := func(d runner.Drill, p pose) (at float64, ok bool) {
		for _, s := range steps(d) {
			if s.pose == p {
				return s.beat, true
			}
		}
		return 0, false
	}
	for _, c := range []struct {
		name                 string
		d                    runner.Drill
		level, top, finishes bool
		firstLevel           float64 // beats
	}{
		{"a catch from address", runner.Drill{Kind: runner.Catch}, true, false, false, 3},
		{"a catch with a moving start", runner.Drill{Kind: runner.Catch, MovingStart: true}, true, false, false, 4},
		{"catch, turn and strike", runner.Drill{Kind: runner.CatchTurnStrike, MovingStart: true, Ball: true}, true, false, true, 3},
		{"a swing", runner.Drill{Kind: runner.Ordinary}, true, true, true, 3},
	} {
		at, level := reached(c.d, atLevel)
		require.Equal(t, c.level, level, c.name)
		require.Equal(t, c.firstLevel, at, c.name)
		_, top := reached(c.d, atTop)
		require.Equal(t, c.top, top, c.name)
		_, finishes := reached(c.d, finished)
		require.Equal(t, c.finishes, finishes, c.name)
		// Level is on a beat, and the shaft is level there, as at no other time before.
		p := poseAt(c.d, at+1e-9, false)
		require.InDelta(t, 0, p.club.z, 1e-6, c.name)
		require.Less(t, poseAt(c.d, at-0.3, false).club.z, -0.05, c.name)
		held := poseAt(c.d, at+1.9, false).club.x < -0.999
		require.Equal(t, c.d.Kind != runner.Ordinary, held, "%s: a catch is held for two beats", c.name)
	}
	swing := runner.Drill{Kind: runner.Ordinary}
	back, _ := reached(swing, atTop)
	down, _ := reached(swing, struck)
	start := steps(swing)[1].beat
	require.Equal(t, 3.0, (back-start)/(down-back), "three parts back, one down")
	require.Greater(t, poseAt(runner.Drill{Kind: runner.Catch, MovingStart: true}, 2.9, false).hands.x, 0.1, "a moving start goes forward first")
}

// The trail hand waits for the club where the lead arm swings it alone.
func TestTheTrailHandWaitsForTheClub(t *testing.T) {
	alone, both := runner.Drill{LeadArm: true}, runner.Drill{}
	apart := func(d runner.Drill, p pose) float64 {
		f := p.body(d)
		return f.trailHand.plus(f.leadHand.times(-1)).size()
	}
	require.Greater(t, apart(alone, addressed), 0.3)
	require.Less(t, apart(alone, atLevel), 0.2)
	require.Less(t, apart(both, addressed), 0.1)
}

// The drawing keeps to the beat that is heard, and a left-hander's is the mirror
// image.
func TestTheDrawingKeepsToTheBeat(t *testing.T) {
	a := martaPractises()
	d := runner.Drill{Kind: runner.Catch}
	head := func(hand drills.Hand, view int) (x, y, middle float64) {
		c := a.canvas()
		r := Rect{0, 0, 400, 300}
		a.shownDrill(c, r, d, hand)
		var discs []Item
		for _, i := range c.Items {
			if i.Shape == Disc && i.Role == Ink && (i.X < 164) == (view == fromBehind) {
				discs = append(discs, i)
			}
		}
		h := discs[len(discs)-2] // then the hands
		return h.X, h.Y, [...]float64{161 / 2.0, 400 - 231/2.0}[view]
	}
	a.snap.Beat = runner.Beat{On: true, Rate: 120, Zero: 100}
	a.App.now = 100 + 4/2.0 // four beats: held at level
	_, held, _ := head(drills.Right, fromFront)
	a.App.now = 100
	x, y, mid := head(drills.Right, fromFront)
	require.Greater(t, y, held+20, "at address the head is on the ground")
	mx, my, _ := head(drills.Left, fromFront)
	require.InDelta(t, y, my, 1e-9)
	require.InDelta(t, mid-x, mx-mid, 1)
	a.App.now = 100 + math.Pi*100
	head(drills.Right, fromBehind)
}

// Nothing of a drill leaves its half of the drawing, at any moment and in any shape of it.
func TestADrillStaysInItsDrawing(t *testing.T) {
	a := martaPractises()
	for _, d := range []runner.Drill{{Kind: runner.Catch}, {Kind: runner.CatchTurnStrike, Ball: true}, {Kind: runner.Ordinary}} {
		for _, r := range []Rect{{0, 0, 400, 300}, {0, 0, 400, 160}, {0, 0, 300, 300}} {
			for _, hand := range []drills.Hand{drills.Right, drills.Left} {
				for beat := 0.0; beat < 16; beat += 0.2 {
					a.snap.Beat = runner.Beat{On: true, Rate: 60, Zero: 0}
					a.App.now = beat
					c := a.canvas()
					first := len(c.Items)
					a.shownDrill(c, r, d, hand)
					var pane Item
					for _, i := range c.Items[first:] {
						switch {
						case i.Shape == Fill && i.Role == Plate:
							pane = i
						case i.Shape == Disc:
							require.GreaterOrEqual(t, i.X-i.R, pane.X, "%v, beat %.1f", d.Kind, beat)
							require.LessOrEqual(t, i.X+i.R, pane.X+pane.W, "%v, beat %.1f", d.Kind, beat)
						}
					}
					require.NotZero(t, pane.W)
				}
			}
		}
	}
}

// How a drill goes is told in twenty words at most: the drawing says the rest.
func TestADrillIsToldInFewWords(t *testing.T) {
	for _, silent := range []bool{false, true} {
		for _, kind := range []runner.Kind{runner.Catch, runner.CatchTurnStrike, runner.Ordinary} {
			for _, moving := range []bool{false, true} {
				a := martaPractises()
				a.setup.Voice = !silent
				a.snap.Drill = runner.Drill{ID: "x", Kind: kind, MovingStart: moving, Reps: 10}
				a.snap.Lookback.On = false
				p := a.top().(*practiceScreen)
				var words []string
				for _, l := range p.firstLines(a.App, &a.snap) {
					words = append(words, strings.Fields(l)...)
				}
				require.LessOrEqual(t, len(words), 20, "%v", words)
				require.Greater(t, len(words), 9)
			}
		}
	}
}
