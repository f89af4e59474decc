package lens

import (
	"errors"
	"math"
	"slices"
)

// Edge is a straight edge seen in the picture; Sd is the 1-sigma uncertainty
// of each end across it, px.
type Edge struct {
	Stretch
	Sd float64
}

// Length returns the length of the stretch, px.
func (l Stretch) Length() float64 { return math.Hypot(l.To.U-l.From.U, l.To.V-l.From.V) }

// ErrNoLines says that no lines along the target line can be told from what
// else is in the picture.
var ErrNoLines = errors.New("no lines along the target line are made out in the picture")

const (
	// The target point lies within this of the picture's middle: the camera
	// looks along the target line, a little down. Shares of the width, and of
	// the height from the top.
	targetAcross        = 0.30
	targetTop, targetLo = 0.05, 0.80
	// Edges are steeper than this against the picture's level, and two of
	// them differ by so much, rad.
	flattest = 11 * math.Pi / 180
	apart    = 18 * math.Pi / 180
	// Lines that lie closer to each other than this, as seen from the target point, count
	// as one; rad.
	sameWay = 5 * math.Pi / 180
	// An edge runs to the target point when it passes within so many sigmas
	// of it and this many px of a picture 1280 wide.
	passes, passesPx = 2.0, 0.7
	closely          = 0.35
	// The largest number of false meeting points, expected by chance, with which lines are
	// still offered.
	chance = 0.01
	// The corners of a mat, px of a picture 1280 wide.
	corner = 9.0
	// The largest uncertainty of a target point that is offered, of the width.
	leastSure = 0.012
	offered   = 3
)

// longer are the shares of the width from which edges count, tried in turn.
var longer = [...]float64{0, 0.1, 0.2}

// tries is the number of tests that lines have to come out of as unlikely enough: chance
// gets so many tries.
const tries = 2 * float64(len(longer))

// Along picks, from the edges in a picture, lines on the ground that run along
// the target line: they meet in one point that can be the target point, and
// there are too many of them, or they are too long, for it to be chance; or
// two of them are the sides of a mat whose ends are seen as well. It returns
// at most three, the surest first, with their meeting point and its
// uncertainty, px. It would rather return ErrNoLines than a line that does not
// run along the target line.
func Along(edges []Edge, width, height int) (lines []Edge, target Point, across, down float64, err error) {
	w, h := float64(width), float64(height)
	var steep []Edge
	for _, e := range edges {
		if e.slant() > flattest {
			steep = append(steep, e)
		}
	}
	type found struct {
		in    []Edge
		score float64
	}
	var best found
	for i, a := range steep {
		for _, b := range steep[:i] {
			p, ok := a.meets(b)
			if !ok || math.Abs(p.U-w/2) > targetAcross*w || p.V < targetTop*h || p.V > targetLo*h {
				continue
			}
			in := runningTo(steep, p, w, h, 1)
			score := weigh(in, steep, edges, p, w, 1)
			// Lines that meet closely are less likely to do so by chance.
			score = max(score, weigh(runningTo(steep, p, w, h, closely), steep, edges, p, w, closely))
			if score > best.score {
				best = found{in, score}
			}
		}
	}
	if best.score <= 0 {
		return nil, Point{}, 0, 0, ErrNoLines
	}
	p, across, down, err := meeting(best.in)
	if err != nil || !(math.Hypot(across, down) < leastSure*w) {
		return nil, Point{}, 0, 0, ErrNoLines
	}
	return onGround(best.in, p), p, across, down, nil
}

// meeting is a point at which edges meet, with the uncertainty of the least sure of them.
func meeting(edges []Edge) (p Point, across, down float64, err error) {
	list, sd := make([]Stretch, len(edges)), 0.0
	for i, e := range edges {
		list[i] = e.Stretch
		sd = max(sd, e.Sd)
	}
	return MeetingPoint(list, sd)
}

// slant returns the angle between the edge and the picture's horizontal, rad, 0 to π/2.
func (l Stretch) slant() float64 {
	return math.Atan2(math.Abs(l.To.V-l.From.V), math.Abs(l.To.U-l.From.U))
}

// meets returns the point where two edges meet; ok is false unless they differ in direction
// and both lie wholly under that point, on the ground.
func (e Edge) meets(o Edge) (Point, bool) {
	n, m := e.normal(), o.normal()
	det := n.U*m.V - n.V*m.U
	if math.Abs(det) < math.Sin(apart) {
		return Point{}, false
	}
	c, d := n.U*e.From.U+n.V*e.From.V, m.U*o.From.U+m.V*o.From.V
	p := Point{(c*m.V - d*n.V) / det, (n.U*d - m.U*c) / det}
	return p, e.below(p) && o.below(p)
}

// below reports whether the edge lies wholly under p, on the ground.
func (l Stretch) below(p Point) bool {
	return min(l.From.V, l.To.V) > p.V+4
}

// runningTo are the edges that run to p, on the ground or under the roof,
// within a share of what they may be off.
func runningTo(edges []Edge, p Point, w, h, share float64) (out []Edge) {
	for _, e := range edges {
		off := math.Abs(e.distance(p))
		ends := min(math.Hypot(e.From.U-p.U, e.From.V-p.V), math.Hypot(e.To.U-p.U, e.To.V-p.V))
		clear := e.below(p) || max(e.From.V, e.To.V) < p.V-4
		if clear && ends > 0.02*h && off < share*e.pass(p, w) {
			out = append(out, e)
		}
	}
	return out
}

