package app

import (
	"math"

	"drillbay/drills/runner"
)

// vector is a place or a direction in the bay's frame, m: x toward the target,
// y from the ball toward the player, z up.
type vector struct{ x, y, z float64 }

func (v vector) plus(w vector) vector   { return vector{v.x + w.x, v.y + w.y, v.z + w.z} }
func (v vector) times(k float64) vector { return vector{v.x * k, v.y * k, v.z * k} }
func (v vector) toward(w vector, t float64) vector {
	return v.times(1 - t).plus(w.times(t))
}
func (v vector) size() float64 { return math.Sqrt(v.x*v.x + v.y*v.y + v.z*v.z) }

// pose is a player with a club, drawn for a right-hander. Which way the body is
// turned is told by the shoulders, degrees, + toward the target.
type pose struct {
	hands vector // the lead hand on the grip
	club  vector // direction from there to the head
	turn  float64
	held  float64 // share to which the trail hand has come to the club
}

// The poses of a drill, by eye (common practice): address, the club swung a
// little forward, level where it is caught, the top, the strike, the finish.
var (
	addressed = pose{vector{0.02, 0.35, 0.80}, vector{-0.02, -0.40, -0.92}, 0, 0}
	forward   = pose{vector{0.20, 0.36, 0.83}, vector{0.62, -0.28, -0.73}, 8, 0}
	atLevel   = pose{vector{-0.33, 0.36, 0.93}, vector{-1, 0, 0}, -42, 1}
	atTop     = pose{vector{-0.30, 0.70, 1.58}, vector{0.78, -0.50, 0.25}, -88, 1}
	downward  = pose{vector{-0.34, 0.50, 1.08}, vector{-0.62, -0.10, 0.78}, -40, 1}
	struck    = pose{vector{0.10, 0.36, 0.81}, vector{-0.08, -0.40, -0.91}, 22, 1}
	through   = pose{vector{0.42, 0.34, 1.02}, vector{0.98, 0.05, 0.12}, 58, 1}
	finished  = pose{vector{0.16, 0.60, 1.66}, vector{-0.70, 0.55, -0.30}, 95, 1}
)

const clubLong = 0.87 // m, from hands to head at address

// toward is a pose on the way to another.
func (p pose) toward(q pose, t float64) pose {
	club := p.club.toward(q.club, t)
	return pose{p.hands.toward(q.hands, t), club.times(1 / max(club.size(), 1e-6)), p.turn + (q.turn-p.turn)*t, p.held + (q.held-p.held)*t}
}

// step is a pose and the beat at which it is reached.
type step struct {
	beat float64
	pose pose
}

// steps are a drill's way in beats, from address to address, by its data.
func steps(d runner.Drill) []step {
	begin := addressed
	if d.Ball && d.MovingStart {
		begin = forward // ahead of the ball, held clear above it
	}
	out := []step{{0, begin}, {2, begin}}
	at := 2.0
	add := func(beats float64, p pose) {
		at += beats
		out = append(out, step{at, p})
	}
	if d.MovingStart && begin != forward {
		add(1, forward)
	}
	switch d.Kind {
	case runner.Catch:
		add(1, atLevel)
		add(3, atLevel)
	case runner.CatchTurnStrike:
		add(1, atLevel)
		add(2, atLevel)
		add(1, struck)
	default: // three parts back, one down
		add(1, atLevel)
		add(2, atTop)
		add(0.5, downward)
		add(0.5, struck)
	}
	if d.Kind == runner.Catch {
		add(2, begin)
		return out
	}
	add(0.4, through)
	add(0.6, finished)
	add(2, finished)
	return out // and from the beginning again
}

// poseAt is the pose of a drill after so many beats; it goes round. Still: only
// the poses themselves, none between.
func poseAt(d runner.Drill, beats float64, still bool) pose {
	list := steps(d)
	whole := list[len(list)-1].beat
	t := math.Mod(beats, whole)
	if t < 0 || math.IsNaN(t) {
		t += whole
	}
	for i := 1; i < len(list); i++ {
		if a, b := list[i-1], list[i]; t < b.beat {
			if still {
				return a.pose
			}
			share := (t - a.beat) / (b.beat - a.beat)
			switch a.pose {
			case atTop, downward, struck, through: // on the move
				return a.pose.toward(b.pose, share)
			}
			if b.pose == atLevel && d.Kind == runner.Ordinary {
				return a.pose.toward(b.pose, share*share)
			}
			return a.pose.toward(b.pose, eased(share))
		}
	}
	return list[0].pose
}
