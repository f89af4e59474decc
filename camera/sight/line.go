package sight

import (
	"math"
	"slices"

	"drillbay/camera/lens"
)

// Line is a thin straight thing in the picture: from From, over Length px, in
// the direction (cos Angle, sin Angle) with v downward; Angle in radians.
// Score is the mean evidence along it in units of the noise.
type Line struct {
	From   lens.Point
	Angle  float64
	Length float64
	Score  float64
}

// End is the other end of the line.
func (l Line) End() lens.Point {
	s, c := math.Sincos(l.Angle)
	return lens.Point{U: l.From.U + c*l.Length, V: l.From.V + s*l.Length}
}

// ridge is the evidence for thin things of about width reduced px: how large
// what a Gaussian of the width leaves over a three times wider one is, in
// units of its own noise (its median), compressed so that no single bright
// spot decides and the side lobes of a strong line stay below the line.
func ridge(g *gray, width float64) *gray {
	fine, wide := g.blur(max(0.6, width*0.45)), g.blur(max(1.8, width*1.35))
	for i := range fine.Pix {
		fine.Pix[i] = float32(math.Abs(float64(fine.Pix[i] - wide.Pix[i])))
	}
	noise := max(median(fine.Pix)/0.6745, 0.15)
	for i, v := range fine.Pix {
		fine.Pix[i] = 2 * float32(math.Log1p(float64(v/noise)))
	}
	return fine
}

// longest finds up to most lines with evidence along length px and angles in
// [from, to] radians (v downward), the best first, no two of them close: the
// score is the mean along a line, less what chance gives.
func longest(e *gray, length, from, to float64, most int) []Line {
	k := float64(e.K)
	n := int(length / k)
	base := float64(average(e.Pix))
	half := math.Hypot(float64(e.W), float64(e.H)) / 2
	cu, cv := float64(e.W)/2, float64(e.H)/2
	sums := make([]float32, 0, 4096)
	var found []Line
	for a := from; a <= to; a += 1.5 / float64(n) {
		s, c := math.Sincos(a)
		for off := -half; off <= half; off++ {
			sums = sums[:0]
			var total float32
			first := 0.0
			for t := -half; t <= half; t++ {
				x, y := cu+c*t-s*off, cv+s*t+c*off
				if x < 1 || y < 1 || x >= float64(e.W-1) || y >= float64(e.H-1) {
					if len(sums) > 0 {
						break
					}
					continue
				}
				if len(sums) == 0 {
					first = t
				}
				total += e.Pix[int(y)*e.W+int(x)]
				sums = append(sums, total)
			}
			best, at := math.Inf(-1), 0
			for i := n; i < len(sums); i++ {
				if m := float64(sums[i]-sums[i-n])/float64(n) - base; m > best {
					best, at = m, i
				}
			}
			if at > 0 {
				t := first + float64(at-n) + 1
				p := lens.Point{U: k * (cu + c*t - s*off + float64(e.X)), V: k * (cv + s*t + c*off + float64(e.Y))}
				found = keep(found, Line{p, a, length, best}, most, func(l Line) float64 { return l.Score }, Line.near)
			}
		}
	}
	return found
}

// near reports whether two lines are one.
func (l Line) near(o Line) bool {
	a, b := o.End(), l.End()
	return math.Abs(o.across(l.From))+math.Abs(o.across(b)) < 0.12*l.Length && apart(a, b) < 0.8*l.Length
}

// keep adds x to the best things found, the best first, unless a better one
// is the same, and drops worse ones that are; at most most stay.
func keep[T any](found []T, x T, most int, score func(T) float64, same func(a, b T) bool) []T {
	if len(found) == most && score(x) <= score(found[most-1]) {
		return found
	}
	if slices.ContainsFunc(found, func(f T) bool { return same(x, f) && score(f) >= score(x) }) {
		return found
	}
	found = slices.DeleteFunc(found, func(f T) bool { return same(x, f) })
	i := len(found)
	for i > 0 && score(found[i-1]) < score(x) {
		i--
	}
	found = slices.Insert(found, i, x)
	return found[:min(len(found), most)]
}

// across is how far p lies to the side of the line, px.
func (l Line) across(p lens.Point) float64 {
	s, c := math.Sincos(l.Angle)
	return -(p.U-l.From.U)*s + (p.V-l.From.V)*c
}

// refine moves both ends of l across, to where the evidence is greatest.
func refine(e *gray, l Line, reach float64) Line {
	best := l
	best.Score = math.Inf(-1)
	s, c := math.Sincos(l.Angle)
	end := l.End()
	for a := -reach; a <= reach; a += 0.5 {
		for b := -reach; b <= reach; b += 0.5 {
			p := lens.Point{U: l.From.U - s*a, V: l.From.V + c*a}
			q := lens.Point{U: end.U - s*b, V: end.V + c*b}
			m := along(e, p, q)
			if m > best.Score {
				best = Line{p, math.Atan2(q.V-p.V, q.U-p.U), apart(q, p), m}
			}
		}
	}
	best.Score -= float64(average(e.Pix))
	return best
}

// along is the mean evidence from p to q.
func along(e *gray, p, q lens.Point) float64 {
	n := max(2, int(apart(q, p)))
	var s float64
	for i := range n {
		f := (float64(i) + 0.5) / float64(n)
		s += float64(e.at(p.U+f*(q.U-p.U), p.V+f*(q.V-p.V)))
	}
	return s / float64(n)
}
