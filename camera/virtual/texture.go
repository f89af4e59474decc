package virtual

import "math"

const tile = 256

// texture is a tileable fractal noise, mean 0, about ±1.
type texture struct{ v [tile * tile]float32 }

func newTexture(rnd *random) *texture {
	t := &texture{}
	amp := float32(1)
	for cells := 4; cells <= 64; cells *= 2 {
		grid := make([]float32, cells*cells)
		for i := range grid {
			grid[i] = float32(2*rnd.float() - 1)
		}
		scale := float64(cells) / tile
		for y := range tile {
			for x := range tile {
				fx, fy := float64(x)*scale, float64(y)*scale
				ix, iy := int(fx), int(fy)
				kx, ky := float32(smooth(fx-float64(ix))), float32(smooth(fy-float64(iy)))
				jx, jy := (ix+1)%cells, (iy+1)%cells
				a := grid[iy*cells+ix] + (grid[iy*cells+jx]-grid[iy*cells+ix])*kx
				b := grid[jy*cells+ix] + (grid[jy*cells+jx]-grid[jy*cells+ix])*kx
				t.v[y*tile+x] += (a + (b-a)*ky) * amp
			}
		}
		amp *= 0.6
	}
	return t
}

// at samples the texture at a place in tiles, bilinearly.
func (t *texture) at(x, y float64) float32 {
	x, y = (x-math.Floor(x))*tile, (y-math.Floor(y))*tile
	ix, iy := int(x), int(y)
	kx, ky := float32(x-float64(ix)), float32(y-float64(iy))
	ix, iy = ix&(tile-1), iy&(tile-1)
	jx, jy := (ix+1)&(tile-1), (iy+1)&(tile-1)
	a := t.v[iy*tile+ix] + (t.v[iy*tile+jx]-t.v[iy*tile+ix])*kx
	b := t.v[jy*tile+ix] + (t.v[jy*tile+jx]-t.v[jy*tile+ix])*kx
	return a + (b-a)*ky
}

// cloth is a factor about 1 for a place on a limb, pixels along and across.
func (t *texture) cloth(along, across float64, depth float32) float32 {
	i := (int(along*4)&(tile-1))*tile + int(across*4)&(tile-1)
	return 1 + depth*t.v[i]
}
