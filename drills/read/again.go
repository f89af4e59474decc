package read

import (
	"math"

	"drillbay/camera/eye"
	"drillbay/camera/lens"
	"drillbay/camera/sight"
	"drillbay/drills"
	"drillbay/drills/measure"
	"drillbay/drills/rep"
	"drillbay/drills/runner"
)

// again reads a rep's body once more with joints that somebody put elsewhere than
// they were seen; nil where the bay has no scale.
func again(r measure.Result, k rep.Known, seen runner.Overlay) func(home, here runner.Joints) drills.Body {
	if !k.Scale {
		return nil
	}
	body, front, faceOn := r.Body, r.Front, r.FaceOn
	return func(home, here runner.Joints) drills.Body {
		before, now := moved(seen.Home, home, k.Setting.View), moved(seen.Here, here, k.Setting.View)
		if faceOn {
			f := front.Again(before, now)
			out, _ := rep.OfFront(&f, k)
			return out.Body
		}
		var out drills.Rep
		rep.Stand(&out, body.Again(before, now), k)
		return out.Body
	}
}

// moved are the joints that are not where they were seen, px of the analysed
// picture.
func moved(seen, put runner.Joints, v lens.View) (j sight.Joints) {
	j.At = map[eye.Point]lens.Point{}
	at := func(was, is runner.Dot) (lens.Point, bool) {
		return v.Mirror(lens.Point{U: is.X, V: is.Y}), !math.IsNaN(is.X) && (was.X != is.X || was.Y != is.Y)
	}
	for _, x := range []struct {
		p       eye.Point
		was, is runner.Dot
	}{
		{eye.Crown, seen.Crown, put.Crown}, {eye.Neck, seen.Neck, put.Neck}, {eye.LeftShoulder, seen.LeadShoulder, put.LeadShoulder},
		{eye.RightElbow, seen.TrailElbow, put.TrailElbow}, {eye.RightHip, seen.TrailHip, put.TrailHip},
	} {
		if p, ok := at(x.was, x.is); ok {
			j.At[x.p] = p
		}
	}
	if p, ok := at(seen.Hips, put.Hips); ok {
		j.Hips = &p
	}
	return j
}
