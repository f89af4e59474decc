package live

import (
	"context"
	"slices"

	"drillbay/app"
	"drillbay/camera"
	"drillbay/cmd/drillbay/book"
)

// cameras are those that are there, with their modes, for the settings. A
// camera that is in use cannot be asked for its modes: they are those listed
// before it was opened, or else the one in use.
func (l *Live) cameras() []app.CameraLine {
	var out []app.CameraLine
	for _, d := range camera.Devices() {
		line := app.CameraLine{Name: d.Name}
		modes := d.Modes
		if i := named(l.cfg.Listed, d.Name); len(modes) == 0 && i >= 0 {
			modes = l.cfg.Listed[i].Modes
		}
		if e := l.state.Load(); len(modes) == 0 && e != nil && e.Camera == d.Name && e.Mode.Width > 0 {
			modes = []camera.Mode{e.Mode}
		}
		for _, m := range modes {
			line.Modes = append(line.Modes, app.CameraMode(m))
		}
		out = append(out, line)
	}
	return out
}

func named(list []camera.Device, name string) int {
	return slices.IndexFunc(list, func(d camera.Device) bool { return d.Name == name })
}

// chosen takes the camera and the mode of the settings. A camera that is not
// there is no hindrance: the best one is taken then.
func chosen(ctx context.Context, cfg *Config) {
	s, err := book.SetupOf(ctx, cfg.Ledger)
	if err != nil || s.Camera == "" {
		return // what cannot be read is told once the window is there
	}
	if s.Camera == Drawn {
		cfg.Virtual = true
		return
	}
	cfg.Listed = camera.Devices()
	if named(cfg.Listed, s.Camera) < 0 {
		return
	}
	cfg.Camera = s.Camera
	if s.Mode != (app.CameraMode{}) {
		m := camera.Mode(s.Mode)
		cfg.Mode = &m
	}
}
