package eye

import "math"

// reach is how far from the best cell others are taken in, cells.
const reach = 2

// spot is what the network says of one point, in px of its input, the middle
// of the first pixel at 0.5: learn/model.py's read_calibrated.
type spot struct {
	x, y       float64
	xx, xy, yy float64 // covariance
	here, seen float64 // chance of being in the picture, and of not being hidden there
}

// read makes spots of the maps: the most likely cell is taken, and the mixture
// of the cells about it is reduced to its mean and covariance.
func (n *Net) read(l *layers, spots *[Points]spot) {
	best, at, sum := l.peaks(1 / n.temperature)
	for p := range spots {
		spots[p] = n.spot(l, p, at[p], best[p], sum[p])
		k := float64(n.covariance[p])
		spots[p].xx *= k
		spots[p].xy *= k
		spots[p].yy *= k
	}
}

// peaks are, for each point, the highest logit of the maps with its cell, and
// the sum of exp(logit − highest) over all cells and absence. The logits are
// multiplied by sharp.
func (l *layers) peaks(sharp float32) (best [Points]float32, at [Points]int, sum [Points]float32) {
	c := l.maps.channels
	for p := range best {
		best[p] = float32(math.Inf(-1))
	}
	for i := 0; i < len(l.maps.v); i += c {
		for p, v := range (*[Points]float32)(l.maps.v[i:]) {
			if v > best[p] {
				best[p], at[p] = v, i/c
			}
		}
	}
	for i := 0; i < len(l.maps.v); i += c {
		for p, v := range (*[Points]float32)(l.maps.v[i:]) {
			if d := (v - best[p]) * sharp; d > -25 {
				sum[p] += exp(d)
			}
		}
	}
	for p, v := range l.absent {
		sum[p] += float32(math.Exp(float64((v - best[p]) * sharp)))
	}
	return best, at, sum
}

func (n *Net) spot(l *layers, p, at int, best, sum float32) spot {
	w, h, c := l.maps.width, l.maps.height, l.maps.channels
	bx, by := at%w, at/w
	var mass, x, y, xx, xy, yy, seen float64
	for cy := max(0, by-reach); cy <= min(h-1, by+reach); cy++ {
		for cx := max(0, bx-reach); cx <= min(w-1, bx+reach); cx++ {
			i := cy*w + cx
			d := (l.maps.v[i*c+p] - best) / n.temperature
			if d < -18 {
				continue // less than 2 in 10⁸ of the best
			}
			share := math.Exp(float64(d)) / float64(sum)
			raw := n.detail(l.p4.v[i*64:(i+1)*64], p)
			ux := float64(cx) + 0.5 + 3*math.Tanh(raw[0]/3)
			uy := float64(cy) + 0.5 + 3*math.Tanh(raw[1]/3)
			l11, l21, l22 := softplus(raw[2])+0.02, raw[3], softplus(raw[4])+0.02
			mass += share
			x += share * ux
			y += share * uy
			xx += share * (l11*l11 + ux*ux)
			xy += share * (l11*l21 + ux*uy)
			yy += share * (l21*l21 + l22*l22 + uy*uy)
			seen += share / (1 + math.Exp(-raw[5]))
		}
	}
	if !(mass > 0) {
		return spot{} // so surely absent that nothing is left
	}
	x, y = x/mass, y/mass
	return spot{
		x: x * cell, y: y * cell, here: mass, seen: seen / mass,
		xx: (xx/mass - x*x) * cell * cell, xy: (xy/mass - x*y) * cell * cell, yy: (yy/mass - y*y) * cell * cell,
	}
}

// detail is the network's last layer at one cell for one point.
func (n *Net) detail(features []float32, p int) (raw [details]float64) {
	f := (*[64]float32)(features)
	for d := range raw {
		i := p*details + d
		s := n.detailsBias[i]
		w := (*[64]float32)(n.details[i*64:])
		for c := range f {
			s += f[c] * w[c]
		}
		raw[d] = float64(s)
	}
	return raw
}

func softplus(x float64) float64 {
	if x > 20 {
		return x
	}
	return math.Log1p(math.Exp(x))
}

// exp is eˣ for −80 < x ≤ 0 to within 1e-5 of its value: a power of two times
// the Taylor series of the rest, which is at most half a doubling.
func exp(x float32) float32 {
	t := x * math.Log2E
	whole := int32(t - 0.5)
	r := (t - float32(whole)) * math.Ln2
	s := 1 + r*(1+r*(1./2+r*(1./6+r*(1./24+r*(1./120+r*(1./720))))))
	return s * math.Float32frombits(uint32(whole+127)<<23)
}
