package sight

import (
	"math"

	"drillbay/camera/frame"
)

// Bump tells from the still background whether the camera was moved. It
// looks at one piece of the scenery per picture, allocates nothing, and makes
// up its mind once it has seen all of them: the pieces that are seen agree on
// how the picture has shifted and turned, or it says nothing. The player, the
// club, a passer-by cover some pieces; light changes all of them but not
// where they are.
type Bump struct {
	k, n   int
	w, h   int // of the whole picture, px
	tiles  [mostTiles]tileSeen
	next   int
	area   [searchSide * searchSide]float32
	scores [(2*tileReach + 1) * (2*tileReach + 1)]float32
	guess  int // where the pieces are looked for when they are not near
	lost   int // times in a row that too few were found anywhere
	agreed int // times in a row that the answer differs from what is told
	moved  bool
	shift  Shift
}

// Shift is how the still background lies against the scenery, px as seen: of
// the picture's middle, and turned, degrees. Sigma is that of U and V.
type Shift struct {
	U, V, Turn float64
	Sigma      float64
	Pieces     int // that agree
}

type tileSeen struct {
	x, y   int
	ref    [tileSide * tileSide]float32 // mean 0, length 1
	du, dv float64                      // reduced px
	found  bool
	blank  bool // there is nothing to be seen there now
}

const (
	mostTiles  = 12 * tilesBlock
	searchSide = tileSide + 2*tileReach
)

// NewBump returns a Bump for a scenery that fits the pictures to come.
func NewBump(s Scenery) *Bump {
	b := &Bump{k: sceneryScale(s.Width), w: s.Width, h: s.Height, n: min(len(s.Tiles), mostTiles)}
	for i := range b.n {
		t := &b.tiles[i]
		t.x, t.y = s.Tiles[i].X, s.Tiles[i].Y
		for j, v := range s.Tiles[i].Pix {
			t.ref[j] = float32(v)
		}
		normalise(t.ref[:])
	}
	return b
}

// normalise makes the mean 0 and the length 1; it returns the length.
func normalise(v []float32) float64 {
	var sum, sq float64
	for _, x := range v {
		sum += float64(x)
	}
	m := float32(sum / float64(len(v)))
	for i := range v {
		v[i] -= m
		sq += float64(v[i] * v[i])
	}
	if l := math.Sqrt(sq); l > 0 {
		for i := range v {
			v[i] /= float32(l)
		}
		return l
	}
	return 0
}

// Step takes the next picture and reports whether the camera was moved.
func (b *Bump) Step(p *frame.Picture) bool {
	if b.n < leastTiles || p.Width != b.w || p.Height != b.h {
		return false
	}
	b.seek(&b.tiles[b.next], p)
	if b.next++; b.next == b.n {
		b.next = 0
		b.decide()
	}
	return b.moved
}

// Shift is the latest that the pieces agreed on.
func (b *Bump) Shift() Shift { return b.shift }

// guessAt is where the pieces are looked for, reduced px from where they were.
func (b *Bump) guessAt() (x, y int) {
	const across, down = 9, 5
	i := b.guess % (across * down)
	// From the middle outward.
	order := func(i int) int {
		if i%2 == 1 {
			return (i + 1) / 2
		}
		return -i / 2
	}
	return guessStep * order(i%across), guessStep * order(i/across)
}

// seek looks for a piece in the picture.
func (b *Bump) seek(t *tileSeen, p *frame.Picture) {
	gx, gy := b.guessAt()
	x0, y0 := t.x+gx-tileReach, t.y+gy-tileReach
	t.found, t.blank = false, false
	if x0 < 0 || y0 < 0 || (x0+searchSide)*b.k > p.Width || (y0+searchSide)*b.k > p.Height {
		t.blank = true
		return
	}
	for y := range searchSide {
		dst := b.area[y*searchSide:][:searchSide]
		clear(dst)
		for row := range b.k {
			line := p.Y[((y0+y)*b.k+row)*p.YStride+x0*b.k:][:searchSide*b.k]
			for x := range dst {
				s := 0
				for _, v := range line[x*b.k : x*b.k+b.k] {
					s += int(v)
				}
				dst[x] += float32(s)
			}
		}
	}
	best, at := b.correlate(&t.ref)
	if at < 0 {
		t.blank = true
		return
	}
	const side = 2*tileReach + 1
	x, y := at%side, at/side
	if best < alike || x == 0 || y == 0 || x == side-1 || y == side-1 {
		return
	}
	t.found = true
	t.du = float64(gx+x-tileReach) + peak(b.scores[at-1], b.scores[at], b.scores[at+1])
	t.dv = float64(gy+y-tileReach) + peak(b.scores[at-side], b.scores[at], b.scores[at+side])
}

// correlate compares a piece with all places of the area; at is negative
// where there is nothing to compare with.
func (b *Bump) correlate(ref *[tileSide * tileSide]float32) (best float32, at int) {
	const side = 2*tileReach + 1
	at = -1
	least := float32(b.k*b.k) * float32(b.k*b.k) // levels² of one whole px
	for y := range side {
		for x := range side {
			var sum, sq, dot float32
			for j := range tileSide {
				row := b.area[(y+j)*searchSide+x:][:tileSide]
				r := ref[j*tileSide:][:tileSide]
				for i, v := range row {
					sum += v
					sq += v * v
					dot += v * r[i]
				}
			}
			const n = tileSide * tileSide
			spread := sq - sum*sum/n
			score := float32(0)
			if spread > n*least {
				score = dot / float32(math.Sqrt(float64(spread)))
				if at < 0 || score > best {
					best, at = score, y*side+x
				}
			}
			b.scores[y*side+x] = score
		}
	}
	return best, at
}

