package measure

import (
	"fmt"
	"math"

	"drillbay/camera/lens"
)

// Ground is a length that is known on the ground along the target line, with
// what makes a bay's measures of it: the height of the lens gives the field of
// view, the place of the ball the distance. What the bay is told otherwise is
// kept.
type Ground struct {
	lens.Ground
	Height float64     // m, of the lens above the ground; 0 unknown
	Ball   *lens.Point // px as seen, where the ball lies; nil unknown
}

// scale is what is known of field of view and distance, 0 for nothing; the
// sigmas are 0 where they are the usual ones.
type scale struct {
	field, distance           float64 // degrees, m
	focalSigma, distanceSigma float64 // share, m
}

// onGround is the scale with what a known length on the ground adds.
func (b Bay) onGround(target lens.Point, targetSigma, roll float64) (scale, error) {
	out := scale{field: b.Field, distance: b.Distance}
	if b.Ground == nil {
		return out, nil
	}
	g := *b.Ground
	c := lens.Camera{Width: b.Width, Height: b.Height, Target: target, Roll: b.Roll} // as seen: no mirror
	s := lens.GroundSigmas{End: groundEnd * float64(b.Width), Target: targetSigma, Roll: roll, Length: tapeSigma * g.Length, Height: lensHeight}
	if b.Field == 0 && g.Height != 0 {
		focal, sigma, err := g.Focal(c, g.Height, s)
		if err != nil {
			return out, err
		}
		out.field = 2 * math.Atan(float64(b.Width)/2/focal) * 180 / math.Pi
		out.focalSigma = sigma / focal
		if !(out.field >= leastField && out.field <= mostField) {
			return out, fmt.Errorf("the known length and the height of the lens make a field of view of %.3g°; %g° to %g° are taken", out.field, leastField, mostField)
		}
	}
	if b.Distance == 0 && g.Ball != nil {
		c.Focal, s.Focal = lens.FocalFromField(b.Width, or(out.field, usualField)), out.focalSigma
		if out.field == 0 {
			s.Focal = anyField
		}
		ball, sigma, err := g.Distance(c, *g.Ball, s)
		if err != nil {
			return out, err
		}
		out.distance, out.distanceSigma = ball+handsByBall, math.Hypot(sigma, handsSpread)
		if !(out.distance >= leastDistance && out.distance <= mostDistance) {
			return out, fmt.Errorf("the known length and the place of the ball make a distance of %.3g m; 2 to 4 m are right, %g to %g are taken", out.distance, leastDistance, mostDistance)
		}
	}
	return out, nil
}
