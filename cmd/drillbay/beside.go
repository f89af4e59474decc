package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"

	"drillbay/camera/clip"
	"drillbay/cues/ear"
	"drillbay/drills"
	"drillbay/drills/measure"
)

type besideCommand struct {
	Clip   string  `arg:"" help:"A clip of a session, down the line say."`
	Other  string  `arg:"" help:"Another clip of the same session, face-on say, by another camera."`
	Out    string  `help:"The clip to write, an AVI." default:"beside.avi" placeholder:"FILE"`
	Hand   string  `help:"The player's: right or left." enum:"right,left" default:"right"`
	Offset float64 `help:"How much later the same moment is in the other clip, s; default: found by the strikes that both have in their sound, else by how the player moves." default:"NaN" placeholder:"SECONDS"`
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
	if math.IsNaN(b.Offset) {
		offset, how, err := b.find(context.Background())
		if err != nil {
			return err
		}
		b.Offset = offset
		fmt.Fprintf(c.out, "The same moment is %.2f s later in %s, %s.\n", offset, filepath.Base(b.Other), how)
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

// find is how much later the same moment is in the other clip, s, and by what it was
// found: by the sound of two strikes or more, else by the motion, with which one
// strike must agree.
func (b *besideCommand) find(ctx context.Context) (offset float64, how string, err error) {
	var heard [2][]float64
	var silent error
	for i, path := range []string{b.Clip, b.Other} {
		if heard[i], err = strikes(ctx, path); errors.Is(err, clip.ErrNoSound) {
			silent = err
		} else if err != nil {
			return 0, "", err
		}
	}
	sound, none := measure.ByStrikes(heard[0], heard[1])
	if none == nil && sound.Sure {
		return sound.Offset, fmt.Sprintf("by the sound of %s (± %.0f ms)", drills.Count(sound.Both, "strike"), 1000*sound.Sigma), nil
	}
	why := "no strike is heard in both"
	switch {
	case silent != nil:
		why = "there is no sound to go by"
	case none == nil && sound.Both == 1:
		why = "one strike alone is heard in both"
	case none == nil:
		why = "the strikes that are heard fit more than one offset"
	}
	motion, alike, err := b.byMotion()
	switch {
	case err == nil && none == nil && sound.Both == 1 && math.Abs(motion-sound.Offset) < agreeing:
		return sound.Offset, fmt.Sprintf("by the sound of one strike (± %.0f ms), and within %.2f s by how the player moves", 1000*sound.Sigma, math.Abs(motion-sound.Offset)), nil
	case err == nil:
		return motion, fmt.Sprintf("by how the player moves (alike %.2f of 1): %s", alike, why), nil
	case errors.Is(err, measure.ErrOffset):
		return 0, "", fmt.Errorf("%w; %s (or give --offset, in seconds)", err, why)
	}
	return 0, "", err
}

// agreeing is how far sound and motion may be apart to be of the same moment, s.
const agreeing = 0.12

// byMotion finds it by how the player moves in both.
func (b *besideCommand) byMotion() (offset, alike float64, err error) {
	var moves [2][]measure.Pulse
	for i, path := range []string{b.Clip, b.Other} {
		src, err := clip.Open(path, 0, nil)
		if err != nil {
			return 0, 0, err
		}
		moves[i], err = measure.Pulses(src, b.Hand == "left")
		src.Close()
		if err != nil {
			return 0, 0, err
		}
	}
	return measure.Offset(moves[0], moves[1])
}

// strikes are when sudden, short sounds are heard in a clip, s. Of slow motion the
// sound does not fit the pictures: it says none then.
func strikes(ctx context.Context, path string) (at []float64, err error) {
	src, err := clip.Open(path, 0, nil)
	if err != nil {
		return nil, err
	}
	info := src.Info()
	src.Close()
	d, n := ear.NewDetector(), 0
	begins, err := clip.Sound(ctx, path, ear.Rate, func(s []float32) {
		n += len(s)
		d.Hear(s, func(o ear.Onset) { at = append(at, float64(o.At)/ear.Rate) })
	})
	if err != nil {
		return nil, err
	}
	if long := float64(info.Frames) / info.FPS; math.Abs(float64(n)/ear.Rate-long) > max(1, long/4) {
		return nil, fmt.Errorf("%s: %w that lasts as long as its pictures", info.Name, clip.ErrNoSound)
	}
	for i := range at {
		at[i] += begins
	}
	return at, nil
}