// peak is where a parabola through three scores is greatest, from the middle.
func peak(a, b, c float32) float64 {
	d := float64(a - 2*b + c)
	if d >= 0 {
		return 0
	}
	return min(max(0.5*float64(a-c)/d, -0.5), 0.5)
}

// decide makes of what all pieces say whether the camera was moved.
func (b *Bump) decide() {
	found, blank := 0, 0
	for i := range b.n {
		if b.tiles[i].found {
			found++
		}
		if b.tiles[i].blank {
			blank++
		}
	}
	s, ok := b.agree()
	if !ok || 2*s.Pieces < found {
		// Not here: perhaps it shifted by more. It takes long and many
		// pieces to say so without an answer.
		b.guess++
		if 2*blank < b.n {
			b.lost++
		}
		if b.lost >= lostFor {
			b.moved = true
		}
		return
	}
	b.lost = 0
	b.shift = s
	far := math.Hypot(math.Hypot(s.U, s.V), s.Turn*math.Pi/180*0.3*float64(b.w))
	limit := bumpedBy * float64(b.w) / 1280
	moved := far >= limit && far > 4*s.Sigma
	if moved == b.moved {
		b.agreed = 0
		return
	}
	if b.agreed++; b.agreed >= confirm {
		b.moved, b.agreed = moved, 0
	}
}

// agree is the shift, the turn and the growth that most pieces agree on:
// each pair of pieces proposes one, the one with most others is fitted to
// them by least squares. ok is false when too few agree.
func (b *Bump) agree() (Shift, bool) {
	var in, best [mostTiles]bool
	most := 0
	for i := range b.n {
		for j := range i {
			s, ok := b.pair(i, j)
			if !ok {
				continue
			}
			n := 0
			for k := range b.n {
				in[k] = b.tiles[k].found && s.off(&b.tiles[k]) < agreeBy+agreeShare*math.Hypot(s.u, s.v)
				if in[k] {
					n++
				}
			}
			if n > most {
				most, best = n, in
			}
		}
	}
	if most < leastAgree {
		return Shift{}, false
	}
	s := b.fit(&best)
	var sum float64
	for k := range b.n {
		if best[k] {
			sum += sq(s.off(&b.tiles[k]))
		}
	}
	// In the picture's middle, px.
	px, py := float64(b.w/b.k)/2-tileSide/2, float64(b.h/b.k)/2-tileSide/2
	u, v := s.at(px, py)
	k := float64(b.k)
	return Shift{U: k * u, V: k * v, Turn: s.turn * 180 / math.Pi, Sigma: k * max(0.1, math.Sqrt(sum/float64(2*most-4))) / math.Sqrt(float64(most)), Pieces: most}, true
}

// similar is a small change of a picture about (x, y): moved, turned
// (radians) and grown (share), reduced px.
type similar struct{ x, y, u, v, turn, grow float64 }

func (s similar) at(x, y float64) (u, v float64) {
	x, y = x-s.x, y-s.y
	return s.u + s.grow*x - s.turn*y, s.v + s.turn*x + s.grow*y
}

func (s similar) off(t *tileSeen) float64 {
	u, v := s.at(float64(t.x), float64(t.y))
	return math.Hypot(t.du-u, t.dv-v)
}

// pair is the change that two pieces propose. Turned by more than a few
// degrees a piece is not found any more.
func (b *Bump) pair(i, j int) (similar, bool) {
	p, q := &b.tiles[i], &b.tiles[j]
	dx, dy := float64(q.x-p.x), float64(q.y-p.y)
	d := dx*dx + dy*dy
	if !p.found || !q.found || d < 60*60 {
		return similar{}, false
	}
	du, dv := q.du-p.du, q.dv-p.dv
	s := similar{
		x: float64(p.x+q.x) / 2, y: float64(p.y+q.y) / 2, u: (p.du + q.du) / 2, v: (p.dv + q.dv) / 2,
		turn: (dx*dv - dy*du) / d, grow: (dx*du + dy*dv) / d,
	}
	return s, math.Abs(s.turn) < 0.15 && math.Abs(s.grow) < 0.06
}

// fit is the change that fits the pieces in, by least squares.
func (b *Bump) fit(in *[mostTiles]bool) similar {
	var s similar
	n := 0.0
	for i := range b.n {
		if t := &b.tiles[i]; in[i] {
			n++
			s.x, s.y, s.u, s.v = s.x+float64(t.x), s.y+float64(t.y), s.u+t.du, s.v+t.dv
		}
	}
	s.x, s.y, s.u, s.v = s.x/n, s.y/n, s.u/n, s.v/n
	var d, turn, grow float64
	for i := range b.n {
		if t := &b.tiles[i]; in[i] {
			x, y, u, v := float64(t.x)-s.x, float64(t.y)-s.y, t.du-s.u, t.dv-s.v
			d, turn, grow = d+x*x+y*y, turn+x*v-y*u, grow+x*u+y*v
		}
	}
	if d > 0 {
		s.turn, s.grow = turn/d, grow/d
	}
	return s
}
