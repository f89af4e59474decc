package sight

import (
	"errors"
	"math"

	"drillbay/camera/frame"
	"drillbay/camera/lens"
)

// Sample is the club in one frame, in the analysed picture. Line and Lift are
// the shaft line and the elevation in degrees, as the rod fits best; Arc is
// how far the club has swung from address, degrees, + back.
type Sample struct {
	At          float64 // s, capture clock
	Hands, Head lens.Point
	Forward     float64 // m, lens to hands along the target line, a prior
	Line, Lift  float64
	Arc         float64
	Fit         float64 // evidence, in units of the noise
	Unlike      float64 // how little the hands there look like those at address, 0..1
}

// Track is what the full pass saw of one rep.
type Track struct {
	Stance  Stance
	Samples []Sample
	Held    *Held // nil without a catch
	// Start is when the head left address, Turn when the backward motion
	// began (equal to Start without a forward swing); Top and Impact are NaN
	// but in whole swings. Seconds of the capture clock.
	Start, Turn, Top, Impact float64
	Frame                    float64 // s between frames
}

// ErrBack says that the stillness after the motion is that of address again.
var ErrBack = errors.New("the club is back at address")

// ErrTooFew says that there were not enough frames to read.
var ErrTooFew = errors.New("too few frames of the rep")

// Read follows the club through the frames of one rep, whose rough moments
// span gives. The frames are in order of time and include the stillness at
// address and, when there is one, the hold.
func (s Setting) Read(pics []*frame.Picture, span Span) (Track, error) {
	last := span.Catch
	caught := !math.IsNaN(span.Catch)
	if !caught {
		last = span.Start + 1.4
	}
	still := thin(within(pics, max(span.Start-0.8, span.Address), span.Start-0.16), 16)
	moving := thin(within(pics, span.Start+0.25, last+0.1), 9)
	if len(still) < 3 || len(moving) < 4 {
		return Track{}, ErrTooFew
	}
	stance, err := findAddress(still, moving, s)
	if err != nil {
		return Track{}, err
	}
	t := Track{Stance: stance}
	var hold []*frame.Picture
	if caught {
		end := span.Catch + 0.4
		if span.End < end {
			end = span.End
		}
		hold = thin(within(pics, span.Catch+0.04, end), 16)
	}
	seq := within(pics, span.Start-0.3, last-0.02)
	if len(seq) < 4 {
		return Track{}, ErrTooFew
	}
	w := s.window(stance)
	k := 2 * reduction(s.View.Width)
	left := s.View.Left
	leave := newLeaving(still, stance, s, w, k)
	if caught && leave.back(thin(seq, 12), hold, w, k, left) {
		return Track{}, ErrBack
	}
	grays := make([]*gray, 0, len(seq)+1)
	dts := make([]float64, 0, len(seq)+1)
	for i, p := range seq {
		g := newGray(w, k)
		g.load(p, left)
		grays = append(grays, g)
		dt := 1 / 30.0
		if i > 0 {
			dt = p.Seconds() - seq[i-1].Seconds()
		}
		dts = append(dts, dt)
	}
	if len(hold) > 0 {
		grays = append(grays, mean(hold, w, k, left))
		dts = append(dts, hold[0].Seconds()-seq[len(seq)-1].Seconds())
	}
	m := s.perMetre(s.Distance)
	calm := mean(still, w, k, left)
	f := takeFist(calm.blur(0.7), stance.Hands, m)
	high := 0.36
	if !caught {
		high = 0.75
	}
	soft := make([]*gray, len(grays))
	for i, g := range grays {
		soft[i] = g.blur(0.7)
	}
	t.Frame = (seq[len(seq)-1].Seconds() - seq[0].Seconds()) / float64(len(seq)-1)
	t.Start, t.Top, t.Impact = leave.moments(soft[:len(seq)], seq, caught)
	hands, unlike := followHands(soft, dts, f, stance.Hands, s, high, caught)
	back := newBackdrop(s.scene(grays, seq, t.Start))
	evidence := soft[:len(seq)]
	for i, g := range grays[:len(seq)] {
		evidence[i] = change(g, back, 6)
	}
	p := newPlanes(lens.Direction(stance.Line, stance.Lift))
	var pull []float64
	var guesses []guess
	last3 := hands[len(hands)-1]
	fwd := s.Distance - min(0.5, forward((stance.Hands.V-last3.V)/m))
	if len(hold) > 0 {
		full := mean(still, w, k/2, left).blur(0.8)
		look := takeFist(full, stance.Hands, m)
		r := s.near(last3)
		now := mean(hold, r, k/2, left)
		near, far := look.settle(now.blur(0.8), last3, s.perMetre(fwd), 0.02)
		last3 = near
		var prior []*gray
		for _, q := range thin(seq, 16) {
			g := newGray(r, k/2)
			g.load(q, left)
			prior = append(prior, g)
		}
		guesses = s.guesses(now, newBackdrop(prior), near, far, fwd)
		pull = s.pull(p, guesses, near, fwd)
		hands[len(hands)-1] = near
	}
	states := s.followClub(evidence, hands, dts, p, pull)
	for i, st := range states {
		line, lift := lens.Angles(lens.Vec{}, p.dir[st])
		smp := Sample{At: span.Catch, Hands: hands[i], Line: line, Lift: lift, Arc: p.arc[st], Unlike: unlike[i]}
		smp.Forward = s.Distance - max(-0.35, min(0.45, forwardPerDegree*p.arc[st]))
		if i < len(seq) {
			smp.At = seq[i].Seconds()
			smp.Fit = s.rodScore(evidence[i], hands[i], smp.Forward, p.dir[st])
		}
		smp.Head, _ = s.View.Project(s.View.At(hands[i], smp.Forward).Add(p.dir[st].Mul(s.Reach)))
		t.Samples = append(t.Samples, smp)
	}
	t.Turn = t.turn()
	if len(hold) > 0 {
		final := states[len(states)-1]
		if g := choose(guesses, p.dir[final]); g != nil {
			t.Held = &g.Held
		} else {
			t.Held = &Held{Hands: last3, EndOn: true, Head: last3}
			t.Held.Line, t.Held.Lift = lens.Angles(lens.Vec{}, p.dir[final])
		}
		at := s.arrival(pics, hold, *t.Held, w, k, span.Catch)
		t.arrive(at)
	}
	return t, nil
}

