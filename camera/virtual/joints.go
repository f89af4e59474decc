package virtual

// Joints are the drawn player's joints at one instant, bay-frame metres.
type Joints struct {
	Crown, Neck                 [3]float64
	LeadShoulder, TrailShoulder [3]float64
	LeadElbow, TrailElbow       [3]float64
	LeadWrist, TrailWrist       [3]float64
	LeadHip, TrailHip           [3]float64
	LeadKnee, TrailKnee         [3]float64
	LeadAnkle, TrailAnkle       [3]float64
}

// Joints returns the places of the player's joints at t seconds.
func (b *Bay) Joints(t float64) Joints {
	p, sway := b.pose(t)
	j := b.joints(p, sway)
	at := func(v vec) [3]float64 { return [3]float64{v.x, v.y, v.z} }
	return Joints{
		Crown: at(j.head.add(vec{0, 0.01, 0.115})), Neck: at(j.chest.mix(j.head, 0.3)),
		LeadShoulder: at(j.leadShoulder), TrailShoulder: at(j.trailShoulder),
		LeadElbow: at(j.leadElbow), TrailElbow: at(j.trailElbow),
		LeadWrist: at(j.leadHand.mix(j.leadElbow, 0.18)), TrailWrist: at(j.trailHand.mix(j.trailElbow, 0.18)),
		LeadHip: at(j.hipJoints[1]), TrailHip: at(j.hipJoints[0]),
		LeadKnee: at(j.knees[1]), TrailKnee: at(j.knees[0]),
		LeadAnkle: at(j.ankles[1]), TrailAnkle: at(j.ankles[0]),
	}
}

// See projects a point of the bay frame, metres, into the picture, px, and returns its
// depth along the optical axis, m.
func (b *Bay) See(at [3]float64) (px [2]float64, depth float64) {
	u, v, z := b.view.see(vec{at[0], at[1], at[2]})
	return [2]float64{u, v}, z
}
