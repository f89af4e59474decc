package lens

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
)

// First-order propagation is what a Monte Carlo of the same errors gives
// (JCGM 101:2008, Supplement 1 to the GUM): each cause alone, then all.
func TestUncertaintyIsThatOfAMonteCarlo(t *testing.T) {
	camera := Camera{Width: 960, Height: 540, Focal: 700, Target: Point{U: 500, V: 280}, Roll: 1}
	v, err := NewView(camera)
	require.NoError(t, err)
	hands := v.At(Point{U: 470, V: 300}, 2.7)
	head, _ := v.Project(hands.Add(Direction(13, 6).Mul(0.85)))
	club := Club{Hands: Point{U: 470, V: 300}, Head: head, Forward: 2.7, Reach: 0.85}
	all := Sigmas{Hands: 1.5, Head: 2, Forward: 0.06, Reach: 0.01, Target: 3, Roll: 1.5, Focal: 0.03}
	cases := map[string]Sigmas{
		"hands": {Hands: all.Hands}, "head": {Head: all.Head}, "distance": {Forward: all.Forward}, "length": {Reach: all.Reach},
		"target point": {Target: all.Target}, "roll": {Roll: all.Roll}, "focal length": {Focal: all.Focal}, "all": all,
	}
	for name, s := range cases {
		t.Run(name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(3, 4))
			n := func(sigma float64) float64 { return sigma * r.NormFloat64() }
			lines := make([]float64, 4000)
			for i := range lines {
				c, k := club, camera
				c.Hands.U += n(s.Hands)
				c.Head.U += n(s.Head)
				c.Forward += n(s.Forward)
				c.Reach += n(s.Reach)
				k.Target.U += n(s.Target)
				k.Roll += n(s.Roll)
				k.Focal *= 1 + n(s.Focal)
				w, err := NewView(k)
				require.NoError(t, err)
				line, _, ok := w.Reading(c)
				require.True(t, ok)
				lines[i] = line
			}
			// The sd of 4000 draws is known to 1.1 %; what is not linear comes besides.
			sd := stat.StdDev(lines, nil)
			assert.InEpsilon(t, sd, v.Uncertainty(club, s), 0.06)
			assert.Greater(t, sd, 0.05)
		})
	}
}

// The shaft line from plain trigonometry, without this package's directions:
// a club that points back along the target line is in line, its head a given
// way toward the player makes the angle whose tangent that way is.
func TestAnglesOfPlainTriangles(t *testing.T) {
	hands := Vec{X: 0, Y: 0.5, Z: 0.8}
	for _, c := range []struct{ back, inside, up, line, elevation float64 }{
		{1, 0, 0, 0, 0}, {1, 1, 0, 45, 0}, {math.Sqrt(3), -1, 0, -30, 0}, {1, 0, 1, 0, 45}, {3, 0, -4, 0, -53.13010235},
	} {
		line, elevation := Angles(hands, hands.Add(Vec{X: -c.back, Y: c.inside, Z: c.up}))
		assert.InDelta(t, c.line, line, 1e-6)
		assert.InDelta(t, c.elevation, elevation, 1e-6)
	}
}
