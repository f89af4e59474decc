package virtual

// Truth holds the true positions and angles at one instant: bay-frame metres, continuous
// pixels (pixel i covers i … i+1), degrees.
type Truth struct {
	T                               float64
	Hands, Head                     [3]float64 // middle of the lead hand; where the shaft axis meets the sole
	Middle                          [3]float64 // middle of the head that is seen
	HandsPX, HeadPX, MiddlePX       [2]float64
	ShaftLineDeg, ElevationDeg      float64
	FaceDeg                         float64
	LeadShoulder, TrailShoulder     [3]float64
	LeadShoulderPX, TrailShoulderPX [2]float64
	ButtPX                          [2]float64
	HandsDistance                   float64 // along the optical axis, m
	HeadInPicture                   bool
	BallInPlace                     bool
}

// Truth returns the truth at t seconds.
func (b *Bay) Truth(t float64) Truth {
	p, sway := b.pose(t)
	j := b.joints(p, sway)
	head := p.head(b.keys.length)
	frame := b.head(p)
	middle := frame.middle()
	triple := func(v vec) [3]float64 { return [3]float64{v.x, v.y, v.z} }
	pixel := func(v vec) [2]float64 {
		u, w, _ := b.view.see(v)
		return [2]float64{u, w}
	}
	r := Truth{
		T: t, Hands: triple(p.hands), Head: triple(head), Middle: triple(middle),
		HandsPX: pixel(p.hands), HeadPX: pixel(head), MiddlePX: pixel(middle),
		ShaftLineDeg: shaftLine(p.shaft), ElevationDeg: elevation(p.shaft), FaceDeg: deg(p.face),
		LeadShoulder: triple(j.leadShoulder), TrailShoulder: triple(j.trailShoulder),
		LeadShoulderPX: pixel(j.leadShoulder), TrailShoulderPX: pixel(j.trailShoulder),
		ButtPX: pixel(p.hands.sub(p.shaft.mul(b.setup.Club.Grip))),
	}
	_, _, r.HandsDistance = b.view.see(p.hands)
	w, h := float64(b.setup.Width), float64(b.setup.Height)
	r.HeadInPicture = r.HeadPX[0] >= 0 && r.HeadPX[0] < w && r.HeadPX[1] >= 0 && r.HeadPX[1] < h
	ball, there := b.ball(t)
	r.BallInPlace = there && ball.sub(vec{0, 0, ballRadius}).len() < 0.01
	return r
}

// Events are the reps of the first pass. In a loop, later passes keep these
// times and vary the angles.
func (b *Bay) Events() []Event { return b.first.events }

// Focal is the focal length, px.
func (b *Bay) Focal() float64 { return b.view.fx }

// TargetPoint returns the point in the picture where lines along the target line meet, px.
func (b *Bay) TargetPoint() (x, y float64) {
	return b.view.pixel(b.view.turn(vec{1, 0, 0}))
}

// HandsToHead is the distance from the middle of the lead hand to where the
// shaft axis meets the sole, m.
func (b *Bay) HandsToHead() float64 { return b.keys.length }

// Lens returns the place of the lens, bay frame, m.
func (b *Bay) Lens() [3]float64 { return [3]float64{b.view.at.x, b.view.at.y, b.view.at.z} }
