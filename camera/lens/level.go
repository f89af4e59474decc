package lens

import (
	"cmp"
	"errors"
	"math"
	"slices"
)

// ErrNoLevel says that no lines on the ground that run across the picture can be
// told from what else is in it.
var ErrNoLevel = errors.New("no lines that run across the picture on the ground are made out")

const (
	// Lines that may run along the target line before a camera that looks across it:
	// so flat against the picture's level at most, rad, so long at least, of the
	// width, and lower than this, of the height.
	mostSlope, leastAcross, groundFrom = 9 * math.Pi / 180, 0.15, 0.55
	// How crisp they are: how far the points of an edge may be off its line, as the
	// part of Sd that grows with it tells (px, by the root of the length as a share of
	// the width): the soft patches of grass or carpet are less so.
	crisp = 0.06
	// How far a camera is turned from square on (1 sigma, rad), and at most where two
	// lines alone say it; and how far it is tilted up or down (1 sigma, rad).
	squareSigma, squareTwo, tiltedSigma = 5 * math.Pi / 180, 3 * math.Pi / 180, 4 * math.Pi / 180
	// How level and straight such lines are beside their ends, rad.
	groundSigma = 0.1 * math.Pi / 180
	// Lines are different ones from so far apart on, of the height.
	otherRow = 0.06
	// A usual focal length, of the width: it bounds what turn does to slopes.
	usualFocal = 0.8
	agrees     = 2.5 // sigmas
)

// flat is an edge that may run along the target line: its slope, where it passes
// under the picture's middle, px from there, and the slope's sigma.
type flat struct {
	Edge
	slope, row, sigma float64
}

// LevelBy is the roll of a camera that looks across the target line, degrees,
// clockwise as it sees, with its 1-sigma uncertainty, by lines on the ground that run
// along that line: the edges of a mat, a stick. Seen square on their slope is the roll;
// a camera that is turned a little sees slopes that grow with how far under the
// horizon they lie (the lines meet far beside the picture), so that two lines in
// different rows tell both. It returns those lines, the lowest first, or ErrNoLevel
// rather than a roll that is not sure.
func LevelBy(edges []Edge, width, height int) (lines []Edge, roll, sigma float64, err error) {
	w, h := float64(width), float64(height)
	var all []flat
	least := math.Inf(1)
	for _, e := range edges {
		least = min(least, e.Sd)
	}
	for _, e := range edges {
		rough := math.Sqrt(max(0, e.Sd*e.Sd-least*least)) * math.Sqrt(e.Length()/w)
		if e.slant() > mostSlope || e.Length() < leastAcross*w || rough > crisp || min(e.From.V, e.To.V) < groundFrom*h {
			continue
		}
		f := flat{Edge: e, slope: (e.To.V - e.From.V) / (e.To.U - e.From.U)}
		f.row = (e.From.V+e.To.V)/2 - f.slope*((e.From.U+e.To.U)/2-w/2) - h/2
		f.sigma = math.Hypot(math.Sqrt2*e.Sd/e.Length(), groundSigma)
		all = append(all, f)
	}
	turned := math.Tan(squareSigma) / (usualFocal * w)
	var best []flat
	for i, a := range all {
		for _, b := range all[:i] {
			if math.Abs(a.row-b.row) < otherRow*h {
				continue
			}
			k := (a.slope - b.slope) / (a.row - b.row)
			if math.Abs(k) > 1.5*turned {
				continue
			}
			var in []flat
			for _, f := range all {
				if math.Abs(a.slope+k*(f.row-a.row)-f.slope) < agrees*f.sigma {
					in = append(in, f)
				}
			}
			if rows(in, h) > rows(best, h) || rows(in, h) == rows(best, h) && long(in) > long(best) {
				best = in
			}
		}
	}
	slope, k, sd := straightThrough(best, turned)
	if n := rows(best, h); n < 2 || n == 2 && math.Abs(k)*usualFocal*w > math.Tan(squareTwo) {
		return nil, 0, 0, ErrNoLevel
	}
	// The horizon is taken to run through the picture's middle.
	sd = math.Hypot(sd, k*usualFocal*w*math.Tan(tiltedSigma))
	slices.SortFunc(best, func(a, b flat) int { return cmp.Compare(b.row, a.row) })
	for _, f := range best {
		lines = append(lines, f.Edge)
	}
	return lines, -degrees(math.Atan(slope)), degrees(sd), nil
}

// rows is how many different lines there are.
func rows(list []flat, h float64) int {
	var at []float64
	for _, f := range list {
		if !slices.ContainsFunc(at, func(row float64) bool { return math.Abs(row-f.row) < otherRow*h }) {
			at = append(at, f.row)
		}
	}
	return len(at)
}

func long(list []flat) (sum float64) {
	for _, f := range list {
		sum += f.Length()
	}
	return sum
}

// straightThrough is the slope at the picture's middle row and how it grows a row, by
// weighted least squares with what is known of that before, and the slope's sigma.
func straightThrough(list []flat, turned float64) (slope, k, sigma float64) {
	var w, wr, wrr, ws, wrs float64
	for _, f := range list {
		g := 1 / (f.sigma * f.sigma)
		w, wr, wrr, ws, wrs = w+g, wr+g*f.row, wrr+g*f.row*f.row, ws+g*f.slope, wrs+g*f.row*f.slope
	}
	wrr += 1 / (turned * turned)
	det := w*wrr - wr*wr
	if !(det > 0) {
		return 0, 0, math.Inf(1)
	}
	return (wrr*ws - wr*wrs) / det, (w*wrs - wr*ws) / det, math.Sqrt(wrr / det)
}
