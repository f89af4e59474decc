package lens

import "math"

// Chest is a player at address as a camera before the chest sees him: places in
// the analysed picture. Hips is the middle of the hips; without a ball that is
// seen Ball is nil, and the hands serve.
type Chest struct {
	Hands, Hips Point
	Ball        *Point
	Distance    float64 // m, from the lens to the hands
	Reach       float64 // m, hands to head
}

// FaceOffset says how to move a camera that looks at a player's chest, m: Along the target
// line, + toward the target, so that belly, ball and lens are in one line; Back from the
// player, + away, so that the club stays in the picture, − where there is room to spare.
type FaceOffset struct{ Along, AlongSigma, Back float64 }

// How much farther from the lens than the hands the ball and the hips are, m, and
// what is to stay in the picture about the hands: the club at level with the
// hands' way there, the club as it swings forward, the ground, and the head; all
// by stature and posture (common practice).
const (
	ballBefore, hipsBehind          = 0.45, 0.39
	handsWay, forwardPart           = 0.45, 0.70
	handsOverGround, headAboveHands = 0.82, 0.95
	roomShare                       = 0.03 // of the picture, left free at each edge
	seenTo                          = 1.5  // px, how well a place is seen
)

// FaceOffsetOf is the offset of a camera before the chest.
func (v View) FaceOffsetOf(c Chest) FaceOffset {
	nearZ, near := c.Distance, c.Hands
	if c.Ball != nil {
		nearZ, near = c.Distance-ballBefore, *c.Ball
	}
	farZ := c.Distance + hipsBehind
	// Across, + away from the target; the lens is at 0. The line through both
	// places is square to the target line when ball and belly are.
	a, b := v.At(near, nearZ), v.At(c.Hips, farZ)
	long := math.Hypot(b.X-a.X, b.Y-a.Y)
	side := (farZ*a.Y - nearZ*b.Y) / long
	out := FaceOffset{Along: -side, AlongSigma: farZ * nearZ / long * seenTo * math.Sqrt2 / v.Focal}

	w, h := float64(v.Width), float64(v.Height)
	scale := func(need, room float64) float64 { // the share of the distance that would do
		if room <= 0 {
			return 2
		}
		return need * v.Focal / c.Distance / room
	}
	most := max(scale(handsWay+c.Reach, c.Hands.U-roomShare*w), scale(forwardPart*c.Reach, w-roomShare*w-c.Hands.U),
		scale(handsOverGround, h-roomShare*h-c.Hands.V), scale(headAboveHands, c.Hands.V-roomShare*h))
	out.Back = (min(most, 2) - 1) * c.Distance
	return out
}
