package sight

import (
	"math"

	"drillbay/camera/frame"
)

// motionMeter measures how much moves in a small part of the picture, on
// reduced luma, against the same part a fifteenth of a second before. It
// allocates only when the picture's size or the zone changes.
type motionMeter struct {
	zone       region // reduced pixels
	k          int
	left       bool
	hist       [][]float32 // ring of reduced, smoothed luma
	times      []float64
	n          int // frames taken
	raw        *gray
	tmp        []float32
	bins       [256]int32
	cm2        float64 // cm² of a reduced pixel at the hands
	noiseLevel float64
}

const (
	motionLag  = 1.0 / 15 // s
	motionRing = 32
)

// aim sets the zone: a rectangle of the analysed picture; m is the size of a
// metre at the hands, px.
func (mm *motionMeter) aim(r region, k int, left bool, m float64) {
	mm.k, mm.left = k, left
	mm.zone = region{r.X / k, r.Y / k, r.W / k, r.H / k}
	size := mm.zone.W * mm.zone.H
	mm.hist = make([][]float32, motionRing)
	for i := range mm.hist {
		mm.hist[i] = make([]float32, size)
	}
	mm.times = make([]float64, motionRing)
	mm.raw, mm.tmp = newGray(r, k), make([]float32, size)
	mm.n = 0
	mm.cm2 = sq(100 * float64(k) / m)
	mm.noiseLevel = 0
}

// take adds a picture and returns the area that moves, in cm² at the hands;
// ok is false until there is a picture to compare with.
func (mm *motionMeter) take(p *frame.Picture) (area float64, ok bool) {
	slot := mm.n % motionRing
	mm.raw.load(p, mm.left)
	mm.smooth(mm.hist[slot])
	now := p.Seconds()
	mm.times[slot] = now
	mm.n++
	// The picture nearest to a lag ago.
	best, gap := -1, math.Inf(1)
	for i := 1; i < min(mm.n, motionRing); i++ {
		s := (slot - i + motionRing) % motionRing
		d := math.Abs(now - mm.times[s] - motionLag)
		if d > gap {
			break
		}
		best, gap = s, d
	}
	if best < 0 || gap > 0.08 {
		return 0, false
	}
	a, b := mm.hist[slot], mm.hist[best]
	clear(mm.bins[:])
	for i, v := range a {
		d := int(abs32(v-b[i]) * 8)
		mm.bins[min(d, 255)]++
	}
	// The noise: the median difference of what does not move.
	half, sum, med := int32(len(a)*2/5), int32(0), 0
	for i, n := range mm.bins {
		if sum += n; sum >= half {
			med = i
			break
		}
	}
	limit := (float64(med)+0.5)/8*5 + 1.2
	if mm.noiseLevel > 0 {
		limit = min(limit, 1.5*mm.noiseLevel)
	}
	if mm.noiseLevel == 0 {
		mm.noiseLevel = limit
	}
	mm.noiseLevel += 0.05 * (limit - mm.noiseLevel)
	count := 0
	for i := int(limit*8) + 1; i < 256; i++ {
		count += int(mm.bins[i])
	}
	return float64(count) * mm.cm2, true
}

// drift is the area that differs from a picture a while ago, cm² at the
// hands: what moves too slowly for take. It is 0 when there is none so old.
func (mm *motionMeter) drift(ago float64) float64 {
	slot := (mm.n - 1) % motionRing
	for i := 1; i < min(mm.n, motionRing); i++ {
		old := (slot - i + motionRing) % motionRing
		if mm.times[slot]-mm.times[old] < ago-1e-6 {
			continue
		}
		n, limit := 0, float32(mm.noiseLevel)
		for j, v := range mm.hist[slot] {
			if abs32(v-mm.hist[old][j]) > limit {
				n++
			}
		}
		return float64(n) * mm.cm2
	}
	return 0
}

// smooth puts the 3 × 3 mean of raw into dst.
func (mm *motionMeter) smooth(dst []float32) {
	w, h := mm.zone.W, mm.zone.H
	for y := range h {
		row, out := mm.raw.Pix[y*w:][:w], mm.tmp[y*w:][:w]
		for x := range row {
			out[x] = (row[max(0, x-1)] + row[x] + row[min(w-1, x+1)]) / 3
		}
	}
	for y := range h {
		a, b, c := mm.tmp[max(0, y-1)*w:][:w], mm.tmp[y*w:][:w], mm.tmp[min(h-1, y+1)*w:][:w]
		out := dst[y*w:][:w]
		for x := range out {
			out[x] = (a[x] + b[x] + c[x]) / 3
		}
	}
}
