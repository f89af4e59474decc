package main

import (
	"errors"
	"fmt"
	"math"

	"drillbay/camera/clip"
	"drillbay/camera/frame"
	"drillbay/camera/lens"
	"drillbay/drills"
	"drillbay/drills/measure"
	"drillbay/drills/picture"
	"drillbay/drills/table"
)

type measureCommand struct {
	Clip        string  `arg:"" help:"An AVI, a folder of pictures, or anything that ffmpeg reads."`
	Club        float64 `help:"Length of the club, m: 0.94 is 94 cm." default:"0.94"`
	Grip        float64 `help:"From the butt to the middle of the lead hand, m (0.06 lead hand alone, 0.09 both hands)." default:"0.09"`
	Distance    float64 `help:"From the lens to the hands at address, along the target line, m." placeholder:"METRES"`
	Fov         float64 `help:"Horizontal field of view of the camera, degrees." placeholder:"DEGREES"`
	TargetPoint string  `help:"Where lines along the target line meet, X,Y in pixels as seen; default: the picture's centre." placeholder:"X,Y"`
	Ground      string  `help:"A length that is known on the ground along the target line, a stick or the edge of a mat: metres, and its ends in pixels as seen. With --ball it gives the distance, to some 3 %, with --lens-height the field of view, to some 5 %; both may be given. The longer it is seen, the surer." placeholder:"LENGTH,X1,Y1,X2,Y2"`
	Ball        string  `help:"Where the ball lies on the ground, X,Y in pixels as seen; for --ground." placeholder:"X,Y"`
	LensHeight  float64 `help:"Height of the lens above the ground, m, measured to 2 cm; for --ground." placeholder:"METRES"`
	Roll        float64 `help:"Roll of the camera, degrees, clockwise as it sees." default:"0"`
	Hand        string  `help:"The player's: right or left." enum:"right,left" default:"right"`
	Band        float64 `help:"Shaft lines that count as in line, degrees each way." default:"8"`
	View        string  `help:"From where the camera looks: line, down the target line from behind the hands, or face-on, at the player's chest across it. Face-on no shaft line is read." enum:"line,face-on" default:"line"`
	Drill       string  `help:"catch or ordinary; default: decided rep by rep." enum:"any,catch,ordinary" default:"any"`
	JSON        bool    `help:"Print one JSON object."`
	Pictures    string  `help:"Write pictures of each rep into this folder." placeholder:"DIR"`
	Points      string  `help:"Write what the eye sees in each frame into this file, a JSON line each." placeholder:"FILE"`
	FPS         float64 `help:"Frames a second that were taken: for slow motion that does not say so, and for a folder of pictures (30)." placeholder:"FRAMES"`
}

// Run measures a clip.
func (m *measureCommand) Run(c console) error {
	src, err := clip.Open(m.Clip, m.FPS, nil)
	if err != nil {
		return err
	}
	defer src.Close()
	info := src.Info()
	b, err := m.bay(info)
	if err != nil {
		return err
	}
	k, err := b.Known()
	if errors.Is(err, lens.ErrGround) && m.TargetPoint == "" {
		err = fmt.Errorf("%w (the target point was taken to be the picture's centre: if it is elsewhere, give --target-point)", err)
	}
	if err != nil {
		return err
	}
	drill := measure.Drill(m.Drill)
	if m.Drill == "any" {
		drill = measure.Any
	}
	var keep *picture.Gallery
	each := func(measure.Result, []*frame.Picture) {}
	if m.Pictures != "" {
		if keep, err = picture.NewGallery(m.Pictures, k); err != nil {
			return err
		}
		each = keep.Add
	}
	var frames measure.Frames = clip.Watched(src, c.err)
	var points *measure.Points
	if m.Points != "" {
		if points, err = measure.WritePoints(frames, m.Points, b.Hand, float64(info.Shrunk)); err != nil {
			return err
		}
		defer points.Drop()
		frames = points
	}
	reps, read, bad, err := measure.Reps(frames, k, drill, each)
	if err == nil && points != nil {
		err = points.Keep()
	}
	if err != nil {
		return err
	}
	if keep != nil {
		if err := keep.Write(); err != nil {
			return err
		}
	}
	if bad > 0 {
		fmt.Fprintf(c.err, "drillbay: %d damaged frames of %s were left out.\n", bad, info.Name)
	}
	if info.Cut {
		fmt.Fprintf(c.err, "drillbay: %s is cut off: only what is there was read.\n", info.Name)
	}
	if info.Guessed {
		fmt.Fprintf(c.err, "drillbay: %s does not say how fast it was taken: times are as it plays. Was it slow motion? Then give the frames a second that were taken, --fps 240 say.\n", info.Name)
	}
	info.Frames = read
	info.Width, info.Height = info.Width*info.Shrunk, info.Height*info.Shrunk
	if m.JSON {
		return table.WriteJSON(c.out, info, b.Hand, reps)
	}
	return table.Write(c.out, info, reps)
}

func (m *measureCommand) bay(info clip.Info) (measure.Bay, error) {
	for name, v := range map[string]float64{"club": m.Club, "grip": m.Grip, "distance": m.Distance, "fov": m.Fov, "lens-height": m.LensHeight, "roll": m.Roll, "band": m.Band} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return measure.Bay{}, fmt.Errorf("%w: --%s must be a number", errUse, name)
		}
	}
	hand, err := drills.ParseHand(m.Hand)
	if err != nil {
		return measure.Bay{}, fmt.Errorf("%w: %v", errUse, err)
	}
	b := measure.Bay{Width: info.Width, Height: info.Height, Field: m.Fov, Distance: m.Distance, Roll: m.Roll,
		Club: m.Club, Grip: m.Grip, Hand: hand, Band: m.Band, FaceOn: m.View == "face-on"}
	if m.Club <= 0 {
		b.Club = -1 // refused with the lengths that are possible
	}
	if m.TargetPoint != "" {
		p, err := parsePoint("target-point", m.TargetPoint)
		if err != nil {
			return b, err
		}
		p = shrunk(p, info)
		b.Target = &p
	}
	b.Ground, err = m.ground(info)
	return b, err
}
