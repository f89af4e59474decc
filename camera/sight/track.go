package sight

import (
	"errors"
	"math"

	"drillbay/camera/eye"
	"drillbay/camera/lens"
)

// Look is what the eye saw at a time, px of the picture as seen.
type Look struct {
	At     float64 // s, capture clock
	Places [eye.Points]eye.Place
}

// Doubt are the 1-sigma uncertainties of what the track is told.
type Doubt struct {
	Distance float64 // m
	Reach    float64 // m
	Target   float64 // px, each way
	Roll     float64 // degrees
	Focal    float64 // share
}

// Pose is hands and club at a time: places from the lens in bay axes, m.
type Pose struct {
	At        float64  // s
	Hands     lens.Vec // middle of the lead hand
	Shaft     lens.Vec // unit, from hands to head
	Head      lens.Vec // where the shaft's axis meets the sole
	Line      float64  // shaft line, degrees
	Lift      float64  // elevation of the shaft, degrees
	LineSigma float64  // 1-sigma uncertainty, degrees
	LiftSigma float64
	Forward   float64 // 1-sigma uncertainty of the hands' way toward the lens, m
	Looks     int     // looks that this pose is of: many where the club is still
}

// Motion is the track of one rep: hands and club as a rod of known length over
// time, that fits all looks at once.
type Motion struct {
	Poses   []Pose // in order of time
	Address int    // the pose of address
	Hold    int    // the pose of the hold, -1 without one
	From    float64
	To      float64 // s, when address ends and the hold begins, by what moved in the picture
	Rest    float64 // s, when the hold ends; NaN without one
	Misfit  float64 // how much looks disagree, in squares of what they say they may

	fit    *fit
	strike strike // of a whole swing
}

var (
	// ErrFewLooks says that the club was hardly seen.
	ErrFewLooks = errors.New("hands and club were seen too seldom")
	// ErrNoAddress says that nobody stood at address before the motion.
	ErrNoAddress = errors.New("no address was seen before the motion")
	// ErrNoStrike says that the hands did not rise and come down to a strike.
	ErrNoStrike = errors.New("no strike was seen after the motion")
	// ErrNoHold says that the club was not held after the motion.
	ErrNoHold = errors.New("the club was not held")
)

// Follow fits the track to the looks of one rep, in order of time: address,
// the motion, and the hold or, in a whole swing, the finish.
//
// First the looks are sorted: what cannot be the club is left out, and where
// the picture rests is found. Then each look gets a node, hands and shaft as
// unknowns; whether the club points to the lens or away from it is chosen for
// all at once, and all is fitted by least squares. Last the looks of address
// and hold are joined to one node each, and the fit is done again.
func (s Setting) Follow(looks []Look, d Doubt, whole bool) (Motion, error) {
	sights := s.sights(looks)
	if len(sights) < 6 {
		return Motion{}, ErrFewLooks
	}
	var b buffers
	address, hold, err := s.ends(s.rests(sights, &b), sights, whole, &b)
	if err != nil {
		return Motion{}, err
	}
	var k strike
	if whole {
		to, struck, ok := s.swings(sights, address, &b)
		if !ok {
			return Motion{}, ErrNoStrike
		}
		sights, k = sights[:to], struck
	}
	seen := sights[address.from:]
	if hold.to > 0 {
		seen = sights[address.from:hold.to]
	}
	nodes := s.join(sights, address, hold, &b)
	if len(nodes) < 4 || len(seen) < 6 {
		return Motion{}, ErrFewLooks
	}
	f := newFit(s, d, nodes)
	if whole {
		f.turns, f.moves = swingTurns, swingMoves
	}
	if !f.choose(whole) || !f.solve() {
		return Motion{}, ErrFewLooks
	}
	m := f.motion()
	m.strike = k
	m.From, m.To, m.Rest = sights[address.to-1].at, math.NaN(), math.NaN()
	if hold.to > 0 {
		m.To, m.Rest = sights[hold.from].at, sights[hold.to-1].at
	}
	return m, nil
}

// Frame is the usual time between two looks at the moving club, s.
func (m *Motion) Frame() float64 {
	var steps []float64
	for i := m.Address + 1; i < len(m.Poses); i++ {
		if m.Poses[i].Looks == 1 && m.Poses[i-1].Looks == 1 {
			steps = append(steps, m.Poses[i].At-m.Poses[i-1].At)
		}
	}
	return middle(steps)
}
