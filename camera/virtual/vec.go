package virtual

import "math"

// vec is a point or direction, m.
type vec struct{ x, y, z float64 }

func (a vec) add(b vec) vec            { return vec{a.x + b.x, a.y + b.y, a.z + b.z} }
func (a vec) sub(b vec) vec            { return vec{a.x - b.x, a.y - b.y, a.z - b.z} }
func (a vec) mul(k float64) vec        { return vec{a.x * k, a.y * k, a.z * k} }
func (a vec) dot(b vec) float64        { return a.x*b.x + a.y*b.y + a.z*b.z }
func (a vec) len() float64             { return math.Sqrt(a.dot(a)) }
func (a vec) mix(b vec, k float64) vec { return a.add(b.sub(a).mul(k)) }

func (a vec) cross(b vec) vec {
	return vec{a.y*b.z - a.z*b.y, a.z*b.x - a.x*b.z, a.x*b.y - a.y*b.x}
}

func (a vec) unit() vec {
	if l := a.len(); l > 0 {
		return a.mul(1 / l)
	}
	return vec{1, 0, 0}
}

func rad(deg float64) float64 { return deg * math.Pi / 180 }
func deg(rad float64) float64 { return rad * 180 / math.Pi }

// smooth is 0 below 0, 1 above 1 and smooth between (10τ³ − 15τ⁴ + 6τ⁵,
// minimum jerk, Flash & Hogan 1985).
func smooth(t float64) float64 {
	t = min(max(t, 0), 1)
	return t * t * t * (10 + t*(-15+6*t))
}
