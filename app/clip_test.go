package app

import (
	"context"
	"errors"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
	"drillbay/drills"
)

func TestAClipIsOpenedAndItsRepsAreSeen(t *testing.T) {
	a := newTrial()
	require.True(t, a.key(LookBack).Says("Clips cannot be opened here."))
	var jobs []ClipJob
	hold := make(chan struct{})
	a.d.Clips = func() []string { return []string{"/home/ada/Videos/one.mp4", "/home/ada/Videos/two.mov"} }
	a.d.Measure = func(ctx context.Context, j ClipJob, read func(float64)) ([]ClipRep, error) {
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
		return []ClipRep{{Done: done("a", 3), Picture: frame.New(64, 36, frame.Sub420)}, {Done: done("b", 20)}}, nil
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
	a.key(Go)
	wait("50 %")
	require.True(t, a.step().Says("Reading two.mov"))
	a.key(Back)
	wait("Stopped.")
	close(hold)
	a.key(Go)
	wait("inside, 20°, swung")
	require.Equal(t, ClipJob{Path: "/home/ada/Videos/two.mov", Hand: drills.Left, Distance: 3.2, Field: 70}, jobs[1])
	require.True(t, a.step().Says("in line, 3°, swung"))
	a.key(Down)
	a.key(Back)
	a.key(Up)
	a.key(Go)
	wait("One.mp4 is no clip.")
	require.Equal(t, "start", a.key(Back).Screen)
}
