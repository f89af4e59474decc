package ear

const (
	tapLeast = 0.12 // s between two taps
	tapMost  = 0.60
	tapAlone = 0.70 // s without another onset before the first and after the second
	tapAlike = 14.0 // dB that the two may differ
)

// taps finds two taps, or two claps, that stand alone.
type taps struct {
	heard [4]tap // the last ones, newest last
	n     int
}

type tap struct{ at, strength float64 }

func (t *taps) onset(at, strength float64) {
	copy(t.heard[:], t.heard[1:])
	t.heard[len(t.heard)-1] = tap{at, strength}
	t.n++
}

// pair is the time of a pair's second tap, once it is sure at a time that it
// stands alone; each pair is told once.
func (t *taps) pair(now float64) (at float64, ok bool) {
	if t.n < 2 {
		return 0, false
	}
	a, b := t.heard[len(t.heard)-2], t.heard[len(t.heard)-1]
	if now < b.at+tapAlone {
		return 0, false
	}
	before := t.heard[len(t.heard)-3]
	alone := t.n == 2 || a.at-before.at > tapAlone
	t.n = min(t.n, 1) // what comes next begins anew; b still counts as before it
	gap, differ := b.at-a.at, a.strength-b.strength
	if !alone || gap < tapLeast || gap > tapMost || differ > tapAlike || differ < -tapAlike {
		return 0, false
	}
	return b.at, true
}
