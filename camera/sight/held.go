package sight

import (
	"cmp"
	"math"
	"slices"

	"drillbay/camera/frame"
	"drillbay/camera/lens"
)

// Held is the club as it is held at the catch, in the analysed picture.
type Held struct {
	Hands, Head lens.Point
	Line, Lift  float64 // degrees, from Hands and Head and the prior of Forward
	// EndOn is set when no shaft is seen beside the hands: the club points
	// at the lens, and Head comes from the motion before.
	EndOn bool
	// AcrossHands and AcrossHead are the 1-sigma uncertainties of the two
	// points along the picture's level, px.
	AcrossHands, AcrossHead float64
	Sum                     float64 // evidence of the shaft, per cm
	Away                    float64 // how far the hands are from where they usually are at a catch, in its usual spread
}

// guess is one way to see the held club.
type guess struct {
	Held
	score float64
	by    by
}

// by says what a guess was made by.
type by int

const (
	byShaft by = iota
	byTape
	byNet
)

const (
	// A visible shaft begins this far from the hands point: the rest is in
	// the hands and behind the hand that caught it, m.
	hidden = 0.075
	// An end-on club shows no more than this of its length, m at the hands.
	endOnLength = 0.10
)

// heldView is what the held picture says of the club before the motion is
// asked.
type heldView struct {
	hands   lens.Point // by their look
	guesses []guess
	fwd     float64 // m, from the lens to the hands, a prior
	usual   lens.Point
	within  float64 // px, the usual spread
	near    float64 // px, hands that are no farther apart are in one place
}

// ends are the places at which the hands may be, no two of them near: that of
// their look first, and those of the best guesses.
func (v heldView) ends() []lens.Point {
	out := []lens.Point{v.hands}
	g := slices.Clone(v.guesses)
	slices.SortFunc(g, func(a, b guess) int { return cmp.Compare(b.score, a.score) })
	for _, x := range g {
		if x.score < leastEnd || len(out) == mostEnds {
			break
		}
		if !slices.ContainsFunc(out, func(p lens.Point) bool { return v.at(p, x) }) {
			out = append(out, x.Hands)
		}
	}
	return out
}

const (
	mostEnds = 3
	leastEnd = 0.8  // score
	onePlace = 0.05 // m at address
)

// at reports whether the hands of a guess are near a place.
func (v heldView) at(end lens.Point, g guess) bool {
	return math.Hypot(end.U-g.Hands.U, end.V-g.Hands.V) < v.near
}

// from are the guesses whose hands are near a place.
func (v heldView) from(end lens.Point) []guess {
	return slices.DeleteFunc(slices.Clone(v.guesses), func(g guess) bool { return !v.at(end, g) })
}

// viewHeld looks for hands and club in the hold: the hands by their look near
// where the motion left them, the club by what is new against the frames
// before.
func (s Setting) viewHeld(before, hold, still []*frame.Picture, st Stance, near lens.Point) heldView {
	m := s.perMetre(s.Distance)
	k, left := reduction(s.View.Width), s.View.Left
	fwd := s.Distance - min(0.5, Towards((st.Hands.V-near.V)/m))
	look := takeFist(mean(still, s.window(st), k, left).blur(0.8), st.Hands, m)
	r := around(near.U-0.75*m, near.V-0.8*m, near.U+0.7*m, near.V+0.65*m, s.View.Width, s.View.Height)
	now := mean(hold, r, k, left)
	soft := now.blur(0.8)
	hands, unlike := look.settle(soft, near, s.perMetre(fwd), 0.02)
	var prior []*gray
	for _, q := range thin(before, 16) {
		g := newGray(r, k)
		g.load(q, left)
		prior = append(prior, g)
	}
	usual := lens.Point{U: st.Hands.U + usualOut*m, V: st.Hands.V - usualRise*m}
	v := heldView{hands: hands, fwd: fwd, usual: usual, within: usualWithin * s.perMetre(fwd), near: onePlace * m}
	v.guesses = s.guesses(now, newBackdrop(prior), sighting{usual, hands, unlike, look, soft}, fwd)
	places := []lens.Point{hands}
	for _, x := range s.ponder(st, still, before, hold) {
		g, ok := s.taughtGuess(x, fwd)
		if ok {
			v.guesses = append(v.guesses, g)
			if !slices.Contains(places, x.hands) {
				places = append(places, x.hands)
			}
		}
	}
	if t, ok := s.findTape(still, st); ok {
		for _, p := range t.find(hold, before, usual, s.perMetre(fwd), left) {
			for _, h := range places {
				if g, ok := s.tapeGuess(t, p, h, fwd); ok {
					v.guesses = append(v.guesses, g)
				}
			}
		}
	}
	return v
}

