package bay

import (
	"errors"
	"math"

	"drillbay/camera/lens"
	"drillbay/drills"
	"drillbay/drills/watch"
)

// dragged is the error (1 sigma) of a line's end that was dragged by hand, px of a picture
// 1280 wide.
const dragged = 1.5

// drawnWidth is the width of a picture that such sizes are told for, px.
const drawnWidth = 1280

// Meet is the target point of lines.
func Meet(lines []Segment, width, height int) (Target, error) {
	list, end := make([]lens.Stretch, len(lines)), 0.0
	for i, l := range lines {
		sd := l.Sd
		if sd <= 0 {
			sd = dragged * float64(width) / drawnWidth
		}
		end = max(end, sd)
		list[i] = lens.Stretch{From: lens.Point{U: l.A.X, V: l.A.Y}, To: lens.Point{U: l.B.X, V: l.B.Y}}
	}
	p, across, _, err := lens.MeetingPoint(list, end)
	if err != nil {
		return Target{}, err
	}
	if p.U < -float64(width) || p.U > 2*float64(width) || p.V < -float64(height) || p.V > 2*float64(height) {
		return Target{}, errors.New("the lines meet far outside the picture: drag them onto lines that point at the target")
	}
	return Target{Pixel: drills.Pixel{X: p.U, Y: p.V}, Sd: across}, nil
}

// handsSeenTo is the error of the hands seen at address, m (1 sigma).
const handsSeenTo = 0.015

// OffsetOf tells how the camera must be moved so that the hands sit on the target point.
func OffsetOf(b Bay, hands drills.Pixel, hand drills.Hand) (Offset, error) {
	k, err := Known(b, hand, 0, b.Width, b.Height)
	if err != nil {
		return Offset{}, err
	}
	v := k.Setting.View
	p := v.Mirror(lens.Point{U: hands.X, V: hands.Y})
	o, err := v.OffsetOf(p, k.Setting.Distance)
	if err != nil {
		return Offset{}, err
	}
	// The hands were seen to about handsSeenTo; the target point is as far
	// off as its pixels are at the hands, and the distance scales all.
	reach := k.Setting.Distance * k.Target / v.Focal
	away := math.Hypot(o.Up, o.Near)
	sd := math.Hypot(math.Hypot(handsSeenTo, reach), away*math.Hypot(k.Distance/k.Setting.Distance, k.Focal))
	out := Offset{UpCm: 100 * o.Up, NearCm: 100 * o.Near, Cm: 100 * sd, Angle: math.Hypot(o.UpAngle, o.NearAngle), SigmaNow: math.NaN(), SigmaThere: math.NaN()}
	if k.Scale {
		px := 2.0 * float64(b.Width) / drawnWidth
		out.SigmaNow, out.SigmaThere = v.Foresee(p, k.Setting.Distance, k.Setting.Reach, lens.Sigmas{
			Hands: px, Head: px, Forward: math.Hypot(k.Forward, k.Distance), Reach: k.Reach, Target: k.Target, Roll: k.Roll, Focal: k.Focal})
	}
	return out, nil
}

// travel is the distance by which the hands come toward the lens between address and the
// level moment, m: 0.2 to 0.45.
const travel = 0.32

// Under returns how far the hands are from the vertical under a place of the body at the
// level moment, cm, + toward the player. The place is taken to be as far from the lens as
// the hands.
func Under(b Bay, hands, body drills.Pixel, hand drills.Hand) (float64, error) {
	k, err := Known(b, hand, 0, b.Width, b.Height)
	if err != nil {
		return 0, err
	}
	if !k.Scale {
		return 0, errors.New("neither the distance nor the field of view is known")
	}
	v := k.Setting.View
	h, p := v.Mirror(lens.Point{U: hands.X, V: hands.Y}), v.Mirror(lens.Point{U: body.X, V: body.Y})
	roll := b.Roll * math.Pi / 180
	if b.Side(hand) == drills.Left {
		roll = -roll // the mirrored picture's
	}
	// Across, with the roll taken out (lens.NewView): the picture of a camera
	// turned clockwise leans the other way.
	across := (p.U-h.U)*math.Cos(roll) - (p.V-h.V)*math.Sin(roll)
	return 100 * across * (k.Setting.Distance - travel) / v.Focal, nil
}

// FaceOffsetOf tells how a camera before the player's chest must be moved.
func FaceOffsetOf(b Bay, s watch.Seen, hand drills.Hand) (FaceOffset, error) {
	b.FaceOn = true
	k, err := Known(b, hand, 0, b.Width, b.Height)
	if err != nil {
		return FaceOffset{}, err
	}
	v := k.Setting.View
	at := func(p watch.Spot) lens.Point { return v.Mirror(lens.Point{U: p.X, V: p.Y}) }
	c := lens.Chest{Hands: at(s.Hands), Hips: at(s.Hips), Distance: k.Setting.Distance, Reach: k.Setting.Reach}
	if s.Ball.Sure() {
		ball := at(s.Ball)
		c.Ball = &ball
	}
	o := v.FaceOffsetOf(c)
	return FaceOffset{AlongCm: 100 * o.Along, Cm: 100 * o.AlongSigma, BackCm: 100 * o.Back}, nil
}
