package live

import (
	"context"
	"fmt"
	"math"
	"slices"

	"drillbay/app"
	"drillbay/camera"
	"drillbay/drills/book"
	"drillbay/drills/hearing"
	"drillbay/drills/stage"
)

// cameras lists the connected cameras with their modes, for the settings. The camera that
// is in use was asked for its modes when it was opened.
func (l *Live) cameras() []app.CameraLine {
	var out []app.CameraLine
	for _, d := range camera.Devices() {
		if d.Name == stage.DrawnOther {
			continue // it is only the other view
		}
		line := app.CameraLine{Name: d.Name}
		modes := d.Modes
		if e := l.state.Load(); e != nil && e.Camera == d.Name {
			line.InUse = true
			if len(modes) == 0 {
				modes = l.source.Modes()
			}
		}
		for _, m := range modes {
			line.Modes = append(line.Modes, book.CameraMode(m))
		}
		out = append(out, line)
	}
	return out
}

// chosen takes the camera and the mode of the settings. A camera that is not
// there is no hindrance: the best one is taken then.
func chosen(ctx context.Context, cfg *Config) {
	s, err := book.SetupOf(ctx, cfg.Ledger)
	if err != nil || s.Camera == "" {
		return // what cannot be read is told once the window is there
	}
	if s.Camera == stage.Drawn {
		cfg.Virtual = true
		return
	}
	if !slices.ContainsFunc(camera.Devices(), func(d camera.Device) bool { return d.Name == s.Camera }) {
		return
	}
	cfg.Camera = s.Camera
	if s.Mode != (book.CameraMode{}) {
		m := camera.Mode(s.Mode)
		cfg.Mode = &m
	}
}

// correct takes the delay that was measured for the devices in use into
// account: the beat is then shown when it is heard.
func (l *Live) correct(ctx context.Context) {
	output, microphone, err := hearing.Pair()
	if err != nil || output == "" {
		return // told by the output itself
	}
	if d, err := hearing.KeptDelay(ctx, l.cfg.Ledger, output, microphone); err == nil && !math.IsNaN(d) {
		l.sound.Late(d)
	}
}

// cameraLine says in one line which camera is in use.
func cameraLine(e camera.Event, rate float64) string {
	switch e.State {
	case camera.Live:
		if rate > 0 {
			return fmt.Sprintf("%s, %d × %d, %.0f a second", e.Camera, e.Mode.Width, e.Mode.Height, rate)
		}
		return fmt.Sprintf("%s, %s", e.Camera, e.Mode)
	case camera.NoSignal:
		return e.Camera + ": no picture"
	}
	return ""
}
