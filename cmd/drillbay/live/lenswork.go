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
	list := make([]lens.Stretch, len(lines))
	for i, l := range lines {
		list[i] = lens.Stretch{From: lens.Point{U: l.A.X, V: l.A.Y}, To: lens.Point{U: l.B.X, V: l.B.Y}}
	}
	end := dragged * float64(width) / usualWidth
	p, across, _, err := lens.MeetingPoint(list, end)
	if err != nil {
		return app.Target{}, err
	}
	if p.U < -float64(width) || p.U > 2*float64(width) || p.V < -float64(height) || p.V > 2*float64(height) {
		return app.Target{}, errors.New("the lines meet far outside the picture: drag them onto lines that point at the target")
	}
	return app.Target{Point: app.Point{X: p.U, Y: p.V}, Sd: across}, nil
}

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
	out := app.Offset{UpCm: 100 * o.Up, NearCm: 100 * o.Near, SigmaNow: math.NaN(), SigmaThere: math.NaN()}
	if k.Scale {
		px := 2.0 * float64(b.Width) / usualWidth
		out.SigmaNow, out.SigmaThere = v.Foresee(p, k.Setting.Distance, k.Setting.Reach, lens.Sigmas{
			Hands: px, Head: px, Forward: math.Hypot(k.Forward, k.Distance), Reach: k.Reach, Target: k.Target, Roll: k.Roll, Focal: k.Focal})
	}
	return out, nil
}