// beforeHold are the pictures of seq before the club came near to where it is
// held: one that is placed there is in its place for long.
func beforeHold(seq, hold []*frame.Picture) []*frame.Picture {
	first, last := seq[0].Seconds(), hold[0].Seconds()
	return within(seq, first, last-max(0.15, 0.35*(last-first)))
}

// held is the guess with its hands near end that agrees with the direction in
// which the motion ended, or the club end-on.
func (v heldView) held(dir lens.Vec, end lens.Point) Held {
	most := 0.35
	best := Held{Hands: end, Head: end, EndOn: true}
	best.Line, best.Lift = lens.Angles(lens.Vec{}, dir)
	var chosen by
	from := v.from(end)
	for _, g := range from {
		if a := g.agrees(dir); a > most {
			best, most, chosen = g.Held, a, g.by
		}
	}
	if !best.EndOn {
		best = v.together(best, chosen, from)
	}
	best.Away = math.Hypot(best.Hands.U-v.usual.U, best.Hands.V-v.usual.V) / v.within
	return best
}

// together joins a held club with what sees the same by other means: of each
// the best guess that is near, hands and head by how sure each is of them.
func (v heldView) together(h Held, chosen by, all []guess) Held {
	out := h
	wh, wc := 1/sq(h.AcrossHands), 1/sq(h.AcrossHead)
	hands, head := times(h.Hands, wh), times(h.Head, wc)
	for _, kind := range [...]by{byShaft, byTape, byNet} {
		if kind == chosen {
			continue
		}
		var best guess
		for _, g := range all {
			if g.by == kind && g.score > best.score && apart(lens.Direction(g.Line, g.Lift), lens.Direction(h.Line, h.Lift)) < sameClub && math.Hypot(g.Hands.U-h.Hands.U, g.Hands.V-h.Hands.V) < v.near {
				best = g
			}
		}
		if best.score == 0 {
			continue
		}
		a, b := 1/sq(best.AcrossHands), 1/sq(best.AcrossHead)
		hands, head = plus(hands, times(best.Hands, a)), plus(head, times(best.Head, b))
		wh, wc = wh+a, wc+b
		out.Sum += best.Sum
	}
	out.Hands, out.Head = times(hands, 1/wh), times(head, 1/wc)
	out.AcrossHands, out.AcrossHead = math.Sqrt(1/wh), math.Sqrt(1/wc)
	return out
}

// sameClub is within how many degrees two guesses are of one club.
const sameClub = 6.0

func times(p lens.Point, k float64) lens.Point { return lens.Point{U: k * p.U, V: k * p.V} }

func plus(p, q lens.Point) lens.Point { return lens.Point{U: p.U + q.U, V: p.V + q.V} }

// agrees is how much a guess speaks for a direction of the club.
func (g guess) agrees(dir lens.Vec) float64 {
	return g.score * math.Exp(-sq(apart(lens.Direction(g.Line, g.Lift), dir)/6)/2)
}

// apart is the angle between two directions, degrees.
func apart(a, b lens.Vec) float64 { return math.Acos(max(-1, min(1, a.Dot(b)))) * 180 / math.Pi }

// possible reports whether a club can be held so in a catch.
func (g guess) possible() bool { return math.Abs(g.Line) <= 45 && g.Lift <= highest && g.Lift >= -45 }

// sighting is what is known of the hands in the hold: where they usually
// are, where they were followed to, and their look.
type sighting struct {
	usual, found lens.Point
	unlike       float64 // of found
	look         fist
	soft         *gray
}

