package sight

import "math"

// thinness is how much g at a point stands out from both its sides, o px
// across a line with the direction (c, sn); an edge does not.
func thinness(g *gray, u, v, c, sn, o float64) float64 {
	mid := float64(g.at(u, v))
	a := mid - float64(g.at(u-sn*o, v+c*o))
	b := mid - float64(g.at(u+sn*o, v-c*o))
	if a*b <= 0 {
		return 0
	}
	return math.Copysign(math.Min(math.Abs(a), math.Abs(b)), a)
}

// shaftGoes reports whether the line is there in the still picture rather
// than in the moving one: a club that comes to address leaves a line too.
func shaftGoes(still, moving *gray, l Line, o float64) bool {
	s, c := math.Sincos(l.Angle)
	var a, b float64
	for t := 0.0; t < l.Length; t++ {
		u, v := l.From.U+c*t, l.From.V+s*t
		a += math.Abs(thinness(still, u, v, c, s, o))
		b += math.Abs(thinness(moving, u, v, c, s, o))
	}
	return a > 1.1*b
}
