package main

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"

	"drillbay/camera/clip"
	"drillbay/drills"
	"drillbay/drills/measure"
)

type besideCommand struct {
	Clip   string  `arg:"" help:"A clip of a session, down the line say."`
	Other  string  `arg:"" help:"Another clip of the same session, face-on say, by another camera."`
	Out    string  `help:"The clip to write, an AVI." default:"beside.avi" placeholder:"FILE"`
	Hand   string  `help:"The player's: right or left." enum:"right,left" default:"right"`
	Offset float64 `help:"How much later the same moment is in the other clip, s; default: found by how the player moves." default:"NaN" placeholder:"SECONDS"`
}

// Run lays two clips side by side, picture by picture of the same moment.
func (b *besideCommand) Run(c console) error {
	if math.IsInf(b.Offset, 0) {
		return fmt.Errorf("%w: --offset must be a number of seconds", errUse)
	}
	if _, err := os.Stat(b.Out); err == nil {
		return fmt.Errorf("%s is there already: give another name with --out, or put it elsewhere first", b.Out)
	}
	open := func(path string) (clip.Reader, error) { return clip.Open(path, 0, nil) }
	pulses := func(path string) ([]measure.Pulse, error) {
		src, err := open(path)
		if err != nil {
			return nil, err
		}
		defer src.Close()
		return measure.Pulses(src, b.Hand == "left")
	}
	if math.IsNaN(b.Offset) {
		x, err := pulses(b.Clip)
		if err != nil {
			return err
		}
		y, err := pulses(b.Other)
		if err != nil {
			return err
		}
		offset, alike, err := measure.Offset(x, y)
		if errors.Is(err, measure.ErrOffset) {
			return fmt.Errorf("%w (or give --offset, in seconds)", err)
		}
		if err != nil {
			return err
		}
		b.Offset = offset
		fmt.Fprintf(c.out, "The same moment is %.2f s later in %s (alike %.2f of 1).\n", offset, filepath.Base(b.Other), alike)
	}
	first, err := open(b.Clip)
	if err != nil {
		return err
	}
	defer first.Close()
	second, err := open(b.Other)
	if err != nil {
		return err
	}
	defer second.Close()
	n, err := measure.Beside(first, second, b.Offset, b.Out)
	if err != nil {
		return err
	}
	fmt.Fprintf(c.out, "%s: %s, side by side.\n", b.Out, drills.Count(n, "picture"))
	return nil
}
