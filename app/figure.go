package app

import (
	"math"

	"drillbay/drills"
	"drillbay/drills/runner"
)

// sight is the side from which a player is drawn: from behind, down the target line, or
// from the front.
const (
	fromBehind = iota
	fromFront
)

// figure holds the positions of a drawn player's parts.
type figure struct {
	pelvis, neck, head            vector
	hips, knees, feet, shoulders  [2]vector // lead, trail
	leadHand, trailHand, clubhead vector
}

// body stands a pose on its feet.
func (p pose) body(d runner.Drill) (f figure) {
	f.pelvis = vector{0, 0.80, 0.95}
	f.neck = vector{0.02, 0.50, 1.38}
	f.head = f.neck.plus(vector{0.01, -0.11, 0.17})
	spine := f.neck.plus(f.pelvis.times(-1))
	spine = spine.times(1 / spine.size())
	// The line of the shoulders turns around the spine.
	a := p.turn * math.Pi / 180
	across := vector{math.Cos(a), spine.z * math.Sin(a), -spine.y * math.Sin(a)}
	level := vector{math.Cos(a * 0.45), math.Sin(a * 0.45), 0}
	for i, side := range []float64{1, -1} {
		f.shoulders[i] = f.neck.plus(vector{0, 0, -0.05}).plus(across.times(0.19 * side))
		f.hips[i] = f.pelvis.plus(level.times(0.14 * side))
		f.feet[i] = vector{0.24 * side, 0.72, 0.02}
		f.knees[i] = f.hips[i].toward(f.feet[i], 0.5).plus(vector{0.02 * side, -0.08, 0})
	}
	f.leadHand = p.hands
	f.clubhead = p.hands.plus(p.club.times(clubLong))
	f.trailHand = p.hands.plus(p.club.times(0.08))
	if d.LeadArm {
		// The trail hand waits where the club will be caught.
		wait := vector{-0.42, 0.42, 0.90}
		f.trailHand = wait.toward(atLevel.hands.plus(atLevel.club.times(0.14)), p.held)
		if p.turn > 0 && p.held == 1 {
			f.trailHand = p.hands.plus(p.club.times(0.12))
		}
	}
	return f
}

// What is seen of a drill, m: up, and across from behind and from the front, where the club
// reaches far to both sides.
const seenTall = 1.95

var seenWide = [...]float64{fromBehind: 1.9, fromFront: 2.72}

// player draws a drill as it is done, at an instant, in r, of which so many metres are seen across.
func (c *canvas) player(r Rect, d runner.Drill, p pose, view int, wide float64, hand drills.Hand) {
	k := min(r.H/seenTall, r.W/wide)
	ground := r.Bottom() - 0.07*k
	mid := r.X + r.W/2
	mirror := 1.0
	if hand == drills.Left {
		mirror = -1
	}
	at := func(v vector) (x, y float64) {
		x = v.x
		if view == fromBehind {
			x = 0.42 - v.y // the player's side lies on the left
		}
		return mid + mirror*x*k, ground - v.z*k - 0.12*k*b2f(view == fromBehind)*v.x
	}
	limb := func(a, b vector, thick float64, role Role) {
		x1, y1 := at(a)
		x2, y2 := at(b)
		thick = max(2, math.Round(thick*k))
		c.line(x1, y1, x2, y2, thick, role)
		c.disc(x1, y1, thick/2, role)
		c.disc(x2, y2, thick/2, role)
	}
	x1, _ := at(vector{-1.1, 1.4, 0})
	x2, _ := at(vector{1.1, -0.6, 0})
	c.rule(max(min(x1, x2), r.X), min(max(x1, x2), r.Right()), ground)
	f := p.body(d)
	trail := func() { c.arm(at, f.shoulders[1], f.trailHand, k, Quiet) }
	if view == fromFront {
		trail() // behind the body
	}
	for i := range 2 {
		limb(f.hips[i], f.knees[i], 0.10, Quiet)
		limb(f.knees[i], f.feet[i], 0.08, Quiet)
		limb(f.feet[i], f.feet[i].plus(vector{0, -0.14, 0}), 0.06, Quiet)
	}
	limb(f.pelvis, f.neck, 0.22, Quiet)
	limb(f.shoulders[0], f.shoulders[1], 0.12, Quiet)
	hx, hy := at(f.head)
	c.disc(hx, hy, 0.12*k, Quiet)
	if view == fromBehind {
		trail()
	}
	c.arm(at, f.shoulders[0], f.leadHand, k, Ink)
	if d.Ball {
		bx, by := at(vector{0, 0, 0.03})
		c.disc(bx, by, max(3, 0.035*k), Ink)
	}
	gx, gy := at(f.leadHand)
	ex, ey := at(f.clubhead)
	c.line(gx, gy, ex, ey, max(2, math.Round(0.035*k)), Ink)
	c.disc(ex, ey, max(3, 0.055*k), Ink)
	c.disc(gx, gy, max(3, 0.05*k), Ink)
}

// arm draws an arm from shoulder to hand, bent where it is too long for its way.
func (c *canvas) arm(at func(vector) (x, y float64), shoulder, hand vector, k float64, role Role) {
	const long = 0.56 // m
	way := hand.plus(shoulder.times(-1)).size()
	elbow := shoulder.toward(hand, 0.5)
	if way < long {
		elbow = elbow.plus(vector{-0.3, 0.6, -0.5}.times(math.Sqrt(long*long-way*way) * 0.5))
	}
	thick := max(2, math.Round(0.08*k))
	x1, y1 := at(shoulder)
	x2, y2 := at(elbow)
	x3, y3 := at(hand)
	c.line(x1, y1, x2, y2, thick, role)
	c.line(x2, y2, x3, y3, thick, role)
	c.disc(x2, y2, thick/2, role)
	c.disc(x3, y3, thick/2, role)
}

func b2f(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// shownDrill draws a drill from behind and from the front, in its tempo: with the
// beat that is heard where one is, else with its own.
func (a *App) shownDrill(c *canvas, r Rect, d runner.Drill, hand drills.Hand) {
	rate, zero := d.Beat, 0.0
	if beat := a.d.Snapshot().Beat; beat.On && beat.Rate > 0 {
		rate, zero = beat.Rate, beat.Zero
	}
	if rate <= 0 {
		rate = 60
	}
	p := poseAt(d, (a.now-zero)*rate/60, a.setup.Still)
	if a.setup.Still {
		c.again(1.0 / 4)
	} else {
		c.again(1.0 / 30)
	}
	box := Rect{r.X, r.Y, 0, r.H - math.Round(c.small*1.5)}
	for view, word := range [...]string{"from behind", "from the front"} {
		box.W = math.Round((r.W - c.px(8)) * seenWide[view] / (seenWide[fromBehind] + seenWide[fromFront]))
		if view == fromFront {
			box.X += r.W - box.W
		}
		c.fill(box, Plate, 4)
		c.player(box.Inset(c.px(4)), d, p, view, seenWide[view], hand)
		c.middle(box.X+box.W/2, r.Bottom()-math.Round(c.small*0.25), word, c.small, Regular, Quiet)
	}
}
