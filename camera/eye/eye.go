// Package eye sees the player, the club and the ball in a picture. One network
// looks at a square window of it, at the whole player or closely, and says for
// each point where it is, how sure that is, and whether it is there at all.
// learn holds how it is taught.
package eye

import "drillbay/camera/frame"

// Place is where the eye sees a point: U and V in px of the picture, the
// middle of whose first pixel is at (0.5, 0.5), their covariance in px², the
// chance that the point is in the window, and the chance that it is in sight
// there rather than hidden.
type Place struct {
	U, V       float64
	UU, UV, VV float64
	Here, Seen float64
}

// Look is what the eye says of one window.
type Look struct {
	Window Window
	Places [Points]Place
}

// Eye looks at pictures. It has memory of its own and allocates nothing after
// its first look; one goroutine uses it at a time.
type Eye struct {
	net     *Net
	layers  *layers
	sampler sampler
	spots   [Points]spot
}

// NewEye returns an eye that sees by the network.
func (n *Net) NewEye() *Eye { return &Eye{net: n, layers: n.layers(Side)} }

// Look looks at a window of the picture now. before is the picture before it
// and still a reference, that of address or of the empty bay: either may be
// nil, and one of another size or range is not used. With mirrored, the
// network sees the window mirrored, so that a left-hander looks like a
// right-hander; places and sides are told for the picture as it is.
func (e *Eye) Look(at Window, now, before, still *frame.Picture, mirrored bool) Look {
	out := Look{Window: at}
	if !at.ok() {
		return out
	}
	side := e.layers.side
	e.sampler.sample(&e.net.kernels, &e.layers.input, side, at, now, before, still, mirrored)
	e.net.run(e.layers)
	e.net.read(e.layers, &e.spots)
	k := at.Side / float64(side)
	for i, s := range e.spots {
		p := Point(i)
		if mirrored {
			p = p.Mirrored()
			s.x, s.xy = float64(side)-s.x, -s.xy
		}
		out.Places[p] = Place{
			U: at.U + (s.x-float64(side)/2)*k, V: at.V + (s.y-float64(side)/2)*k,
			UU: s.xx * k * k, UV: s.xy * k * k, VV: s.yy * k * k, Here: s.here, Seen: s.seen,
		}
	}
	return out
}
