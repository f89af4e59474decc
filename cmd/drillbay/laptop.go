package main

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"drillbay/app/laptop"
	"drillbay/camera"
	"drillbay/cues/card"
	"drillbay/drills/book"
	"drillbay/drills/ledger"
	"drillbay/drills/measure"
)

type laptopCommand struct {
	Camera string `help:"Name of the camera; default: the best one." placeholder:"NAME"`
	Second string `help:"Name of a second camera, which shows the other view; default: the one that the bay had." placeholder:"NAME"`
	Ledger string `help:"File of the ledger; default: the user's own." placeholder:"FILE"`
}

// Run says whether this laptop can do the job. It is a device's error when
// something is poor.
func (d *laptopCommand) Run(c console) error {
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
	heard := make(chan laptop.SoundFigures, 1)
	go func() { heard <- laptop.LookAtSound(clock, path) }()
	cam, err := laptop.LookAtCamera(d.Camera, clock)
	figures := <-heard // alone with the camera: what follows is timed
	if err != nil {
		return err
	}
	both, err := d.both(cam, path, clock)
	if err != nil {
		return err
	}
	analysis, err := laptop.TimeAnalysis(clock.Now, cam.Mode)
	if err != nil {
		return err
	}
	window, err := findWindow()
	if !canShow() || err != nil {
		window = ""
	}
	verdict := laptop.TimeVerdict(c.err, window, clock.Now, cam.Mode)
	if both != nil {
		both = append(both, laptop.TimeBothVerdict(c.err, window, cam.Mode))
	}
	folder := filepath.Dir(path)
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return fmt.Errorf("the folder %s cannot be made: %w", folder, err)
	}
	findings := []laptop.Finding{
		laptop.JudgeCamera(cam),
		laptop.JudgeAnalysis(analysis, measure.LooksPerSecond),
		verdict,
		laptop.JudgeSound(figures),
		laptop.JudgeDisk(laptop.WatchDisk(folder, clock.Now)),
	}
	findings = slices.Insert(findings, 1, both...)
	setup := book.SetupAt(path)
	screen := laptop.ScreenFigures{Diagonal: setup.ScreenInch, Viewing: setup.ViewMetres, There: canShow()}
	screen.Width, screen.Height = laptop.ScreenSize()
	findings = append(findings, laptop.JudgeScreen(screen))
	if err := laptop.Print(c.out, findings); err != nil {
		return err
	}
	if laptop.Worst(findings) == laptop.Poor {
		return deviceError{fmt.Errorf("something here is not good enough: see the arrows")}
	}
	return nil
}

// both says whether two cameras keep their rate together, nothing where there is one.
func (d *laptopCommand) both(first laptop.CameraFigures, path string, clock camera.Clock) ([]laptop.Finding, error) {
	second := cmp.Or(d.Second, book.SecondAt(path, first.Name))
	if second == "" {
		return nil, nil
	}
	figures, err := laptop.LookAtBoth(first, second, clock)
	if err != nil {
		return nil, err
	}
	return []laptop.Finding{laptop.JudgeBoth(figures)}, nil
}
