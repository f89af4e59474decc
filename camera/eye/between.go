package eye

import (
	"math"

	"drillbay/camera/frame"
)

// between is what is to be expected at a time between two sights of a player,
// after the share part of the time from a to b: where the body is, which moves
// slowly, and the window about hands and club. It has no closer window where
// one of the two has none.
func between(a, b Sight, part float64) Sight {
	if a.Close.Side <= 0 || b.Close.Side <= 0 {
		if a.Whole.Side <= 0 {
			return Sight{Whole: b.Whole}
		}
		return Sight{Whole: a.Whole}
	}
	s := Sight{Whole: blend(a.Whole, b.Whole, part), Close: blend(a.Close, b.Close, part)}
	// The club does not go straight and evenly from the one to the other.
	s.Close.Side += stray * max(math.Abs(a.Close.U-b.Close.U), math.Abs(a.Close.V-b.Close.V))
	for p := Crown; p < Points; p++ {
		x, y := a.Places[p], b.Places[p]
		s.Places[p] = Place{
			U: mix(x.U, y.U, part), V: mix(x.V, y.V, part),
			UU: mix(x.UU, y.UU, part), UV: mix(x.UV, y.UV, part), VV: mix(x.VV, y.VV, part),
			Here: min(x.Here, y.Here), Seen: mix(x.Seen, y.Seen, part),
		}
	}
	return s
}

// blend is a window on the way from a to b, as wide as the wider one.
func blend(a, b Window, part float64) Window {
	return Window{mix(a.U, b.U, part), mix(a.V, b.V, part), max(a.Side, b.Side)}
}

func mix(a, b, part float64) float64 { return a + part*(b-a) }

// Between looks closely for hands and club in the picture now, at a time
// between two sights of a player, after the share part of the time from a to b.
// Where it does not find both, it looks at the whole player first, as
// Finder.Follow does; else the body is where a and b lead. It reports false
// when nobody is seen. now, before, still and mirrored are Look's.
func (e *Eye) Between(a, b Sight, part float64, now, before, still *frame.Picture, mirrored bool) (Sight, bool) {
	s := between(a, b, part)
	l := e.Look(s.Close, now, before, still, mirrored)
	if l.Places[Hands].Here < counted || l.Places[Head].Here < counted {
		f := Finder{window: s.Whole}
		return f.Follow(e, now, before, still, mirrored)
	}
	copy(s.Places[GripEnd:Head+1], l.Places[GripEnd:Head+1])
	return s, true
}
