package laptop

import (
	"context"
	"errors"
	"fmt"
	"math"
	"time"

	"drillbay/camera"
	"drillbay/camera/frame"
	"drillbay/camera/virtual"
	"drillbay/cues/ear"
	"drillbay/cues/sound"
	"drillbay/drills/hearing"
	"drillbay/drills/ledger"
	"drillbay/drills/measure"
	"drillbay/drills/stage"
)

// How long the check looks at each device.
const (
	watchCamera = 3 * time.Second
	awaitCamera = 4 * time.Second
	awaitSound  = 2 * time.Second
	hearUntil   = 9 * time.Second // from the start: the check takes ten
)

// LookAtCamera opens a camera, "" for the best one, and watches its pictures.
func LookAtCamera(name string, clock camera.Clock) (CameraFigures, error) {
	src, err := camera.Open(camera.Config{Name: name, Pool: frame.NewPool(256 << 20), Clock: clock})
	if err != nil {
		return CameraFigures{}, err
	}
	defer src.Close()
	return WatchCamera(src, clock, watchCamera, awaitCamera), nil
}

// TimeAnalysis times the eye's looks at drawn pictures of the camera's size.
func TimeAnalysis(now func() time.Duration, m camera.Mode) (Timing, error) {
	s := virtual.Default()
	if m.Width > 0 {
		s.Width, s.Height = m.Width&^1, m.Height&^1
	}
	s.Reps = []virtual.RepSpec{{}}
	bay, err := virtual.New(s)
	if err != nil {
		return Timing{}, err
	}
	known, err := stage.KnownOf(s)
	if err != nil {
		return Timing{}, err
	}
	var pics []*frame.Picture
	for i := range 12 {
		p := frame.New(s.Width, s.Height, frame.Sub420)
		if err := bay.Draw(i*bay.Frames()/12, p); err != nil {
			return Timing{}, err
		}
		pics = append(pics, p)
	}
	watch, err := measure.NewWatch(known.Setting, nil)
	if err != nil {
		return Timing{}, err
	}
	defer watch.Close()
	n := 0
	return Time(60, now, func() {
		p := pics[n%len(pics)]
		p.At = seconds(float64(n) / measure.LooksPerSecond)
		watch.See(p)
		n++
	}), nil
}

// LookAtSound opens the output and waits until it plays or says why not; with
// a microphone it measures the delay, by a sound that can be heard, and keeps
// it in the ledger.
func LookAtSound(clock camera.Clock, path string) SoundFigures {
	f := SoundFigures{Delay: math.NaN(), Off: math.NaN()}
	now := func() float64 { return clock.Now().Seconds() }
	out := sound.Open(now)
	defer out.Close()
	await(clock, func() bool { return out.State() != sound.Opening })
	if out.State() != sound.Playing {
		if f.Err = out.Err(); f.Err == nil {
			f.Err = fmt.Errorf("it does not open")
		}
		return f
	}
	var err error
	if f.Output, f.Input, err = hearing.Pair(); err != nil || f.Output == "" {
		f.Output = "the system's output"
	}
	if f.Input != "" {
		timeSound(clock, out, &f, path)
	}
	return f
}

// timeSound measures how late sound is heard, and how far off it still is
// once that is known.
func timeSound(clock camera.Clock, out *sound.Output, f *SoundFigures, path string) {
	e := ear.Open(ear.Options{Now: func() float64 { return clock.Now().Seconds() }})
	defer e.Close()
	await(clock, func() bool { return e.State() != ear.Opening })
	ctx, cancel := context.WithTimeout(context.Background(), hearUntil-clock.Now())
	defer cancel()
	late, err := e.Delay(ctx, out.Probe)
	if err != nil {
		f.NoDelay = err
		return
	}
	out.Late(late)
	f.Delay = out.Delay()
	if f.Off, err = e.Delay(ctx, out.Probe); err != nil {
		f.Off = math.NaN()
	}
	l, err := ledger.Open(path)
	if err == nil {
		err = errors.Join(hearing.KeepDelay(ctx, l, f.Output, f.Input, late), l.Close())
	}
	f.NoDelay = err
}

// await waits a little for something.
func await(clock camera.Clock, so func() bool) {
	for end := clock.Now() + awaitSound; !so() && clock.Now() < end; {
		t, cancel := clock.After(20 * time.Millisecond)
		<-t
		cancel()
	}
}
