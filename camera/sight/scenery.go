package sight

import (
	"cmp"
	"math"
	"slices"

	"drillbay/camera/frame"
)

// Scenery is what stands still in the picture of a bay, as small pieces of
// it, by which it is seen later whether the camera was moved. A Scenery of
// 720p takes about 12 kB.
type Scenery struct {
	Width, Height int // of the picture, px
	Tiles         []Tile
}

// Tile is one piece: tileSide × tileSide levels of the picture at 1/k of its
// size, its top left corner at (X, Y) there.
type Tile struct {
	X, Y int
	Pix  []byte
}

const (
	tileSide   = 16  // reduced px
	tileReach  = 8   // reduced px that a piece is looked for each way
	reducedTo  = 320 // px that the picture is reduced to across
	tilesBlock = 4   // pieces at most in each of 4 × 3 parts of the picture
)

// sceneryScale is how far pictures of a width are reduced.
func sceneryScale(width int) int { return max(1, (width+reducedTo/2)/reducedTo) }

// NewScenery is the scenery of pictures of one size in order of time, best
// of a second or more; what moved in them is left out.
func NewScenery(pics []*frame.Picture) Scenery {
	if len(pics) == 0 {
		return Scenery{}
	}
	first := pics[0]
	s := Scenery{Width: first.Width, Height: first.Height}
	k := sceneryScale(s.Width)
	whole := region{0, 0, s.Width / k * k, s.Height / k * k}
	n := max(1, len(pics)/2)
	early, late := mean(thin(pics[:n], 6), whole, k, false), mean(thin(pics[len(pics)-n:], 6), whole, k, false)
	type one struct {
		x, y    int
		texture float64
	}
	var blocks [12][]one
	const step = tileSide + 2
	for y := tileReach; y+tileSide+tileReach <= early.H; y += step {
		for x := tileReach; x+tileSide+tileReach <= early.W; x += step {
			t, change := early.texture(late, x, y)
			if t < leastTexture || change > restless {
				continue
			}
			b := 4*(3*y/early.H) + 4*x/early.W
			blocks[b] = append(blocks[b], one{x, y, t})
		}
	}
	for _, b := range blocks {
		slices.SortStableFunc(b, func(p, q one) int { return cmp.Compare(q.texture, p.texture) })
		for _, o := range b[:min(len(b), tilesBlock)] {
			t := Tile{X: o.x, Y: o.y, Pix: make([]byte, 0, tileSide*tileSide)}
			for y := o.y; y < o.y+tileSide; y++ {
				for x := o.x; x < o.x+tileSide; x++ {
					v := (early.Pix[y*early.W+x] + late.Pix[y*early.W+x]) / 2
					t.Pix = append(t.Pix, byte(min(max(v+0.5, 0), 255)))
				}
			}
			s.Tiles = append(s.Tiles, t)
		}
	}
	return s
}

// texture is how much structure the piece at (x, y) has in the direction in
// which it has least (the smaller eigenvalue of the structure tensor a px),
// and how much it differs from that of late, levels.
func (g *gray) texture(late *gray, x, y int) (least, change float64) {
	var xx, xy, yy, diff float64
	for j := y; j < y+tileSide; j++ {
		for i := x; i < x+tileSide; i++ {
			p := j*g.W + i
			du := float64(g.Pix[p+1]-g.Pix[p-1]) / 2
			dv := float64(g.Pix[p+g.W]-g.Pix[p-g.W]) / 2
			xx, xy, yy = xx+du*du, xy+du*dv, yy+dv*dv
			diff += math.Abs(float64(g.Pix[p] - late.Pix[p]))
		}
	}
	const n = tileSide * tileSide
	half := (xx + yy) / 2
	return (half - math.Hypot((xx-yy)/2, xy)) / n, diff / n
}

// Fits reports whether the scenery can be compared with pictures of a size.
func (s Scenery) Fits(width, height int) bool {
	if s.Width != width || s.Height != height || len(s.Tiles) < leastTiles || len(s.Tiles) > mostTiles {
		return false
	}
	k := sceneryScale(width)
	for _, t := range s.Tiles {
		if len(t.Pix) != tileSide*tileSide || t.X < 0 || t.Y < 0 || t.X+tileSide > width/k || t.Y+tileSide > height/k {
			return false
		}
	}
	return true
}
