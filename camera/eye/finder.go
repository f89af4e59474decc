package eye

import (
	"math"

	"drillbay/camera/frame"
)

// Finder finds the player in whole pictures and follows him from one to the
// next. The zero value has seen nobody yet.
type Finder struct {
	window Window // of the player; no side: nobody is followed
}

// Sight is what a Finder saw: the player's places, and the windows they come
// from. Close has no side where hands and club were not looked at closely.
type Sight struct {
	Places       [Points]Place
	Whole, Close Window
}

// Follow looks at the picture now, from where the player was, or all over it
// when that is not known; then closely at hands and club. It reports false
// when nobody is seen. before, still and mirrored are Eye.Look's.
func (f *Finder) Follow(e *Eye, now, before, still *frame.Picture, mirrored bool) (Sight, bool) {
	return f.follow(func(w Window) Look { return e.Look(w, now, before, still, mirrored) }, float64(now.Width), float64(now.Height))
}

func (f *Finder) follow(look func(Window) Look, width, height float64) (Sight, bool) {
	seen, ok := f.find(look, width, height)
	if !ok {
		f.window = Window{}
		return Sight{}, false
	}
	s := Sight{Places: seen.Places, Whole: seen.Window}
	if w, ok := closer(seen); ok {
		s.Close = w
		merge(&s.Places, look(w).Places)
	}
	return s, true
}

// find looks where the player was, and where he is not there any more, at the
// whole picture and then at whom that shows.
func (f *Finder) find(look func(Window) Look, width, height float64) (Look, bool) {
	if f.window.ok() {
		seen := look(f.window)
		if next, ok := about(seen); ok && there(seen) {
			f.window.U += follow * (next.U - f.window.U)
			f.window.V += follow * (next.V - f.window.V)
			f.window.Side += follow * (next.Side - f.window.Side)
			return seen, true
		}
	}
	all := look(Window{width / 2, height / 2, max(width, height)})
	if !there(all) {
		return all, false
	}
	w, ok := about(all)
	if !ok {
		return all, false
	}
	seen := look(w)
	next, ok := about(seen)
	if !ok || !there(seen) {
		return seen, false
	}
	f.window = next
	return seen, true
}

// there says whether a look shows a player.
func there(l Look) bool {
	var sum float64
	for _, p := range [...]Point{Hands, Neck, LeftHip, RightHip} {
		sum += l.Places[p].Here
	}
	return sum/4 >= present
}

// about is the window about all points of a look that count, the ball apart.
func about(l Look) (Window, bool) {
	u0, v0, u1, v1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for p := range Ball {
		if q := l.Places[p]; q.Here >= counted {
			u0, v0, u1, v1 = min(u0, q.U), min(v0, q.V), max(u1, q.U), max(v1, q.V)
		}
	}
	v1 = max(v1, feet(&l.Places))
	w := Window{(u0 + u1) / 2, (v0 + v1) / 2, margin * max(u1-u0, v1-v0)}
	return w, w.ok() && w.Side >= smallest
}

// feet is how far down the feet of a player must be whose ankles a look does not
// show, as a window that cuts his legs does not, so that the next one holds them;
// −∞ when an ankle is seen, or neck and hips are not.
func feet(places *[Points]Place) float64 {
	neck, down := places[Neck], math.Inf(-1)
	if neck.Here < counted || places[LeftAnkle].Here >= counted || places[RightAnkle].Here >= counted {
		return down
	}
	for _, p := range [...]Point{LeftHip, RightHip} {
		if hip := places[p]; hip.Here >= counted {
			down = max(down, hip.V+legs*math.Hypot(hip.U-neck.U, hip.V-neck.V))
		}
	}
	return down
}

// closer is the window about hands and club, from a look at the player.
func closer(l Look) (Window, bool) {
	hands, head := l.Places[Hands], l.Places[Head]
	if hands.Here < counted {
		return Window{}, false
	}
	w := Window{hands.U, hands.V, l.Window.Side * closely / player}
	if head.Here >= counted {
		w.U, w.V = (hands.U+head.U)/2, (hands.V+head.V)/2
		w.Side = max(w.Side, margin*max(math.Abs(hands.U-head.U), math.Abs(hands.V-head.V)))
	}
	return w, w.Side >= smallest && w.Side < l.Window.Side
}

// merge puts the club's places of a closer look in place of those that it
// supports better: where both agree the surer one, else the likelier one.
func merge(places *[Points]Place, closer [Points]Place) {
	for p := GripEnd; p <= Head; p++ {
		a, b := places[p], closer[p]
		better := b.Here*b.Seen > a.Here*a.Seen
		if apart(a, b) < agree {
			better = b.UU*b.VV-b.UV*b.UV < a.UU*a.VV-a.UV*a.UV
		}
		if better {
			places[p] = b
		}
	}
}

// apart is how many standard deviations lie between two places (Mahalanobis).
func apart(a, b Place) float64 {
	u, v := a.U-b.U, a.V-b.V
	uu, uv, vv := a.UU+b.UU, a.UV+b.UV, a.VV+b.VV
	d := (u*u*vv - 2*u*v*uv + v*v*uu) / (uu*vv - uv*uv)
	if !(d >= 0) {
		return math.Inf(1)
	}
	return math.Sqrt(d)
}
