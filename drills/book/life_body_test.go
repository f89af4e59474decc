package book

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"drillbay/drills"
	"drillbay/drills/pattern"
)

// carriage holds how far a player's body moves from address to level, apart from arms and
// club: degrees, and m toward the ball and up.
type carriage struct{ tilt, headUp, headOut, hipsOut, elbow float64 }

// taught is a body that is kept as it is taught.
func taught() carriage { return carriage{tilt: 1, headUp: 0.5, headOut: 0.5, hipsOut: 0, elbow: -20} }

// under returns how far the hands are from the vertical under the lead shoulder at level,
// cm, + toward the ball: half a shoulder's width turned with the chest.
func (m motion) under(level float64) float64 {
	turn := m.turn * ramp(level/m.turnBy)
	lead := shoulders.add(vec{0.19, 0, 0}.about(spine, -turn))
	return 100 * (lead[1] - m.at(level).hands[1])
}

// body returns the body's readings of a rep as a camera gives them, and the truth. The
// noise is that of the readings of rendered people.
func (l *learner) body(m motion) (read drills.Body, truth map[drills.BodyPart]float64) {
	n := l.dice.NormFloat64
	c := l.carriage
	truth = map[drills.BodyPart]float64{
		drills.HandsUnder: m.under(m.taken().level), drills.SpineTilt: c.tilt + 1.2*n(), drills.HeadUp: c.headUp + n(), drills.HeadOut: c.headOut + n(),
		drills.HipsOut: c.hipsOut + n(), drills.TrailElbow: c.elbow + 3*n(),
	}
	sigma := map[drills.BodyPart]float64{drills.HandsUnder: 1.8, drills.SpineTilt: 2.4, drills.HeadUp: 2, drills.HeadOut: 1.5, drills.HipsOut: 2, drills.TrailElbow: 2.5}
	for p := range drills.BodyPart(drills.BodyParts) {
		v, ok := truth[p]
		if hidden := l.dice.Float64() < 0.05; ok && !hidden {
			read[p] = drills.Reading{Value: v + sigma[p]*n(), Sigma: sigma[p]}
		}
	}
	return read, truth
}

// bodyDay holds which parts of the body were not kept in a session, and which of them were
// named.
type bodyDay struct {
	means map[drills.BodyPart]float64 // true
	named []pattern.Lapse
}

// beyond returns how far a part's true mean lies beyond the band, and on which side.
func (d bodyDay) beyond(p drills.BodyPart) (far float64, side int) {
	w, v := drills.UsualWatch(p), d.means[p]
	if v < w.Low {
		return w.Low - v, -1
	}
	return v - w.High, 1
}

// bodyTally counts what of the body was named over many sessions.
type bodyTally struct{ plainly, found, wrong, sessions int }

// take counts a player's sessions. What lies 2 cm or degrees beyond its band is
// to be named, and nothing that lies within it.
func (n *bodyTally) take(t *testing.T, l *learner) {
	for _, d := range l.bodies {
		n.sessions++
		off := false
		for _, x := range d.named {
			if far, side := d.beyond(x.Part); far < 0 || side != x.Side {
				off = true
				t.Logf("%s: %s was not there: %.1f", l.name, x.Loss, d.means[x.Part])
			}
		}
		if off {
			n.wrong++
		}
		for p := range d.means {
			far, side := d.beyond(p)
			if far < 2 {
				continue
			}
			n.plainly++
			for _, x := range d.named {
				if x.Part == p && x.Side == side {
					n.found++
				}
			}
		}
	}
}

// judge fails where plain lapses were not named, or others were.
func (n *bodyTally) judge(t *testing.T) {
	t.Logf("of %d times that a part was 2 cm or degrees beyond its band %d were named; a wrong one in %d of %d sessions", n.plainly, n.found, n.wrong, n.sessions)
	assert.GreaterOrEqual(t, float64(n.found), 0.9*float64(n.plainly))
	assert.GreaterOrEqual(t, n.plainly, 40)
	assert.LessOrEqual(t, float64(n.wrong), 0.05*float64(n.sessions))
}
