package eye

// Point is one of the places that the eye looks for. Left and right are the
// player's own.
type Point int

const (
	GripEnd  Point = iota // the club's end above the hands
	Hands                 // middle of the hands on the grip
	ShaftEnd              // lower end of the shaft
	Head                  // middle of the clubhead
	Crown                 // top of the head
	Neck                  // base of the neck
	LeftShoulder
	RightShoulder
	LeftElbow
	RightElbow
	LeftWrist
	RightWrist
	LeftHip
	RightHip
	LeftKnee
	RightKnee
	LeftAnkle
	RightAnkle
	Ball // on the ground

	Points = iota // how many there are
)

// Mirrored is the same point of a mirrored player: left and right exchanged.
func (p Point) Mirrored() Point {
	if p < LeftShoulder || p > RightAnkle {
		return p
	}
	return LeftShoulder + (p - LeftShoulder) ^ 1
}

// String is the point's name as learn/model.py has it.
func (p Point) String() string {
	names := [Points]string{"grip_end", "hands", "shaft_end", "head", "crown", "neck",
		"left_shoulder", "right_shoulder", "left_elbow", "right_elbow", "left_wrist", "right_wrist",
		"left_hip", "right_hip", "left_knee", "right_knee", "left_ankle", "right_ankle", "ball"}
	if p < 0 || p >= Points {
		return "no point"
	}
	return names[p]
}
