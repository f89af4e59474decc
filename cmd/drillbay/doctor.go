package main

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"drillbay/app/doctor"
	"drillbay/camera"
	"drillbay/cues/card"
	"drillbay/drills/book"
	"drillbay/drills/ledger"
	"drillbay/drills/measure"
)

type doctorCommand struct {
	Camera string `help:"Name of the camera; default: the best one." placeholder:"NAME"`
	Second string `help:"Name of a second camera, which shows the other view; default: the one that the bay had." placeholder:"NAME"`
	Ledger string `help:"File of the ledger; default: the user's own." placeholder:"FILE"`
}

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
	go func() { heard <- doctor.LookAtSound(clock, path) }()
	cam, err := doctor.LookAtCamera(d.Camera, clock)
	figures := <-heard // alone with the camera: what follows is timed
	if err != nil {
		return err
	}
	both, err := d.both(cam, path, clock)
	if err != nil {
		return err
	}
	analysis, err := doctor.TimeAnalysis(clock.Now, cam.Mode)
	if err != nil {
		return err
	}
	window, err := findWindow()
	if !canShow() || err != nil {
		window = ""
	}
	verdict := doctor.TimeVerdict(c.err, window, clock.Now, cam.Mode)
	if both != nil {
		both = append(both, doctor.TimeBothVerdict(c.err, window, cam.Mode))
	}
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
	findings = slices.Insert(findings, 1, both...)
	setup := book.SetupAt(path)
	screen := doctor.ScreenFigures{Diagonal: setup.ScreenInch, Viewing: setup.ViewMetres, There: canShow()}
	screen.Width, screen.Height = doctor.ScreenSize()
	findings = append(findings, doctor.JudgeScreen(screen))
	if err := doctor.Print(c.out, findings); err != nil {
		return err
	}
	if doctor.Worst(findings) == doctor.Poor {
		return deviceError{fmt.Errorf("something here is not good enough: see the arrows")}
	}
	return nil
}

// both says whether two cameras keep their rate together, nothing where there is one.
func (d *doctorCommand) both(first doctor.CameraFigures, path string, clock camera.Clock) ([]doctor.Finding, error) {
	second := cmp.Or(d.Second, book.SecondAt(path, first.Name))
	if second == "" {
		return nil, nil
	}
	figures, err := doctor.LookAtBoth(first, second, clock)
	if err != nil {
		return nil, err
	}
	return []doctor.Finding{doctor.JudgeBoth(figures)}, nil
}
