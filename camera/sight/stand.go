package sight

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"drillbay/camera/frame"
	"drillbay/camera/lens"
)

// ErrNobody says that nobody is seen standing at address.
var ErrNobody = errors.New("nobody is seen at address with a club")

const (
	// A club that stands there is seen at least so well, in units of the
	// noise, and along such a share of its bare shaft.
	standScore = 5.5
	standShare = 0.88
	stillPart  = 0.4 // s, of the latest pictures, in which it stands still
	// Levels by which a shaft stands out from both its sides.
	thinLevel = 2.5
	// Pictures are looked at this far apart, s, to find those in which the
	// club is elsewhere.
	lookStep = 0.2
)

// Standing is the club at address of somebody who stands there now, before
// any rep was read, by the latest pictures, in order of time. The club must
// have come there: it is told from the bay's own lines by not having been
// there before.
func (s Setting) Standing(pics []*frame.Picture) (Stance, error) {
	if len(pics) == 0 {
		return Stance{}, ErrTooFew
	}
	now := pics[len(pics)-1].Seconds()
	still := thin(within(pics, now-stillPart, now), 8)
	before := s.unlike(still, spaced(within(pics, math.Inf(-1), now-stillPart-0.2), lookStep), 9, 0)
	if len(still) < 4 || len(before) < 4 {
		return Stance{}, ErrTooFew
	}
	st, err := findAddress(still, before, s)
	if err != nil || st.Score < standScore || s.shaftSeen(still, st) < standShare {
		return Stance{}, ErrNobody
	}
	return st, nil
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

// shaftSeen is the share of the bare shaft along which something thin is
// seen in the still pictures.
func (s Setting) shaftSeen(still []*frame.Picture, st Stance) float64 {
	m, k := s.perMetre(s.Distance), reduction(s.View.Width)
	r := around(min(st.Hands.U, st.Head.U)-0.1*m, st.Hands.V-0.1*m, max(st.Hands.U, st.Head.U)+0.1*m, st.Head.V+0.1*m, s.View.Width, s.View.Height)
	return thinShare(mean(still, r, k, s.View.Left), st.Hands, st.Head, 0.011*m+1.5*float64(k))
}

// thinShare is the share of the way from p to q, but for its ends, along
// which something thin is seen, o px wide at most each way.
func thinShare(g *gray, p, q lens.Point, o float64) float64 {
	length := math.Hypot(q.U-p.U, q.V-p.V)
	c, sn := (q.U-p.U)/length, (q.V-p.V)/length
	n, seen := 0, 0
	for t := 0.22 * length; t < 0.92*length; t += 3 {
		n++
		for a := -2.0; a <= 2; a++ {
			if math.Abs(thinness(g, p.U+c*t-sn*a, p.V+sn*t+c*a, c, sn, o)) > thinLevel {
				seen++
				break
			}
		}
	}
	return float64(seen) / float64(max(n, 1))
}

// Onlooker looks now and then at somebody who stands still, beside the live
// pass, until it is sure where the hands are. It is used by one goroutine.
type Onlooker struct {
	set   Setting
	since float64    // s, of the stillness that is looked at
	hands lens.Point // seen in it
	seen  int        // times that they were seen there
	empty int        // times that nobody was
	at    float64    // s, of the last look
}

const (
	lookAfter = 0.45 // s still before the first look
	lookPause = 0.6  // s between two looks
	lookAgain = 2.5  // s between two once it is known whether somebody stands there
	sameHands = 0.03 // m within which two looks agree
)

// NewOnlooker returns an onlooker for a setting.
func NewOnlooker(s Setting) *Onlooker { return &Onlooker{set: s, since: math.NaN(), at: math.Inf(-1)} }

// Due reports whether it is time for a look, by what the live pass says now.
func (o *Onlooker) Due(g Glance) bool {
	if g.Phase != Address || g.At-g.Since < lookAfter {
		return false
	}
	if g.Since != o.since {
		o.since, o.seen, o.empty, o.at = g.Since, 0, 0, math.Inf(-1)
	}
	pause := lookPause
	if o.empty >= 2 || o.seen >= 2 {
		pause = lookAgain
	}
	return g.At-o.at >= pause
}

// Look looks at the latest pictures. ok is true when it and the look before
// agree on the hands, which are px of the analysed picture.
func (o *Onlooker) Look(pics []*frame.Picture, g Glance) (hands lens.Point, ok bool) {
	o.at = g.At
	st, err := o.set.Standing(pics)
	if err != nil {
		o.empty++
		return lens.Point{}, false
	}
	apart := math.Hypot(st.Hands.U-o.hands.U, st.Hands.V-o.hands.V)
	if o.seen == 0 || apart > sameHands*o.set.perMetre(o.set.Distance) {
		o.hands, o.seen, o.empty = st.Hands, 1, 0
		return lens.Point{}, false
	}
	o.hands = lens.Point{U: (o.hands.U + st.Hands.U) / 2, V: (o.hands.V + st.Hands.V) / 2}
	o.seen, o.empty = o.seen+1, 0
	return o.hands, true
}

// Empty reports whether two looks at the present stillness saw nobody, and
// none before them somebody.
func (o *Onlooker) Empty() bool { return o.empty >= 2 && o.seen < 2 }

// standing is where the hands were at a time, in the analysed picture.
type standing struct {
	at    float64 // s
	hands lens.Point
}

// Place tells the live pass where the hands were at a time at address, px of
// the analysed picture: its glances give them for as long as that stillness
// lasts, and whenever the picture is that of address again. It may be called
// from any goroutine.
func (w *Watcher) Place(at float64, hands lens.Point) { w.placed.Store(&standing{at, hands}) }

// handsNow are the hands as seen, px; NaN when they are not known to be there.
func (w *Watcher) handsNow(now float64) (x, y float64) {
	p := w.placed.Load()
	if p == nil || w.moving {
		return math.NaN(), math.NaN()
	}
	if same := w.since <= p.at && p.at <= now; !same && !(w.memory.fresh(now) && now-w.stand.To < 0.1) {
		return math.NaN(), math.NaN()
	}
	h := w.set.View.Mirror(p.hands)
	return h.U, h.V
}
