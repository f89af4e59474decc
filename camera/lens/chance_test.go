package lens

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// beside is an edge whose middle is so far from p in a direction, degrees (v
// downward), and that lies across that direction; known to 0.5 px.
func beside(p Point, far, direction, long float64) Edge {
	s, c := math.Sincos(radians(direction))
	m := Point{p.U + far*c, p.V + far*s}
	return Edge{Stretch{Point{m.U + s*long/2, m.V - c*long/2}, Point{m.U - s*long/2, m.V + c*long/2}}, 0.5}
}

// from is an edge along the direction from p, from near to far.
func from(p Point, near, far, direction float64) Edge {
	s, c := math.Sincos(radians(direction))
	return Edge{Stretch{Point{p.U + near*c, p.V + near*s}, Point{p.U + far*c, p.V + far*s}}, 0.5}
}

// The number of false alarms (Desolneux, Moisan & Morel, From Gestalt Theory to
// Image Analysis, 2008, ch. 3): an edge that is turned any way about its middle, far
// from a point, passes it by less than δ with the probability 2δ/(π·far); of n
// edges, n(n−1)/2 pairs propose a point, and k of the others pass it by chance with
// ((n−2)·q)ᵏ/k!, q being the mean.
func TestHowManyPointsChanceGives(t *testing.T) {
	p := Point{640, 300}
	var steep []Edge
	for _, direction := range []float64{20, 40, 60, 80, 100} {
		steep = append(steep, beside(p, 100, direction, 40))
	}
	// Its middle is known to √½ of its ends: two sigmas of 0.5 px, and 0.7 px.
	delta := 2*0.5*math.Sqrt(0.5) + 0.7
	require.InDelta(t, delta, steep[0].pass(p, 1280), 1e-9)
	require.InDelta(t, 2*0.5*math.Sqrt(0.5)+1.4, steep[0].pass(p, 2560), 1e-9)
	q := 2 * delta / (math.Pi * 100)
	assert.InEpsilon(t, 10*3*q, falseAlarms(steep[:3], steep, p, 1280, 1), 1e-9)
	assert.InEpsilon(t, 10*9*q*q/2, falseAlarms(steep[:4], steep, p, 1280, 1), 1e-9)
	assert.InEpsilon(t, 10*9*q*q/8, falseAlarms(steep[:4], steep, p, 1280, 0.5), 1e-9, "within half of it")
	assert.True(t, math.IsInf(falseAlarms(steep[:2], steep, p, 1280, 1), 1), "two lines always meet")
	twice := append(steep[:5:5], beside(p, 90, 22, 30)) // the same way as the first
	assert.InEpsilon(t, 10*3*q, falseAlarms(steep[:3], twice, p, 1280, 1), 1e-9)
	far := []Edge{beside(p, 100, 20, 40), beside(p, 300, 60, 40), beside(p, 200, 100, 40)}
	mean := (q + q/3 + q/2) / 3
	assert.InEpsilon(t, 3*mean, falseAlarms(far, far, p, 1280, 1), 1e-9)
}

func TestEdgesThatRunToAPoint(t *testing.T) {
	p := Point{640, 300}
	for name, c := range map[string]struct {
		e    Edge
		want bool
	}{
		"to it": {from(p, 50, 200, 60), true}, "up to it from the roof": {from(p, 50, 200, -60), true}, "beside it": {beside(p, 50, 60, 100), false},
		"through it":     {Edge{Stretch{Point{590, 200}, Point{690, 400}}, 0.5}, false},
		"too near it":    {from(p, 13, 200, 60), false},
		"just far":       {from(p, 16, 200, 60), true},
		"just below it":  {from(p, 30, 200, 9), true},
		"level with it":  {from(p, 30, 200, 5), false},
		"level above it": {from(p, 30, 200, -5), false},
		"the other way":  {Edge{Stretch{from(p, 50, 200, 60).To, from(p, 50, 200, 60).From}, 0.5}, true},
	} {
		assert.Equal(t, c.want, len(runningTo([]Edge{c.e}, p, 1280, 720, 1)) == 1, name)
	}
	// By how much an edge may pass, times a share.
	e := from(p, 50, 200, 60)
	may := e.pass(p, 1280)
	s, c := math.Sincos(radians(60))
	for share, shift := range map[float64]float64{1: 0.95, 0.5: 0.47} {
		for more, want := range map[float64]bool{1: true, 1.15: false} {
			d := shift * more * may
			moved := Edge{Stretch{Point{e.From.U - s*d, e.From.V + c*d}, Point{e.To.U - s*d, e.To.V + c*d}}, 0.5}
			assert.Equal(t, want, len(runningTo([]Edge{moved}, p, 1280, 720, share)) == 1, "%v of %v", shift*more, share)
		}
	}
	assert.InDelta(t, 2*0.5*math.Sqrt(1.0/9+16.0/9)+0.7, may, 1e-9, "(1−t)² + t² a third of its length before its near end")
}

