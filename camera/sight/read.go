package sight

import (
	"errors"
	"math"
	"slices"
	"sync"

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
	Seen        bool    // hands and head were seen there by themselves
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

// levelBy is the share of a backswing's time by which the club is at level
// (common practice: about half).
const levelBy = 0.75

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
	leave := newLikeness(still, s.addressPoints(stance), w, k, left)
	if caught && leave.back(thin(seq, 12), hold) {
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
	f := takeFist(mean(still, w, k, left).blur(0.7), stance.Hands, m)
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
	to := last
	if !math.IsNaN(t.Top) {
		to = t.Start + levelBy*(t.Top-t.Start)
	}
	eyes := s.watch(s.viewer(still, stance), seq, hold, t.Start, to).eyes
	paths := followHands(soft, dts, f, stance.Hands, s, high, caught)
	paths.heed(eyes, s.perMetre(s.Distance))
	hands, unlike := paths.path(nil, m)
	back := newBackdrop(s.scene(grays, seq, t.Start))
	evidence := soft[:len(seq)]
	for i, g := range grays[:len(seq)] {
		evidence[i] = change(g, back, 6)
	}
	p := newPlanes(lens.Direction(stance.Line, stance.Lift))
	var states []int
	var held *Held
	if len(hold) > 0 {
		before := beforeHold(seq, hold)
		if len(before) == 0 {
			return Track{}, ErrTooFew
		}
		seen := s.viewHeld(before, hold, still, stance, hands[len(hands)-1])
		best := math.Inf(1)
		for i, end := range seen.ends() {
			at, un := hands, unlike
			if i > 0 {
				at, un = paths.path(&end, m)
			}
			at[len(at)-1] = end
			st, sum := s.followClub(evidence, at, dts, p, s.pull(p, seen.from(end), end, seen.fwd))
			if sum < best {
				best, states, hands, unlike = sum, st, at, un
				h := seen.held(p.dir[st[len(st)-1]], end)
				held = &h
			}
		}
	} else {
		states, _ = s.followClub(evidence, hands, dts, p, nil)
	}
	for i, st := range states {
		smp := s.sample(hands[i], p.dir[st], p.arc[st])
		smp.At, smp.Unlike = span.Catch, unlike[i]
		if i < len(seq) {
			smp.At = seq[i].Seconds()
			smp.Fit = s.rodScore(evidence[i], hands[i], smp.Forward, p.dir[st])
		}
		t.Samples = append(t.Samples, smp)
	}
	t.Turn = t.turn()
	if held == nil {
		s.rising(t.Samples, eyes)
		return t, nil
	}
	t.Held = held
	t.arrive(s.arrival(pics, hold, *held, w, k, span.Catch))
	return t, nil
}

// sample is the club with its hands at a place, in a direction, after an arc.
func (s Setting) sample(hands lens.Point, dir lens.Vec, arc float64) Sample {
	smp := Sample{Hands: hands, Arc: arc, Forward: s.forwardAfter(arc)}
	smp.Line, smp.Lift = lens.Angles(lens.Vec{}, dir)
	smp.Head, _ = s.View.Project(s.View.At(hands, smp.Forward).Add(dir.Mul(s.Reach)))
	return smp
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
	out := slices.Clone(thin(grays[i:len(seq)], 16))
	for _, hold := range grays[len(seq):] {
		out = append(out, hold, hold, hold)
	}
	return out
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

// shared does work in two goroutines: each takes every step-th piece from its
// first on.
func shared(work func(first, step int)) {
	const workers = 2
	var wg sync.WaitGroup
	for first := range workers {
		wg.Go(func() { work(first, workers) })
	}
	wg.Wait()
}

// thin keeps at most n of all, evenly.
func thin[T any](all []T, n int) []T {
	if len(all) <= n {
		return all
	}
	out := make([]T, n)
	for i := range out {
		out[i] = all[i*(len(all)-1)/(n-1)]
	}
	return out
}
