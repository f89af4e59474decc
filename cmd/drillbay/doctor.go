package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"time"

	"drillbay/app/doctor"
	"drillbay/camera"
	"drillbay/camera/frame"
	"drillbay/camera/virtual"
	"drillbay/cues/card"
	"drillbay/cues/ear"
	"drillbay/cues/sound"
	"drillbay/drills/book"
	"drillbay/drills/hearing"
	"drillbay/drills/ledger"
	"drillbay/drills/measure"
)

type doctorCommand struct {
	Camera string `help:"Name of the camera; default: the best one." placeholder:"NAME"`
	Ledger string `help:"File of the ledger; default: the user's own." placeholder:"FILE"`
}

// How long the doctor looks at each device.
const (
	watchCamera = 3 * time.Second
	awaitCamera = 4 * time.Second
	awaitSound  = 2 * time.Second
	hearUntil   = 9 * time.Second // from the start: the doctor takes ten
)

// Run says whether this laptop can do the job. It is a device's error when
// something is poor.
func (d *doctorCommand) Run(c console) error {
	_, restore := card.Hush()
	defer restore()
	path := d.Ledger
	if path == "" {
		var err error
		if path, err = ledger.DefaultPath(); err != nil {
			return err
		}
	}
	clock := camera.NewSystemClock()
	heard := make(chan doctor.SoundFigures, 1)
	go func() { heard <- lookAtSound(clock, path) }()
	cam, err := d.camera(clock)
	figures := <-heard // alone with the camera: what follows is timed
	if err != nil {
		return err
	}
	analysis, err := timeAnalysis(clock.Now, cam.Mode)
	if err != nil {
		return err
	}
	verdict := timeVerdict(c.err, clock.Now, cam.Mode)
	folder := filepath.Dir(path)
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return fmt.Errorf("the folder %s cannot be made: %w", folder, err)
	}
	findings := []doctor.Finding{
		doctor.JudgeCamera(cam),
		doctor.JudgeAnalysis(analysis, measure.LooksPerSecond),
		verdict,
		doctor.JudgeSound(figures),
		doctor.JudgeDisk(doctor.WatchDisk(folder, clock.Now)),
	}
	setup := setupOf(path)
	screen := doctor.ScreenFigures{Diagonal: setup.ScreenInch, Viewing: setup.ViewMetres, There: canShow()}
	screen.Width, screen.Height = screenSize()
	findings = append(findings, doctor.JudgeScreen(screen))
	if err := doctor.Print(c.out, findings); err != nil {
		return err
	}
	if doctor.Worst(findings) == doctor.Poor {
		return deviceError{fmt.Errorf("something here is not good enough: see the arrows")}
	}
	return nil
}

func (d *doctorCommand) camera(clock camera.Clock) (doctor.CameraFigures, error) {
	src, err := camera.Open(camera.Config{Name: d.Camera, Pool: frame.NewPool(256 << 20), Clock: clock})
	if err != nil {
		return doctor.CameraFigures{}, err
	}
	defer src.Close()
	return doctor.WatchCamera(src, clock, watchCamera, awaitCamera), nil
}

// timeAnalysis times the eye's looks at drawn pictures of the camera's size.
func timeAnalysis(now func() time.Duration, m camera.Mode) (doctor.Timing, error) {
	s := virtual.Default()
	if m.Width > 0 {
		s.Width, s.Height = m.Width&^1, m.Height&^1
	}
	s.Reps = []virtual.RepSpec{{}}
	bay, err := virtual.New(s)
	if err != nil {
		return doctor.Timing{}, err
	}
	known, err := knownOf(s)
	if err != nil {
		return doctor.Timing{}, err
	}
	var pics []*frame.Picture
	for i := range 12 {
		p := frame.New(s.Width, s.Height, frame.Sub420)
		if err := bay.Draw(i*bay.Frames()/12, p); err != nil {
			return doctor.Timing{}, err
		}
		pics = append(pics, p)
	}
	watch, err := measure.NewWatch(known.Setting, nil)
	if err != nil {
		return doctor.Timing{}, err
	}
	defer watch.Close()
	n := 0
	return doctor.Time(60, now, func() {
		p := pics[n%len(pics)]
		p.At = seconds(float64(n) / measure.LooksPerSecond)
		watch.See(p)
		n++
	}), nil
}

// lookAtSound opens the output and waits until it plays or says why not; with
// a microphone it measures the delay, by a sound that can be heard, and keeps
// it in the ledger.
func lookAtSound(clock camera.Clock, path string) doctor.SoundFigures {
	f := doctor.SoundFigures{Delay: math.NaN(), Off: math.NaN()}
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
func timeSound(clock camera.Clock, out *sound.Output, f *doctor.SoundFigures, path string) {
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

// setupOf are the settings in a ledger, the usual ones when there is none.
func setupOf(path string) book.Setup {
	if _, err := os.Stat(path); err != nil {
		return book.Defaults()
	}
	l, err := ledger.Open(path)
	if err != nil {
		return book.Defaults()
	}
	defer l.Close()
	ctx := context.Background()
	b, err := book.Read(ctx, l, "")
	if err != nil {
		return book.Defaults()
	}
	s, err := b.Setup(ctx)
	if err != nil {
		return book.Defaults()
	}
	return s
}
