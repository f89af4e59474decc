package measure

// Pace says which of the pictures that come the live pass looks at: about
// LooksPerSecond, whatever their rate. The zero value takes the first.
type Pace struct{ due float64 }

// LooksPerSecond is how often the live pass looks.
const LooksPerSecond = 12.0

// Due reports whether a picture of a time, s, is to be looked at. Times grow; after
// a gap it goes on from there.
func (p *Pace) Due(at float64) bool {
	const step = 1 / LooksPerSecond
	if at < p.due {
		return false
	}
	if p.due += step; at > p.due {
		p.due = at + step
	}
	return true
}