// ways are the edges by the direction in which they lie from p, the longest
// of each.
func ways(edges []Edge, p Point) (out []Edge) {
	from := func(e Edge) float64 {
		return math.Atan2((e.From.V+e.To.V)/2-p.V, (e.From.U+e.To.U)/2-p.U)
	}
	for _, e := range edges {
		i := slices.IndexFunc(out, func(o Edge) bool {
			return math.Abs(math.Remainder(from(e)-from(o), 2*math.Pi)) < sameWay
		})
		switch {
		case i < 0:
			out = append(out, e)
		case e.Length() > out[i].Length():
			out[i] = e
		}
	}
	return out
}

// weigh returns how strongly the edges speak for p as the target point, 0 when too weakly:
// by the number of such points that chance would give among as many edges (the number of
// false alarms; Desolneux, Moisan & Morel, From Gestalt Theory to Image Analysis, 2008, ch.
// 3), of all edges or of the long ones alone, or by a mat.
func weigh(in, steep, all []Edge, p Point, w, share float64) float64 {
	each := ways(in, p)
	ground := 0
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, e := range each {
		if e.below(p) {
			a := math.Atan2((e.From.V+e.To.V)/2-p.V, (e.From.U+e.To.U)/2-p.U)
			ground, lo, hi = ground+1, min(lo, a), max(hi, a)
		}
	}
	if ground < 2 || hi-lo < apart {
		return 0
	}
	best := 0.0
	for _, least := range longer {
		few := atLeast(each, least*w)
		if alarms := falseAlarms(few, atLeast(steep, least*w), p, w, share) * tries; alarms < chance {
			best = max(best, -math.Log(alarms))
		}
	}
	if best == 0 && isMat(each, all, p, w) {
		best = -math.Log(chance)
	}
	return best
}

func atLeast(edges []Edge, length float64) (out []Edge) {
	for _, e := range edges {
		if e.Length() >= length {
			out = append(out, e)
		}
	}
	return out
}

// falseAlarms returns how many points chance would give at which as many edges meet: the
// number of pairs that propose a point, times the chance that so many other edges pass it
// when each is turned at random about its middle.
func falseAlarms(each, steep []Edge, p Point, w, share float64) float64 {
	n := float64(len(ways(steep, p)))
	more := len(each) - 2
	if more < 1 {
		return math.Inf(1)
	}
	mean := 0.0
	for _, e := range ways(steep, p) {
		far := math.Hypot((e.From.U+e.To.U)/2-p.U, (e.From.V+e.To.V)/2-p.V)
		mean += min(1, 2*share*e.pass(p, w)/(math.Pi*max(far, 1)))
	}
	mean *= max(n-2, 1) / n
	alarms := n * (n - 1) / 2
	for i := 1; i <= more; i++ {
		alarms *= mean / float64(i)
	}
	return alarms
}

// pass returns the largest distance from p at which the edge's line still counts as running
// to it, px.
func (e Edge) pass(p Point, w float64) float64 {
	return passes*e.Sd*math.Sqrt(e.variance(p)) + passesPx*w/1280
}

// isMat reports whether two of the edges on the ground are the sides of a
// mat: a level edge joins them at one end, corner to corner.
func isMat(sides, all []Edge, p Point, w float64) bool {
	near := func(a, b Point) bool { return math.Hypot(a.U-b.U, a.V-b.V) < corner*w/1280 }
	lower := func(e Edge) (top, bottom Point) {
		if e.From.V < e.To.V {
			return e.From, e.To
		}
		return e.To, e.From
	}
	joins := func(e Edge, a, b Point) bool {
		return near(e.From, a) && near(e.To, b) || near(e.From, b) && near(e.To, a)
	}
	for i, a := range sides {
		for _, b := range sides[:i] {
			if !a.below(p) || !b.below(p) {
				continue
			}
			at, ab := lower(a)
			bt, bb := lower(b)
			for _, e := range all {
				if e.slant() < flattest && (joins(e, ab, bb) || joins(e, at, bt)) {
					return true
				}
			}
		}
	}
	return false
}

// onGround are the edges to offer: on the ground, each its own way, those
// first that hold the target point best.
func onGround(in []Edge, p Point) []Edge {
	ground := slices.DeleteFunc(slices.Clone(in), func(e Edge) bool { return !e.below(p) })
	each := ways(ground, p)
	slices.SortStableFunc(each, func(a, b Edge) int {
		x, y := a.variance(p)*a.Sd*a.Sd, b.variance(p)*b.Sd*b.Sd
		switch {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	// The second is the surest that lies clearly another way than the first.
	for i := 1; i < len(each); i++ {
		n, m := each[0].normal(), each[i].normal()
		if math.Abs(n.U*m.V-n.V*m.U) > math.Sin(apart) {
			e := each[i]
			each = slices.Insert(slices.Delete(each, i, i+1), 1, e)
			break
		}
	}
	return each[:min(len(each), offered)]
}
