package measure

import (
	"errors"
	"math"
	"slices"

	"drillbay/drills"
)

// A camera's pictures take some time to arrive, and another's another time. Both
// are dated as they arrive, by one clock, so that what is left between two cameras
// is a constant: how much later the one shows the same moment.

// MostLag is the largest time between two cameras that is looked for, s.
const MostLag = 0.4

// ErrLag says that two readings do not tell the lag of their cameras.
var ErrLag = errors.New("the two views do not show the same motion")

// Swing is the shaft's angle from hanging straight down across the target line's
// upright, degrees, + away from the target, at times, s. It is the same from down
// the line, where the track has the shaft in space, and face-on, where it is seen.
type Swing struct{ At, Arc []float64 }

// Swing is that of a rep.
func (r *Result) Swing() (s Swing) {
	if r.FaceOn {
		return Swing{r.Front.At, r.Front.Arc}
	}
	for _, p := range r.Track.Poses {
		s.At, s.Arc = append(s.At, p.At), append(s.Arc, math.Atan2(-p.Shaft.X, -p.Shaft.Z)*180/math.Pi)
	}
	return s
}

// of is the angle at a time; false where it was not seen.
func (s Swing) of(t float64) (arc float64, ok bool) {
	i, _ := slices.BinarySearch(s.At, t)
	if i == 0 || i == len(s.At) {
		return 0, false
	}
	gap, turned := s.At[i]-s.At[i-1], s.Arc[i]-s.Arc[i-1]
	if gap > tieGap && math.Abs(turned) > tieRests {
		return 0, false
	}
	return s.Arc[i-1] + (t-s.At[i-1])/gap*turned, true
}

// Lag is how much later b shows the same motion of the club as a, s, within MostLag
// either way, by the greatest normalised cross-correlation of the two over what
// both saw; and how alike they are then, −1 to 1.
func Lag(a, b Swing) (seconds, alike float64, err error) {
	if len(a.At) < 2 || len(b.At) < 2 {
		return 0, 0, ErrLag
	}
	const most = int(MostLag / tieStep)
	all := make([]float64, 2*most+1)
	best := 0
	var x, y []float64
	for k := range all {
		lag := float64(k-most) * tieStep
		x, y = x[:0], y[:0]
		for n := 0; ; n++ {
			t := a.At[0] + float64(n)*tieStep
			if t > a.At[len(a.At)-1] {
				break
			}
			p, ok := a.of(t)
			q, too := b.of(t + lag)
			if ok && too {
				x, y = append(x, p), append(y, q)
			}
		}
		if all[k] = -1; float64(len(x))*tieStep >= tieShared {
			all[k] = correlationAt(x, y, 0)
		}
		if all[k] > all[best] {
			best = k
		}
	}
	if all[best] < tieAlike || best == 0 || best == len(all)-1 {
		return 0, all[best], ErrLag
	}
	return (peak(all, best) - float64(most)) * tieStep, all[best], nil
}

// Tie is the lag of a camera behind another, by the reps that both saw. The zero
// value knows nothing.
type Tie struct{ lags []float64 }

// Add takes the lag of one rep, s. The newest are kept: a camera that is plugged
// in again may have another.
func (t *Tie) Add(lag float64) {
	if len(t.lags) == tieKept {
		t.lags = slices.Delete(t.lags, 0, 1)
	}
	t.lags = append(t.lags, lag)
}

// Lag is the median of the reps, s, with its 1-sigma uncertainty by how far they
// lie from it (the median's standard error, of their median absolute deviation:
// 1.253 · 1.483 · MAD / √n, as of normal errors), and of how many it is. Without
// reps it is 0.
func (t *Tie) Lag() (seconds, sigma float64, reps int) {
	n := len(t.lags)
	if n == 0 {
		return 0, math.NaN(), 0
	}
	m := drills.Quantile(t.lags, 0.5)
	off := make([]float64, n)
	for i, v := range t.lags {
		off[i] = math.Abs(v - m)
	}
	sigma = 1.253 * 1.483 * drills.Quantile(off, 0.5) / math.Sqrt(float64(n))
	if n < 3 {
		sigma = tieSingle
	}
	return m, max(sigma, tieFloor), n
}
