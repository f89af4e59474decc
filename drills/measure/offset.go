package measure

import (
	"errors"
	"io"
	"math"

	"drillbay/camera/clip"
	"drillbay/camera/eye"
	"drillbay/camera/frame"
)

// Pulse is how fast hands and club move in the picture at a time: their ways in a
// second, in shares of how large the player looks.
type Pulse struct{ At, Speed float64 }

// Pulses looks at a clip for how its player moves.
func Pulses(src Frames, left bool) (out []Pulse, err error) {
	net, err := eye.Taught()
	if err != nil {
		return nil, err
	}
	e, find := net.NewEye(), eye.Finder{}
	var before *frame.Picture
	defer func() {
		if before != nil {
			before.Release()
		}
	}()
	var last [2]eye.Place
	lastAt := math.Inf(-1)
	for {
		p, err := src.Next()
		if errors.Is(err, io.EOF) {
			return out, nil
		}
		if errors.Is(err, clip.ErrNotAClip) && len(out) > 0 {
			continue // a damaged frame
		}
		if err != nil {
			return out, err
		}
		at := p.Seconds()
		if at-lastAt < pulseStep-1e-4 {
			p.Release()
			continue
		}
		s, ok := find.Follow(e, p, before, nil, left)
		if before != nil {
			before.Release()
		}
		before = p
		now := [2]eye.Place{s.Places[eye.Hands], s.Places[eye.Head]}
		speed := 0.0
		for i, q := range now {
			was := last[i]
			if !ok || q.Here < 0.5 || was.Here < 0.5 || at-lastAt > 0.2 {
				continue
			}
			v := math.Hypot(q.U-was.U, q.V-was.V) / (at - lastAt) / s.Whole.Side
			if v < fastest {
				speed += v
			}
		}
		last, lastAt = now, at
		out = append(out, Pulse{at, speed})
	}
}

// ErrOffset says that two clips cannot be laid on each other.
var ErrOffset = errors.New("the two clips cannot be laid on each other")

// Offset is how much later the same motion is in b than in a, s, by the greatest
// normalised cross-correlation of the two, between even steps by a parabola; and
// how alike they are then, 0 to 1.
func Offset(a, b []Pulse) (seconds, alike float64, err error) {
	x, xs := even(a)
	y, ys := even(b)
	least := int(leastShared * pulseRate)
	if len(x) < least || len(y) < least {
		return 0, 0, errors.Join(ErrOffset, errors.New("one of them is shorter than two seconds"))
	}
	from, to := -(len(x) - least), len(y)-least
	all := make([]float64, to-from+1)
	best := 0
	for k := range all {
		if all[k] = alikeAt(x, y, from+k); all[k] > all[best] {
			best = k
		}
	}
	if all[best] < leastAlike {
		return 0, all[best], errors.Join(ErrOffset, errors.New("they do not show the same motion"))
	}
	for k, v := range all {
		if math.Abs(float64(k-best)) > apartBy*pulseRate && all[best]-v < clearBy {
			return 0, all[best], errors.Join(ErrOffset, errors.New("they move alike at more than one offset: cut them to one rep, or to where a motion is of its own kind"))
		}
	}
	return ys - xs + (float64(from)+peak(all, best))/pulseRate, all[best], nil
}

// peak is where the greatest value lies, between even steps by a parabola.
func peak(all []float64, best int) float64 {
	at := float64(best)
	if best > 0 && best+1 < len(all) {
		l, m, r := all[best-1], all[best], all[best+1]
		if d := l - 2*m + r; d < 0 {
			at += (l - r) / 2 / d
		}
	}
	return at
}

// alikeAt is the normalised correlation of x and of y lag steps later, over what
// they share; what little is shared says little.
func alikeAt(x, y []float64, lag int) float64 {
	shared := min(len(x), len(y)-lag) - max(0, -lag)
	return correlationAt(x, y, lag) * math.Sqrt(float64(shared)/float64(min(len(x), len(y))))
}

// correlationAt is the normalised correlation of x and of y lag steps later, over
// what they share.
func correlationAt(x, y []float64, lag int) float64 {
	i0, i1 := max(0, -lag), min(len(x), len(y)-lag)
	var mx, my float64
	for i := i0; i < i1; i++ {
		mx, my = mx+x[i], my+y[i+lag]
	}
	n := float64(i1 - i0)
	mx, my = mx/n, my/n
	var xy, xx, yy float64
	for i := i0; i < i1; i++ {
		u, v := x[i]-mx, y[i+lag]-my
		xy, xx, yy = xy+u*v, xx+u*u, yy+v*v
	}
	if xx == 0 || yy == 0 {
		return 0
	}
	return xy / math.Sqrt(xx*yy)
}

// even are pulses on an even clock that begins at a time, s; large ones count
// less, so that a blurred moment does not decide.
func even(p []Pulse) (out []float64, begins float64) {
	if len(p) < 2 {
		return nil, 0
	}
	begins = p[0].At
	i := 1
	for t := begins; t <= p[len(p)-1].At; t = begins + float64(len(out))/pulseRate {
		for i < len(p)-1 && p[i].At < t {
			i++
		}
		a, b := p[i-1], p[i]
		w := (t - a.At) / (b.At - a.At)
		out = append(out, math.Sqrt(max(0, a.Speed+w*(b.Speed-a.Speed))))
	}
	return out, begins
}