// arrive puts the hold at a time and drops the samples that are not before it.
func (t *Track) arrive(at float64) {
	n := len(t.Samples)
	held := t.Samples[n-1]
	for n > 5 && t.Samples[n-2].At >= at {
		n--
	}
	held.At = max(at, t.Samples[n-2].At+0.001)
	t.Samples = append(t.Samples[:n-1], held)
}

// scene are pictures of what is there without the club: from when it left
// address, the hold, where the club is elsewhere, three times.
func (s Setting) scene(grays []*gray, seq []*frame.Picture, start float64) []*gray {
	i := 0
	for i+8 < len(seq) && seq[i].Seconds() < start {
		i++
	}
	out := thinGray(grays[i:len(seq)], 16)
	for _, hold := range grays[len(seq):] {
		out = append(out, hold, hold, hold)
	}
	return out
}

// near is the part of the picture about held hands.
func (s Setting) near(h lens.Point) region {
	m := s.perMetre(s.Distance)
	return around(h.U-0.75*m, h.V-0.8*m, h.U+0.7*m, h.V+0.65*m, s.View.Width, s.View.Height)
}

// window is the part of the picture that the club can reach.
func (s Setting) window(st Stance) region {
	m := s.perMetre(s.Distance)
	return around(st.Hands.U-0.85*m, st.Hands.V-0.95*m, st.Hands.U+0.8*m, st.Head.V+0.25*m, s.View.Width, s.View.Height)
}

// within are the pictures from a to b seconds.
func within(pics []*frame.Picture, a, b float64) []*frame.Picture {
	i, j := 0, len(pics)
	for i < j && pics[i].Seconds() < a {
		i++
	}
	for j > i && pics[j-1].Seconds() > b {
		j--
	}
	return pics[i:j]
}

// thin keeps at most n pictures, evenly.
func thin(pics []*frame.Picture, n int) []*frame.Picture {
	if len(pics) <= n {
		return pics
	}
	out := make([]*frame.Picture, n)
	for i := range out {
		out[i] = pics[i*(len(pics)-1)/(n-1)]
	}
	return out
}

func thinGray(g []*gray, n int) []*gray {
	if len(g) <= n {
		return append([]*gray(nil), g...)
	}
	out := make([]*gray, n)
	for i := range out {
		out[i] = g[i*(len(g)-1)/(n-1)]
	}
	return out
}
