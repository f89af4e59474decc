package lens

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// junk are edges that have nothing to do with each other.
func junk(r *rand.Rand, n int) (out []Edge) {
	for range n {
		a, l := r.Float64()*2*math.Pi, 64-90*math.Log(1-r.Float64())
		p := Point{r.Float64() * 1280, r.Float64() * 720}
		out = append(out, Edge{Stretch{p, Point{p.U + l*math.Cos(a), p.V + l*math.Sin(a)}}, 0.6})
	}
	return out
}

// Chance alone gives no lines along the target line: of 800 pictures of junk
// at most a few, which the user would then drag away.
func TestJunkIsNoTargetLine(t *testing.T) {
	bad := 0
	for _, n := range []int{10, 20, 40, 60} {
		for seed := range 200 {
			r := rand.New(rand.NewPCG(uint64(seed), uint64(n)))
			if _, _, _, _, err := Along(junk(r, n), 1280, 720); err == nil {
				bad++
			}
		}
	}
	t.Logf("%d of 800", bad)
	require.LessOrEqual(t, bad, 8)
}

// toward is an edge along the line from p through q, from a to b of the way.
func toward(p, q Point, a, b float64) Edge {
	at := func(k float64) Point { return Point{p.U + k*(q.U-p.U), p.V + k*(q.V-p.V)} }
	return Edge{Stretch{at(a), at(b)}, 0.5}
}

// Four lines along the target line are found wherever little else is seen, and
// mostly where much is.
func TestLinesThatMeetAreFoundAmongJunk(t *testing.T) {
	target := Point{600, 330}
	lines := []Edge{
		toward(target, Point{150, 700}, 0.4, 1), toward(target, Point{500, 700}, 0.5, 0.9),
		toward(target, Point{900, 700}, 0.5, 1), toward(target, Point{1270, 600}, 0.6, 1),
	}
	for n, least := range map[int]int{0: 200, 3: 197, 10: 120} {
		times := 0
		for seed := range 200 {
			r := rand.New(rand.NewPCG(uint64(seed), 5))
			all := append(junk(r, n), lines...)
			found, p, across, down, err := Along(all, 1280, 720)
			if err != nil {
				continue // with so much junk about it need not be sure
			}
			times++
			require.InDelta(t, target.U, p.U, 3*across)
			require.InDelta(t, target.V, p.V, 3*down)
			require.GreaterOrEqual(t, len(found), 2)
			require.LessOrEqual(t, len(found), 3)
			for _, e := range found {
				require.True(t, e.below(p), "it lies on the ground")
			}
		}
		t.Logf("among %d others found in %d of 200", n, times)
		require.GreaterOrEqual(t, times, least, "among %d others", n)
	}
}

// Two lines always meet somewhere: alone they prove nothing. They do with the
// mat's near edge that joins their ends.
func TestTwoSidesOfAMatNeedItsEnd(t *testing.T) {
	target := Point{640, 300}
	left, right := toward(target, Point{240, 660}, 0.5, 1), toward(target, Point{1040, 660}, 0.5, 1)
	_, _, _, _, err := Along([]Edge{left, right}, 1280, 720)
	require.ErrorIs(t, err, ErrNoLines)
	end := Edge{Stretch{Point{242, 661}, Point{1037, 659}}, 0.5}
	found, p, _, _, err := Along([]Edge{left, right, end}, 1280, 720)
	require.NoError(t, err)
	require.Len(t, found, 2)
	require.InDelta(t, target.U, p.U, 0.5)
	_, _, _, _, err = Along(nil, 1280, 720)
	require.ErrorIs(t, err, ErrNoLines)
}

// The target point of a camera that stands as it should is within 0.3 of the width of
// the picture's middle, and from 0.05 to 0.8 of its height down: lines that meet
// elsewhere run along something else.
func TestWhereATargetPointCanBe(t *testing.T) {
	for _, c := range []struct {
		at Point
		ok bool
	}{
		{Point{640, 330}, true}, {Point{640 + 0.28*1280, 330}, true}, {Point{640 - 0.28*1280, 330}, true},
		{Point{640 + 0.32*1280, 330}, false}, {Point{640 - 0.32*1280, 330}, false},
		{Point{640, 0.07 * 720}, true}, {Point{640, 0.03 * 720}, false},
		{Point{640, 0.77 * 720}, true}, {Point{640, 0.83 * 720}, false},
	} {
		var edges []Edge
		for _, way := range []float64{-0.9, -0.3, 0.4, 1.1} {
			foot := Point{c.at.U + 420*way, c.at.V + 320}
			edges = append(edges, toward(c.at, foot, 0.4, 1))
		}
		_, p, _, _, err := Along(edges, 1280, 720)
		require.Equal(t, c.ok, err == nil, "%v: %v", c.at, err)
		if c.ok {
			require.InDelta(t, c.at.U, p.U, 1)
			require.InDelta(t, c.at.V, p.V, 1)
		}
	}
}
