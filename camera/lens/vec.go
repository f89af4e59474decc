package lens

import "math"

// Vec is a point or direction in the bay frame, metres: X toward the target,
// Y from the ball toward the player (+Y is inside), Z up.
type Vec struct{ X, Y, Z float64 }

// Add returns a + b.
func (a Vec) Add(b Vec) Vec { return Vec{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }

// Sub returns a − b.
func (a Vec) Sub(b Vec) Vec { return Vec{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }

// Mul returns a scaled by k.
func (a Vec) Mul(k float64) Vec { return Vec{a.X * k, a.Y * k, a.Z * k} }

// Dot returns the inner product.
func (a Vec) Dot(b Vec) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }

// Len returns the length.
func (a Vec) Len() float64 { return math.Sqrt(a.Dot(a)) }

// Unit returns a scaled to length 1; the zero vector stays.
func (a Vec) Unit() Vec {
	if n := a.Len(); n > 0 {
		return a.Mul(1 / n)
	}
	return a
}

// Point is a place in the picture, pixels: U to the right, V down, the middle
// of the top left pixel at (0.5, 0.5), so the picture's centre is
// (width/2, height/2).
type Point struct{ U, V float64 }

func radians(deg float64) float64 { return deg * math.Pi / 180 }
func degrees(rad float64) float64 { return rad * 180 / math.Pi }
