package live

import (
	"context"
	"strings"

	"github.com/pion/mediadevices/pkg/driver"

	"drillbay/app"
	"drillbay/camera"
	"drillbay/cmd/drillbay/book"
)

// cameras are those that are there, with their modes, for the settings.
func (l *Live) cameras() []app.CameraLine {
	var out []app.CameraLine
	for _, d := range camera.Devices() {
		line := app.CameraLine{Name: d.Name}
		modes := d.Modes
		if len(modes) == 0 {
			modes = modesInUse(d.Name)
		}
		for _, m := range modes {
			line.Modes = append(line.Modes, app.CameraMode(m))
		}
		out = append(out, line)
	}
	return out
}

// registered are the drivers of the cameras of a name.
func registered(name string) []driver.Driver {
	return driver.GetManager().Query(driver.FilterAnd(driver.FilterVideoRecorder(), driver.FilterDeviceType(driver.Camera), func(d driver.Driver) bool {
		of := d.Info().Name
		if of == "" {
			of = d.Info().Label
		}
		of, _, _ = strings.Cut(of, ";")
		return strings.TrimSpace(of) == name
	}))
}

// modesInUse are the modes of the camera that is in use: it cannot be opened once
// more, but says them while it is open.
func modesInUse(name string) []camera.Mode {
	var out []camera.Mode
	for _, d := range registered(name) {
		if d.Status() == driver.StateClosed {
			continue
		}
		for _, p := range d.Properties() {
			out = append(out, camera.Mode{Width: p.Width, Height: p.Height, Rate: float64(p.FrameRate), Format: string(p.FrameFormat)})
		}
	}
	return camera.Rank(out)
}

// chosen takes the camera and the mode of the settings. A camera that is not
// there is no hindrance: the best one is taken then.
func chosen(ctx context.Context, cfg *Config) {
	s, err := book.SetupOf(ctx, cfg.Ledger)
	if err != nil || s.Camera == "" {
		return // what cannot be read is told once the window is there
	}
	switch {
	case s.Camera == Drawn:
		cfg.Virtual = true
	case len(registered(s.Camera)) > 0:
		cfg.Camera = s.Camera
		if s.Mode != (app.CameraMode{}) {
			m := camera.Mode(s.Mode)
			cfg.Mode = &m
		}
	}
}
