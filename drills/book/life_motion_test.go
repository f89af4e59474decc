package book

import (
	"math"
	"math/rand/v2"

	"drillbay/drills"
)

// vec is a point or direction of the bay, m: X toward the target, Y from the
// ball toward the player, Z up.
type vec [3]float64

func (a vec) add(b vec) vec       { return vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }
func (a vec) times(s float64) vec { return vec{a[0] * s, a[1] * s, a[2] * s} }
func (a vec) dot(b vec) float64   { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func (a vec) cross(b vec) vec {
	return vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}
func (a vec) about(k vec, deg float64) vec { // Rodrigues
	s, c := math.Sincos(deg * math.Pi / 180)
	return a.times(c).add(k.cross(a).times(s)).add(k.times(k.dot(a) * (1 - c)))
}

// The player, right-handed, 1.75 m: shoulders, arms and a 7-iron at address.
// Arm length is that of Drillis & Contini 1966 within 10 %, the lie 62°.
var (
	shoulders = vec{0, 0.62, 1.40}
	arms      = vec{0, -0.14, -0.62}
	club      = vec{0, -math.Cos(62 * math.Pi / 180), -math.Sin(62 * math.Pi / 180)}
	spine     = vec{0, -math.Sin(35 * math.Pi / 180), math.Cos(35 * math.Pi / 180)}
	upright   = vec{0, 0, 1}
	across    = vec{0, 1, 0} // the arms swing in a plane along the target line
)

const spineLean = 35.0 // degrees toward the ball, in the picture

// motion describes one backswing. Angles are degrees, times shares of the backswing's time.
// Nothing in it knows how a rep is judged.
type motion struct {
	turn       float64 // of the chest, at the top
	turnBy     float64 // when the turn is complete
	swing      float64 // of the arms against the chest, at the top
	swingFrom  float64
	hinge      float64 // of the wrists, at the top
	hingeFrom  float64
	around     float64 // hands and club led about the body
	forearms   float64 // rolled open (+) or held shut (−)
	away       float64 // arms lifted off the chest
	back, down float64 // s
	placed     bool    // slowed to a stop by hand
}

// good is a backswing as it is taught.
func good() motion {
	return motion{turn: 76, turnBy: 1, swing: 64, hinge: 92, back: 0.80, down: 0.27}
}

// with gives a motion a fault, by what the body does; much is 1 for the whole
// fault, 0 for none.
func (m motion) with(c drills.Cause, much float64, dice *rand.Rand) motion {
	to := func(v *float64, faulty float64) { *v += much * (faulty - *v) }
	switch c {
	case drills.DrawnInward: // the hands go round the body, and the club with them
		m.around += 17 * much
	case drills.OpenedEarly: // the forearms roll at once
		m.forearms += 30 * much
	case drills.PushedAway: // little turn; straight arms go back and out
		to(&m.turn, 34)
		to(&m.swing, 84)
		m.away += 11 * much
	case drills.HeldShut: // the forearms turn the other way
		m.forearms -= 32 * much
	case drills.TurnAlone: // the arms stay on the chest, the wrists wait
		to(&m.swing, 8)
		to(&m.hingeFrom, 0.42)
	case drills.RaisedAfter: // first all the turn, then the arms
		to(&m.turnBy, 0.62)
		to(&m.swingFrom, 0.60)
		to(&m.swing, 84)
		to(&m.hingeFrom, 0.30)
	case drills.StoppedPlaced: // some reps are steered to the place
		m.placed = m.placed || dice.Float64() < 0.7*much
	case drills.Hurried: // some swings are snatched away
		if dice.Float64() < 0.7*much {
			m.back *= 0.6
		}
	}
	return m
}

// vary is the same motion as another rep makes it.
func (m motion) vary(dice *rand.Rand) motion {
	n := dice.NormFloat64
	m.turn *= 1 + 0.05*n()
	m.swing *= 1 + 0.05*n()
	m.hinge *= 1 + 0.03*n()
	m.around += 2 * n()
	m.forearms += 3.5 * n()
	m.away += 1 * n()
	m.back *= 1 + 0.05*n()
	m.down *= 1 + 0.05*n()
	return m
}

// pose is where hands, club and face are at a share of the backswing's time.
type pose struct {
	hands, shaft vec
	toe          float64 // degrees from the vertical toward the ball, in the picture
}

func ramp(x float64) float64 {
	x = min(max(x, 0), 1)
	return x * x * (3 - 2*x)
}

func (m motion) at(x float64) pose {
	turn := m.turn * ramp(x/m.turnBy)
	swing := m.swing * ramp((x-m.swingFrom)/(1-m.swingFrom))
	hinge := m.hinge * ramp((x-m.hingeFrom)/(1-m.hingeFrom))
	early := ramp(x / 0.4) // what is done at once is done by then
	s, c := math.Sincos(hinge * math.Pi / 180)
	shaft := club.times(c).add(vec{-s, 0, 0})
	reach := arms.about(vec{1, 0, 0}, -m.away*early)
	reach, shaft = reach.about(spine, -turn), shaft.about(spine, -turn)
	reach, shaft = reach.about(across, swing), shaft.about(across, swing)
	reach, shaft = reach.about(upright, -m.around*early), shaft.about(upright, -m.around*early)
	// The forearms turn the club about the arms, the shaft less than the face.
	arm := reach.times(1 / math.Sqrt(reach.dot(reach)))
	shaft = shaft.about(arm, 0.6*m.forearms*early)
	return pose{hands: shoulders.add(reach), shaft: shaft, toe: 16 - m.forearms*early}
}

// taken holds the positions of a motion at its level moment and its top.
type taken struct {
	level            float64 // share of the backswing's time
	line, depth, toe float64 // degrees, cm, degrees
	height, top      float64 // cm above address
}

func (m motion) taken() taken {
	home := m.at(0)
	for x := 0.01; x <= 1; x += 0.005 {
		p := m.at(x)
		if p.shaft[2] < 0 {
			continue
		}
		return taken{level: x, line: math.Atan2(p.shaft[1], -p.shaft[0]) * 180 / math.Pi, toe: p.toe,
			depth: 100 * (p.hands[1] - home.hands[1]), height: 100 * (p.hands[2] - home.hands[2]), top: 100 * (m.at(1).hands[2] - home.hands[2])}
	}
	return taken{level: math.NaN()}
}
