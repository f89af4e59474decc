package sight

import (
	"cmp"
	"errors"
	"slices"

	"drillbay/camera/frame"
)

// ErrTooFew says that there are not enough pictures to tell by.
var ErrTooFew = errors.New("too few pictures")

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

// spaced are the pictures at least step seconds apart, the newest first.
func spaced(pics []*frame.Picture, step float64) (out []*frame.Picture) {
	for i := len(pics) - 1; i >= 0; i-- {
		if n := len(out); n == 0 || out[n-1].Seconds()-pics[i].Seconds() >= step-1e-6 {
			out = append(out, pics[i])
		}
	}
	return out
}

// unlike are the most pictures that differ most from the still ones where
// the club can be, each by at least a share of what the first differs by.
func (s Setting) unlike(still, pics []*frame.Picture, most int, share float32) []*frame.Picture {
	m, tp := s.perMetre(s.Distance), s.View.TargetPoint()
	const k = 8
	r := around(tp.U-0.5*m, tp.V-0.3*m, tp.U+0.8*m, tp.V+m, s.View.Width/k*k, s.View.Height/k*k)
	now := mean(still, r, k, s.View.Left)
	type one struct {
		pic *frame.Picture
		off float32
	}
	all := make([]one, len(pics))
	g := now.like()
	for i, p := range pics {
		g.load(p, s.View.Left)
		all[i].pic = p
		for j, v := range g.Pix {
			all[i].off += abs32(v - now.Pix[j])
		}
	}
	slices.SortStableFunc(all, func(a, b one) int { return cmp.Compare(b.off, a.off) })
	out := make([]*frame.Picture, 0, most)
	for _, o := range all[:min(most, len(all))] {
		if o.off >= share*all[0].off {
			out = append(out, o.pic)
		}
	}
	return out
}

func abs32(x float32) float32 {
	if x < 0 {
		return -x
	}
	return x
}

// reduction is how far pictures are reduced of a width in px.
func reduction(width int) int {
	switch {
	case width <= 1440:
		return 1
	case width <= 2880:
		return 2
	default:
		return 4
	}
}
