package virtual

import "math"

// lens is a camera with radial and tangential distortion in the order k1, k2,
// p1, p2, k3 (Brown's model). The drawn bay itself uses none. Pixel
// coordinates are continuous: pixel i covers i … i+1.
type lens struct {
	fx, fy, cx, cy     float64
	k1, k2, p1, p2, k3 float64
}

// pixel projects a point of the camera's frame (x right, y down, z forward).
func (l lens) pixel(c vec) (u, v float64) {
	x, y := c.x/c.z, c.y/c.z
	r2 := x*x + y*y
	k := 1 + r2*(l.k1+r2*(l.k2+r2*l.k3))
	dx := x*k + 2*l.p1*x*y + l.p2*(r2+2*x*x)
	dy := y*k + l.p1*(r2+2*y*y) + 2*l.p2*x*y
	return l.fx*dx + l.cx, l.fy*dy + l.cy
}

// view is a placed lens.
type view struct {
	lens
	at                   vec // in the bay frame
	right, down, forward vec // camera axes in the bay frame
}

// newView places the camera of a setup. A left-hander's bay is mirrored in Y,
// which mirrors the camera's axes and the sense of yaw and roll with it.
func newView(s *Setup, address vec) view {
	c := s.Camera
	f := float64(s.Width) / 2 / math.Tan(rad(c.HFOVDeg)/2)
	v := view{
		lens: lens{fx: f, fy: f, cx: float64(s.Width) / 2, cy: float64(s.Height) / 2},
		at:   vec{address.x - c.Distance, c.Lateral, c.Height},
	}
	yaw := c.YawDeg
	if c.FaceOn {
		v.at, yaw = vec{address.x + c.Lateral, address.y - c.Distance, c.Height}, 90+c.YawDeg
	}
	sy, cy := math.Sincos(rad(yaw))
	sp, cp := math.Sincos(rad(c.PitchDeg))
	sr, cr := math.Sincos(rad(c.RollDeg))
	up := vec{0, 0, 1}
	level := vec{cy, sy, 0}
	right := vec{sy, -cy, 0}
	v.forward = level.mul(cp).add(up.mul(sp))
	down := level.mul(sp).sub(up.mul(cp))
	v.right = right.mul(cr).add(down.mul(sr))
	v.down = down.mul(cr).sub(right.mul(sr))
	if s.Player.Hand == LeftHand {
		mirror := func(a vec) vec { return vec{a.x, -a.y, a.z} }
		if c.FaceOn { // the target is on the other side of the picture
			mirror = func(a vec) vec { return vec{-a.x, a.y, a.z} }
		}
		v.right, v.down, v.forward = mirror(v.right), mirror(v.down), mirror(v.forward)
	}
	return v
}

// camera takes a point of the bay frame to the camera's.
func (v *view) camera(p vec) vec {
	return v.turn(p.sub(v.at))
}

// turn takes a direction of the bay frame to the camera's.
func (v *view) turn(d vec) vec {
	return vec{d.dot(v.right), d.dot(v.down), d.dot(v.forward)}
}

// ray is the direction of a pixel in the bay frame, one metre deep.
func (v *view) ray(u, w float64) vec {
	x, y := (u-v.cx)/v.fx, (w-v.cy)/v.fy
	return v.right.mul(x).add(v.down.mul(y)).add(v.forward)
}

// see projects a point of the bay frame; depth is along the optical axis.
func (v *view) see(p vec) (u, w, depth float64) {
	c := v.camera(p)
	u, w = v.pixel(c)
	return u, w, c.z
}
