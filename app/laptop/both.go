package laptop

import (
	"fmt"
	"io"
	"sync"

	"drillbay/camera"
	"drillbay/camera/frame"
)

// BothFigures is what two cameras did while both were watched, and the first by
// itself before.
type BothFigures struct{ Alone, First, Second CameraFigures }

// LookAtBoth opens the camera that was watched alone and a second one, and watches
// both at once.
func LookAtBoth(alone CameraFigures, second string, clock camera.Clock) (BothFigures, error) {
	b := BothFigures{Alone: alone}
	if alone.Name == second {
		return b, fmt.Errorf("camera %q cannot show both views: name another with --second; drillbay devices lists them", second)
	}
	names := [2]string{alone.Name, second}
	var sources [2]*camera.Source
	for i, name := range names {
		src, err := camera.Open(camera.Config{Name: name, Pool: frame.NewPool(256 << 20), Clock: clock})
		if err != nil {
			return b, err
		}
		defer src.Close()
		sources[i] = src
	}
	var watched sync.WaitGroup
	for i, to := range [2]*CameraFigures{&b.First, &b.Second} {
		watched.Add(1)
		go func() {
			defer watched.Done()
			*to = WatchCamera(sources[i], clock, watchCamera, awaitCamera)
		}()
	}
	watched.Wait()
	b.Second.Name = second
	return b, nil
}

// keepsRate is the share of its rate alone that a camera must keep beside another.
const keepsRate = 0.95

// JudgeBoth grades whether two cameras keep their rate together.
func JudgeBoth(b BothFigures) Finding {
	f := Finding{Check: "both cameras", Grade: Good}
	if b.Alone.Err != nil {
		f.Grade, f.Remedy = NotRun, "the first camera shows no picture"
		return f
	}
	for _, c := range []struct {
		CameraFigures
		which string
	}{{b.First, "first"}, {b.Second, "second"}} {
		if c.Err != nil {
			f.Grade, f.Remedy = Poor, fmt.Sprintf("the %s camera shows no picture while both are open (%v): %s", c.which, c.Err, apartRemedy)
			return f
		}
	}
	f.Figure = fmt.Sprintf("%.1f and %.1f frames a second together", b.First.Rate, b.Second.Rate)
	if b.First.Missed+b.Second.Missed > 0 {
		f.Figure += fmt.Sprintf(", %d and %d lost", b.First.Missed, b.Second.Missed)
	}
	first, second := JudgeCamera(b.First), JudgeCamera(b.Second)
	switch {
	case b.First.Rate < keepsRate*b.Alone.Rate:
		f.Grade = Poor
		f.Remedy = fmt.Sprintf("the first camera gives %.1f frames a second alone: %s", b.Alone.Rate, apartRemedy)
	case first.Grade >= second.Grade && first.Grade > Good:
		f.Grade, f.Remedy = first.Grade, "the first camera: "+first.Remedy
	case second.Grade > Good:
		f.Grade, f.Remedy = second.Grade, "the second camera: "+second.Remedy
	}
	return f
}

const apartRemedy = "plug the two into ports of the laptop itself, one on each side, or practise with one view"

// TimeBothVerdict times a verdict in a window that practises before both cameras of
// the virtual bay, with pictures of the first camera's size and rate.
func TimeBothVerdict(told io.Writer, window string, m camera.Mode) Finding {
	if window == "" {
		return Finding{Check: "verdict, both", Grade: NotRun, Remedy: "it is timed in the window, which needs a display"}
	}
	fmt.Fprintln(told, "It practises again, before two cameras.")
	after, err := VerdictIn(window, m, "--both")
	f := JudgeVerdict(after, "in the window", err)
	f.Check = "verdict, both"
	if f.Grade == Poor && err == nil {
		f.Remedy = "with both cameras the verdict comes too late for a catch that is held: plug in the power, close other programs, or practise with one view"
	}
	return f
}
