package laptop

import (
	"errors"
	"fmt"
	"time"

	"drillbay/camera"
)

// CameraFigures holds what was measured of a camera while it was watched.
type CameraFigures struct {
	Name   string
	Mode   camera.Mode
	Rate   float64 // frames a second that came
	Frames int
	Missed int // that the camera or the system lost
	Err    error
}

// WatchCamera reads a source for a time by its clock, counted from its first
// frame, and gives up when none has come by patience.
func WatchCamera(src *camera.Source, clock camera.Clock, watch, patience time.Duration) CameraFigures {
	var c CameraFigures
	var first, last time.Duration
	var firstIndex, lastIndex int64
	out, cancel := clock.After(patience)
	defer cancel()
	for c.Frames == 0 || last-first < watch {
		select {
		case p, ok := <-src.Frames():
			if !ok {
				c.Err = errors.New("the camera was closed")
				return c
			}
			if c.Frames == 0 {
				first, firstIndex = p.At, p.Index
			}
			last, lastIndex = p.At, p.Index
			c.Frames++
			p.Release()
		case <-out:
			if c.Frames == 0 {
				c.Err = src.State().Err
				if c.Err == nil {
					c.Err = camera.ErrNoCamera
				}
				return c
			}
			watch = 0
		}
	}
	state := src.State()
	c.Name, c.Mode = state.Camera, state.Mode
	c.Missed = int(lastIndex-firstIndex) + 1 - c.Frames
	if last > first {
		c.Rate = float64(c.Frames-1) / (last - first).Seconds()
	}
	return c
}

// Rates, frames a second: what the readings are made for, and the least that
// still tells a swing from a placed club (common practice).
const (
	goodRate = 29
	fairRate = 24
)

// JudgeCamera grades a camera's figures.
func JudgeCamera(c CameraFigures) Finding {
	f := Finding{Check: "camera"}
	if c.Err != nil {
		f.Grade, f.Remedy = Poor, c.Err.Error()
		if errors.Is(c.Err, camera.ErrNoCamera) {
			f.Grade = NotRun
		}
		return f
	}
	f.Figure = fmt.Sprintf("%.1f frames a second, %d × %d", c.Rate, c.Mode.Width, c.Mode.Height)
	if c.Missed > 0 {
		f.Figure += fmt.Sprintf(", %d lost", c.Missed)
	}
	switch lost := float64(c.Missed) / float64(max(1, c.Frames+c.Missed)); {
	case c.Rate < fairRate:
		f.Grade = Poor
		f.Remedy = "switch on more light: most cameras slow down in the dark; close other programs that use the camera"
	case lost > 0.02:
		f.Grade = Poor
		f.Remedy = "frames are lost: plug the camera into the laptop itself, not into a hub, and close other programs"
	case c.Mode.Height < 480:
		f.Grade = Poor
		f.Remedy = "the picture is too small to read a shaft: use a camera of 1280 × 720"
	case c.Rate < goodRate:
		f.Grade = Fair
		f.Remedy = "more light makes most cameras faster; manner and rhythm are less certain at this rate"
	case c.Mode.Height < 720:
		f.Grade = Fair
		f.Remedy = "readings are less certain with a picture below 1280 × 720"
	case lost > 0:
		f.Grade = Fair
		f.Remedy = "a few frames are lost: close other programs"
	default:
		f.Grade = Good
	}
	return f
}
