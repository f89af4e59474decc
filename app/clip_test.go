package app

import (
	"context"
	"errors"
	"math"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
	"drillbay/drills"
	"drillbay/drills/clips"
)

func TestAClipIsOpenedAndItsRepsAreSeen(t *testing.T) {
	a := newTrial()
	require.True(t, a.key(LookBack).Says("Clips cannot be opened here."))
	var jobs []clips.Job
	hold := make(chan struct{})
	a.d.Clips = func() []string { return []string{"/home/ada/Videos/one.mp4", "/home/ada/Videos/two.mov"} }
	a.d.Measure = func(ctx context.Context, j clips.Job, read func(float64)) ([]clips.Rep, error) {
		jobs = append(jobs, j)
		read(0.5)
		select {
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-hold:
		}
		if j.Path == "/home/ada/Videos/one.mp4" {
			return nil, errors.New("one.mp4 is no clip")
		}
		return []clips.Rep{{Done: done("a", 3), Picture: frame.New(64, 36, frame.Sub420), Loop: &film{}}, {Done: done("b", 20)}}, nil
	}
	require.Equal(t, "clip", a.key(LookBack).Screen)
	wait := func(text string) {
		for !a.step().Says(text) {
			runtime.Gosched()
		}
	}
	wait("/home/ada/Videos/two.mov")
	require.True(t, a.key(Go).Says("Choose a clip, or type where it is."))
	a.key(Next)
	a.key(Right) // a left-hander
	a.key(Down)
	a.key(Down)
	for range 3 {
		a.key(Next)
	}
	require.True(t, a.step().Says("as it says"))
	a.key(Right)
	require.True(t, a.key(Right).Says("120"), "slow motion that does not say so")
	a.key(Go)
	wait("50 %")
	require.True(t, a.step().Says("Reading two.mov"))
	a.key(Back)
	wait("Stopped.")
	close(hold)
	a.key(Go)
	wait("inside, 20°")
	require.Equal(t, clips.Job{Path: "/home/ada/Videos/two.mov", Hand: drills.Left, Distance: 3.2, Field: 70, Rate: 120}, jobs[1])
	v := a.step()
	require.True(t, v.Says("in line, 3° to the inside"))
	at := func() float64 { return a.step().Pictures[0].Seconds() }
	require.True(t, v.Says("quarter"), "it is a loop")
	require.Less(t, at(), 0.2)
	a.now += 2
	require.InDelta(t, 0.5, at(), 0.11, "at quarter speed")
	a.key(Hold)
	still := at()
	a.now += 3
	require.Equal(t, still, at())
	a.key(Right)
	require.InDelta(t, still+0.1, at(), 1e-9)
	require.True(t, a.key(Full).Says("1"))
	require.False(t, a.key(Down).Says("quarter"), "the second has no loop")
	a.key(Back)
	a.key(Up)
	a.key(Go)
	wait("One.mp4 is no clip.")
	require.Equal(t, "start", a.key(Back).Screen)
}

// film is a loop of ten pictures, a tenth of a second each.
type film struct{}

func (film) Times() (out []float64) {
	for i := range 11 {
		out = append(out, float64(i)/10)
	}
	return out
}

func (film) Frame(at float64) *frame.Picture {
	p := frame.New(64, 36, frame.Sub420)
	p.At = time.Duration(math.Floor(at*10+1e-6)) * time.Second / 10
	return p
}

func (film) Release() {}
