package virtual

import "math"

// keyPoses are the poses that all reps of a setup share.
type keyPoses struct {
	length  float64 // hands to head
	address pose
	forward pose // turn-round of the moving start
	impact  pose
	top     pose
	through pose // shaft level after impact
	finish  pose
	hanging pose // club carried beside the leg
	hung    pose // club hung by the grip, toe away from the lens
	teeing  pose
	both    float64 // 1: the trail hand is on the club all the time
}

// newKeyPoses derives the poses from the club, the player's stature and the
// hands that hold the club.
func newKeyPoses(s *Setup, arms Arms) keyPoses {
	l := s.Club.Length - s.Club.Grip
	sl, cl := math.Sincos(rad(s.Club.LieDeg))
	k := keyPoses{length: l}
	// The sole rests at the ball: the shaft leans to the player by the lie
	// and a little toward the target.
	lean := vec{-0.06, -cl, -sl}.unit()
	head := vec{-0.03, 0.02, 0.02}
	k.address = pose{hands: head.sub(lean.mul(l)), shaft: lean}
	h := k.address.hands
	k.forward = pose{hands: h.add(vec{0.30, 0.03, 0.05}), shaft: vec{0.722, -0.304, -0.60}.unit(), turn: rad(-18), reach: 0.6}
	k.impact = k.address
	k.impact.hands = k.impact.hands.add(vec{0.05, 0, 0.004})
	k.impact.turn = rad(-22)
	k.top = pose{hands: vec{h.x - 0.32, h.y + 0.46, h.z + 0.72 + 0.3*(s.Player.Stature-1.78)},
		shaft: vec{0.60, -0.12, 0.62}.unit(), turn: rad(88), reach: 1}
	k.through = pose{hands: vec{h.x + 0.36, h.y + 0.06, h.z + 0.14}, shaft: vec{0.98, 0.10, 0.05}.unit(), turn: rad(-55), face: rad(-10), reach: 1}
	k.finish = pose{hands: vec{h.x + 0.23, h.y + 0.43, h.z + 0.75}, shaft: vec{-0.75, 0.30, 0.50}.unit(), turn: rad(-95), reach: 1}
	k.hanging = pose{hands: h.add(vec{0.02, 0.18, -0.03}), shaft: vec{0.45, -0.20, -0.80}.unit(), turn: 0}
	k.hung = pose{hands: vec{h.x, h.y - 0.12, l + 0.25}, shaft: vec{0, 0, -1}, face: rad(-90)}
	k.teeing = pose{hands: h.add(vec{0.22, 0.10, -0.12}), shaft: vec{0.80, -0.35, -0.42}.unit(), bend: 1}
	if arms == BothArms {
		k.both = 1
		for _, p := range []*pose{&k.address, &k.forward, &k.impact, &k.top, &k.through, &k.finish, &k.hanging, &k.teeing} {
			p.reach = 1
		}
	}
	return k
}

// catch is the pose that a rep is commanded to.
func (k *keyPoses) catch(r RepSpec) pose {
	h := k.address.hands
	sa, ca := math.Sincos(rad(r.ShaftLineDeg))
	se, ce := math.Sincos(rad(r.ElevationDeg))
	back := h.x - r.HandsX
	return pose{
		hands: vec{r.HandsX, r.HandsY, h.z + r.HandsDZ},
		shaft: vec{-ce * ca, ce * sa, se},
		face:  rad(r.FaceDeg),
		turn:  rad(20 + 60*back),
		reach: 1,
	}
}

// shaftLine and elevation of a shaft, degrees.
func shaftLine(s vec) float64 { return deg(math.Atan2(s.y, -s.x)) }
func elevation(s vec) float64 { return deg(math.Asin(min(max(s.z, -1), 1))) }

// over is the bottom of the moving start: the club passes clear of the ball.
func (k *keyPoses) over() pose {
	p := k.address
	p.hands = p.hands.add(vec{0.02, 0.01, 0.06})
	p.reach = max(0.5, k.both)
	return p
}

// delivery is on the way down, the shaft still behind the hands.
func (k *keyPoses) delivery() pose {
	h := k.address.hands
	return pose{hands: vec{h.x - 0.16, h.y + 0.05, h.z + 0.16}, shaft: vec{-0.93, 0.02, -0.05}.unit(), turn: rad(25), reach: 1}
}
