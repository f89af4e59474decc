package live

import (
	"errors"
	"math"

	"drillbay/app"
	"drillbay/camera/lens"
	"drillbay/drills"
)

// dragged is how well a line's end is put in place by hand, px of a picture
// 1280 wide.
const dragged = 1.5

// Meet is the target point of lines, for app.LensWork.
func Meet(lines []app.Segment, width, height int) (app.Target, error) {
	list, end := make([]lens.Stretch, len(lines)), 0.0
	for i, l := range lines {
		sd := l.Sd
		if sd <= 0 {
			sd = dragged * float64(width) / usualWidth
		}
		end = max(end, sd)
		list[i] = lens.Stretch{From: lens.Point{U: l.A.X, V: l.A.Y}, To: lens.Point{U: l.B.X, V: l.B.Y}}
	}
	p, across, _, err := lens.MeetingPoint(list, end)
	if err != nil {
		return app.Target{}, err
	}
	if p.U < -float64(width) || p.U > 2*float64(width) || p.V < -float64(height) || p.V > 2*float64(height) {
		return app.Target{}, errors.New("the lines meet far outside the picture: drag them onto lines that point at the target")
	}
	return app.Target{Point: app.Point{X: p.U, Y: p.V}, Sd: across}, nil
}

// handsSeenTo is how well the hands at address are seen, m (1 sigma).
const handsSeenTo = 0.015

// Offset is how the camera must be moved, for app.LensWork.
func Offset(b app.Bay, hands app.Point, hand drills.Hand) (app.Offset, error) {
	k, err := Known(b, hand, 0, b.Width, b.Height)
	if err != nil {
		return app.Offset{}, err
	}
	v := k.Setting.View
	p := v.Mirror(lens.Point{U: hands.X, V: hands.Y})
	o, err := v.OffsetOf(p, k.Setting.Distance)
	if err != nil {
		return app.Offset{}, err
	}
	// The hands were seen to about handsSeenTo; the target point is as far
	// off as its pixels are at the hands, and the distance scales all.
	reach := k.Setting.Distance * k.Target / v.Focal
	away := math.Hypot(o.Up, o.Near)
	sd := math.Hypot(math.Hypot(handsSeenTo, reach), away*math.Hypot(k.Distance/k.Setting.Distance, k.Focal))
	out := app.Offset{UpCm: 100 * o.Up, NearCm: 100 * o.Near, Cm: 100 * sd, Angle: math.Hypot(o.UpAngle, o.NearAngle), SigmaNow: math.NaN(), SigmaThere: math.NaN()}
	if k.Scale {
		px := 2.0 * float64(b.Width) / usualWidth
		out.SigmaNow, out.SigmaThere = v.Foresee(p, k.Setting.Distance, k.Setting.Reach, lens.Sigmas{
			Hands: px, Head: px, Forward: math.Hypot(k.Forward, k.Distance), Reach: k.Reach, Target: k.Target, Roll: k.Roll, Focal: k.Focal})
	}
	return out, nil
}

// travel is how far the hands come toward the lens between address and the
// level moment, m: 0.2 to 0.45.
const travel = 0.32

// Under is how far the hands are from under a place of the body at the level
// moment, cm, + toward the player, for app.LensWork. The place is taken to be
// as far from the lens as the hands.
func Under(b app.Bay, hands, body app.Point, hand drills.Hand) (float64, error) {
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

// Face is how a camera before the player's chest must be moved, for app.LensWork.
func Face(b app.Bay, s app.Seen, hand drills.Hand) (app.FaceOffset, error) {
	b.FaceOn = true
	k, err := Known(b, hand, 0, b.Width, b.Height)
	if err != nil {
		return app.FaceOffset{}, err
	}
	v := k.Setting.View
	at := func(p app.Spot) lens.Point { return v.Mirror(lens.Point{U: p.X, V: p.Y}) }
	c := lens.Chest{Hands: at(s.Hands), Hips: at(s.Hips), Distance: k.Setting.Distance, Reach: k.Setting.Reach}
	if s.Ball.Sure() {
		ball := at(s.Ball)
		c.Ball = &ball
	}
	o := v.FaceOffsetOf(c)
	return app.FaceOffset{AlongCm: 100 * o.Along, Cm: 100 * o.AlongSigma, BackCm: 100 * o.Back}, nil
}