// Edges that lie less than five degrees apart as seen from the point are one, the
// longest.
func TestTheWaysFromAPoint(t *testing.T) {
	p := Point{640, 300}
	short, long, other := from(p, 50, 100, 60), from(p, 50, 300, 64.5), from(p, 50, 100, 66)
	assert.Equal(t, []Edge{long}, ways([]Edge{short, long}, p))
	assert.Equal(t, []Edge{long}, ways([]Edge{long, short}, p))
	assert.Equal(t, []Edge{short, other}, ways([]Edge{short, other}, p))
	assert.Equal(t, []Edge{from(p, 50, 100, 178)}, ways([]Edge{from(p, 50, 100, 178), from(p, 50, 90, -178)}, p), "round the circle")
	assert.Len(t, ways([]Edge{from(p, 50, 100, 90), from(p, 50, 100, -90)}, p), 2)
	same := from(p, 60, 110, 60)
	assert.Equal(t, []Edge{short}, ways([]Edge{short, same}, p), "of two as long the first")
}

// Two sides of a mat and the level edge that joins their ends, corner to corner,
// within nine pixels of a picture 1280 wide.
func TestTheSidesOfAMat(t *testing.T) {
	p := Point{640, 300}
	left, right := from(p, 150, 400, 120), from(p, 150, 400, 60)
	ends := func(a, b Point, off float64) Edge {
		return Edge{Stretch{Point{a.U + off, a.V}, Point{b.U + off, b.V}}, 0.5}
	}
	for name, c := range map[string]struct {
		end  Edge
		want bool
	}{
		"the near end": {ends(left.To, right.To, 0), true}, "turned over": {ends(right.To, left.To, 0), true}, "the far end": {ends(left.From, right.From, 0), true},
		"8 px off": {ends(left.To, right.To, 8), true}, "10 px off": {ends(left.To, right.To, 10), false}, "corner to the other's far corner": {ends(left.To, right.From, 0), false},
	} {
		all := []Edge{left, right, c.end}
		assert.Equal(t, c.want, isMat([]Edge{left, right}, all, p, 1280), name)
		turned := Edge{Stretch{left.To, left.From}, 0.5}
		assert.Equal(t, c.want, isMat([]Edge{turned, right}, all, p, 1280), name)
	}
	wide := ends(left.To, right.To, 15)
	assert.False(t, isMat([]Edge{left, right}, []Edge{wide}, p, 1280))
	assert.True(t, isMat([]Edge{left, right}, []Edge{wide}, p, 2560), "pixels are smaller there")
	roof := from(p, 150, 400, -60)
	assert.False(t, isMat([]Edge{left, roof}, []Edge{ends(left.To, roof.To, 0)}, p, 1280), "a mat lies on the ground")
}

// Three lines at most are offered, the surest first; the second lies another way by
// 18° or more.
func TestWhichLinesAreOffered(t *testing.T) {
	p := Point{640, 300}
	sure, second, third, fourth := from(p, 40, 400, 60), from(p, 50, 400, 70), from(p, 60, 400, 80), from(p, 70, 400, 110)
	assert.Equal(t, []Edge{sure, third, second}, onGround([]Edge{fourth, third, second, sure}, p), "60° and 80° are another way, 70° is not")
	assert.Equal(t, []Edge{sure, second}, onGround([]Edge{second, sure}, p), "none lies another way")
	roof := from(p, 20, 400, -60)
	assert.Equal(t, []Edge{sure}, onGround([]Edge{roof, sure}, p))
	worse := sure
	worse.Sd = 5
	assert.Equal(t, []Edge{fourth, worse}, onGround([]Edge{worse, fourth}, p), "a clearer edge comes first")
}
