package measure

import (
	"math"
	"sync"
	"sync/atomic"

	"drillbay/camera/eye"
	"drillbay/camera/frame"
	"drillbay/camera/lens"
	"drillbay/camera/sight"
)

// readers is how many eyes look at a rep's pictures at once.
const readers = 2

// shot is a picture to be looked at, with the one before it.
type shot struct {
	now, before *frame.Picture
	rests       bool // the club rests, or should
}

// choose picks the pictures of a span that are worth a look.
func choose(pics []*frame.Picture, span sight.Span) (out []shot) {
	last := math.Inf(-1)
	for i, p := range pics {
		t := p.Seconds()
		step := movingStep
		switch {
		case t < span.From-1e-6 || t > span.Catch+heldFor || span.Whole && t > span.Catch:
			continue
		case t < span.Start-0.15 || !span.Whole && t > span.Catch+0.12:
			step = restingStep
		case !span.Whole && t > span.Catch-aheadOfCatch, span.Whole && t > span.Start+0.5:
			step = stoppingStep
		}
		if t-last < step-1e-4 {
			continue
		}
		last = t
		s := shot{now: p, rests: step == restingStep}
		for j := i - 1; j >= 0 && s.before == nil; j-- {
			if t-pics[j].Seconds() > motionStep-1e-4 {
				s.before = pics[j]
			}
		}
		out = append(out, s)
	}
	return out
}

// looking is what the eyes see of the shots of one rep.
type looking struct {
	shots   []shot
	left    bool
	seen    []eye.Sight
	ok      []bool   // a player is seen
	between [][2]int // the shots before and after, or the shot itself, that show the whole player
	whole   []int    // the shots at which the whole player is to be looked at yet
}

// newLooking sorts the shots: what the live pass saw is taken over, and at some
// of the others, the first and the last among them, the whole player is looked
// at. With everywhere it is looked at in each.
func newLooking(shots []shot, seen *Recall, left, everywhere bool) *looking {
	n := len(shots)
	l := &looking{shots: shots, left: left, seen: make([]eye.Sight, n), ok: make([]bool, n), between: make([][2]int, n)}
	last := 0
	for i, s := range shots {
		step := wholeMoving
		if s.rests {
			step = wholeResting
		}
		if !everywhere {
			l.seen[i], l.ok[i] = seen.of(s.now.Seconds())
		}
		if !l.ok[i] {
			if !everywhere && 0 < i && i < n-1 && s.now.Seconds()-shots[last].now.Seconds() < step-1e-4 {
				continue
			}
			l.whole = append(l.whole, i)
		}
		for j := last + 1; j < i; j++ {
			l.between[j] = [2]int{last, i}
		}
		l.between[i] = [2]int{i, i}
		last = i
	}
	return l
}

// look looks at the shots, some at once. What is seen does not depend on which
// eye takes which shot.
func (a *Reader) look(shots []shot) ([]sight.Look, error) {
	eyes := readers
	if a.Eyes > 0 {
		eyes = a.Eyes
	}
	for len(a.eyes) < eyes {
		net, err := eye.Taught()
		if err != nil {
			return nil, err
		}
		a.eyes = append(a.eyes, net.NewEye())
	}
	l := newLooking(shots, a.Seen, a.Known.Setting.View.Left, a.Thorough)
	var wg sync.WaitGroup
	for k, e := range a.eyes[:eyes] {
		n := len(l.whole)
		wg.Go(func() { l.follow(a, e, l.whole[k*n/eyes:(k+1)*n/eyes]) })
	}
	wg.Wait()
	var next atomic.Int64
	n := len(shots)
	looks := make([]sight.Look, n)
	for _, e := range a.eyes[:eyes] {
		wg.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				a.wait()
				looks[i] = a.closely(e, l, i)
			}
		})
	}
	wg.Wait()
	return looks, nil
}

// wait lets others go first.
func (a *Reader) wait() {
	if a.Wait != nil {
		a.Wait()
	}
}

// follow looks at the whole player and closely in some shots, one after the
// other.
func (l *looking) follow(a *Reader, e *eye.Eye, which []int) {
	var f eye.Finder
	for _, i := range which {
		a.wait()
		l.seen[i], l.ok[i] = f.Follow(e, l.shots[i].now, l.shots[i].before, nil, l.left)
	}
}

// closely is what is seen in shot i, once the whole player was seen in those
// about it.
func (a *Reader) closely(e *eye.Eye, l *looking, i int) sight.Look {
	s, at := l.shots[i], l.shots[i].now.Seconds()
	seen, ok := l.seen[i], l.ok[i]
	if from, to := l.between[i][0], l.between[i][1]; from < to {
		t0, t1 := l.shots[from].now.Seconds(), l.shots[to].now.Seconds()
		seen, ok = e.Between(l.seen[from], l.seen[to], (at-t0)/(t1-t0), s.now, s.before, nil, l.left)
	}
	look := sight.Look{At: at}
	if !ok {
		return look
	}
	look.Places = seen.Places
	if seen.Close.Side > 0 && (s.rests || a.short(seen.Places)) {
		e.Again(&look.Places, seen.Close, s.now, s.before, nil, l.left)
	}
	return look
}

// short reports whether the club points to the lens, or its head is not seen:
// it is then worth another look.
func (a *Reader) short(places [eye.Points]eye.Place) bool {
	hands, head := places[eye.Hands], places[eye.Head]
	return hands.Here > present && (head.Here < present || a.Known.Setting.LooksShort(lens.Point{U: hands.U, V: hands.V}, lens.Point{U: head.U, V: head.V}))
}