const (
	// At a catch the hands have risen, and moved out, by so much from address,
	// m: they come 0.2 to 0.45 m toward the lens on arms of ArmRadius.
	usualRise, usualOut = 0.08, -0.02
	usualWithin         = 0.085
)

// guesses are the ways to see the held club: one for each spoke.
func (s Setting) guesses(now *gray, b backdrop, h sighting, fwd float64) []guess {
	m := s.perMetre(fwd)
	e := change(now, b, 8)
	fresh := now.like()
	for i, v := range now.Pix {
		fresh.Pix[i] = v - b.level.Pix[i]
	}
	var out []guess
	for _, x := range findSpokes(now.blur(0.6), fresh.blur(0.6), h.usual, m, 0.24*m, 14) {
		if g, ok := s.guess(x, e, h, fwd); ok {
			out = append(out, g)
		}
	}
	return out
}

// guess turns a spoke into a held club.
func (s Setting) guess(x spoke, e *gray, h sighting, fwd float64) (guess, bool) {
	m := s.perMetre(fwd)
	long := x.length()
	end, _ := x.end(e, m)
	c, sn := x.direction()
	far := (long + min(end, 1.3*long)) / 2
	head := lens.Point{U: x.from.U + c*far, V: x.from.V + sn*far}
	// Back from the beginning: what is hidden, foreshortened as the rest.
	back := far * hidden / (s.Reach - hidden)
	hands := lens.Point{U: x.from.U - c*back, V: x.from.V - sn*back}
	off := math.Hypot(h.usual.U-hands.U, h.usual.V-hands.V)
	near, unlike := h.found, h.unlike
	if math.Hypot(near.U-hands.U, near.V-hands.V) > 0.03*m {
		near, unlike = h.look.settle(h.soft, hands, m, 0.03)
	}
	// The look of the hands places them along the spoke too.
	along := (near.U-hands.U)*c + (near.V-hands.V)*sn
	sigmaLook, sigmaFrom := 0.012*m*(1+3*unlike), 0.015*m+0.06*far
	if beside := math.Abs(-(near.U-hands.U)*sn + (near.V-hands.V)*c); beside > 0.025*m {
		sigmaLook *= beside / (0.025 * m)
	}
	w := 1 / (1 + sq(sigmaLook/sigmaFrom))
	hands.U += w * along * c
	hands.V += w * along * sn
	g := guess{Held: Held{Hands: hands, Head: head, Sum: x.sum}}
	at := s.View.At(hands, fwd)
	p, ok := lens.Meet(at, s.View.Ray(head), s.Reach, 0.04)
	if !ok {
		return g, false
	}
	g.Line, g.Lift = lens.Angles(at, p)
	if !g.possible() {
		return g, false
	}
	sum := x.sum
	if c < 0.1 {
		sum -= 40 * max(0, min(1, (-sn-0.42)/0.2)) // arms run that way
	}
	g.score = min((sum-6)/14, 5) - 0.5*sq(off/(usualWithin*m)) - 1.2*max(0, unlike-h.unlike)
	g.AcrossHands = math.Abs(c)*math.Sqrt(1/(1/sq(sigmaLook)+1/sq(sigmaFrom))) + math.Abs(sn)*2
	g.AcrossHead = math.Abs(c)*(0.1*far+2) + math.Abs(sn)*2 + 0.02*s.perMetre(p.X)
	return g, g.score > 0
}

// pull is how much each state of the club agrees with one of the guesses, or
// with the club being end-on and so not seen beside the hands.
func (s Setting) pull(p planes, guesses []guess, hands lens.Point, fwd float64) []float64 {
	out := make([]float64, len(p.dir))
	at := s.View.At(hands, fwd)
	m := s.perMetre(fwd)
	for i, d := range p.dir {
		if p.arc[i] < 20 {
			continue
		}
		if q, ok := s.View.Project(at.Add(d.Mul(s.Reach))); ok && math.Hypot(q.U-hands.U, q.V-hands.V) < endOnLength*m {
			out[i] = 1.0
		}
		for _, g := range guesses {
			out[i] = max(out[i], g.agrees(d))
		}
	}
	return out
}
