package measure

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/eye"
	"drillbay/camera/frame"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
)

// moving are shots of a moving club at thirty a second.
func moving(n int) (out []shot) {
	for i := range n {
		p := frame.New(16, 16, frame.Sub420)
		p.At = at(float64(i) / 30)
		out = append(out, shot{now: p})
	}
	return out
}

// Twelve looks a second of the live pass are enough of the whole player: where
// it looked, nothing is looked at again, and where it did not for some time,
// the reader does.
func TestWhatTheLivePassSawIsNotLookedAtAgain(t *testing.T) {
	shots := moving(13)
	var seen Recall
	for _, i := range []int{0, 2, 5, 7, 10, 12} {
		seen.keep(shots[i].now.Seconds(), eye.Sight{Whole: eye.Window{Side: float64(100 + i)}}, true)
	}
	l := newLooking(shots, &seen, false, false)
	assert.Empty(t, l.whole)
	assert.Equal(t, [][2]int{{0, 0}, {0, 2}, {2, 2}, {2, 5}, {2, 5}, {5, 5}, {5, 7}, {7, 7}, {7, 10}, {7, 10}, {10, 10}, {10, 12}, {12, 12}}, l.between)
	assert.Equal(t, 107.0, l.seen[7].Whole.Side)

	assert.Len(t, newLooking(shots, &seen, false, true).whole, len(shots), "where nobody waits")
	assert.Equal(t, []int{0, 3, 6, 9, 12}, newLooking(shots, nil, false, false).whole, "without a live pass")

	seen.forget()
	seen.keep(shots[3].now.Seconds(), eye.Sight{}, true)
	seen.keep(shots[6].now.Seconds(), eye.Sight{}, false) // nobody
	assert.Equal(t, []int{0, 6, 9, 12}, newLooking(shots, &seen, false, false).whole, "where the live pass was late")
}

// A rep is read the same each time, whichever eye takes which picture, and with
// what the live pass saw as without it.
func TestAReadingIsTheSameEachTime(t *testing.T) {
	s := virtual.Default()
	s.Width, s.Height, s.Reps = 640, 360, []virtual.RepSpec{{ShaftLineDeg: 5, Still: 1.5, Hold: 1.5}}
	b, err := virtual.New(s)
	require.NoError(t, err)
	k, err := bayOf(s, b).Known()
	require.NoError(t, err)
	var seen Recall
	w, err := NewWatch(k.Setting, &seen)
	require.NoError(t, err)
	defer w.Close()
	var pace Pace
	var pics []*frame.Picture
	var span sight.Span
	for i := 0; i < b.Frames() && span.Catch == 0; i++ {
		p := frame.New(s.Width, s.Height, frame.Sub420)
		require.NoError(t, b.Draw(i, p))
		p.At = at(float64(i) / s.FPS)
		pics = append(pics, p)
		if pace.Due(p.Seconds()) {
			if g, _ := w.See(p); g.Caught {
				span = g.Span
			}
		}
	}
	read := func(r *Recall) Result {
		got, ok := (&Reader{Known: k, Drill: Catch, Seen: r}).Analyse(pics, span)
		require.True(t, ok && got.Rep.ShaftLine.OK())
		return got
	}
	with, again, without := read(&seen).Rep, read(&seen).Rep, read(nil).Rep
	assert.Equal(t, with.ShaftLine, again.ShaftLine)
	assert.Equal(t, with.Moments.Start, again.Moments.Start)
	want := wantOf(s, b)
	t.Log("with   ", line(want, with))
	t.Log("without", line(want, without))
	for _, r := range []float64{with.ShaftLine.Value, without.ShaftLine.Value} {
		assert.InDelta(t, want.line, r, 2, "shaft line, degrees")
	}
	assert.InDelta(t, without.Moments.Catch, with.Moments.Catch, 0.02, "catch, s")
}

// What comes after a swing, the way back to address say, is none of it.
func TestASwingIsLookedAtUpToWhereItWasTold(t *testing.T) {
	var pics []*frame.Picture
	for i := range 150 {
		p := frame.New(16, 16, frame.Sub420)
		p.At = time.Duration(i) * time.Second / 30
		pics = append(pics, p)
	}
	shots := choose(pics, sight.Span{From: 0.2, Start: 1, Catch: 2.6, Whole: true})
	require.NotEmpty(t, shots)
	assert.InDelta(t, 2.6, shots[len(shots)-1].now.Seconds(), 1.0/30)
	shots = choose(pics, sight.Span{From: 0.2, Start: 1, Catch: 2.6})
	assert.InDelta(t, 2.6+heldFor, shots[len(shots)-1].now.Seconds(), 0.1, "of a hold some is looked at")
}
