package lens_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"drillbay/camera/lens"
)

// seenAcross are lines along the target line as a camera before the chest sees them: lying so far from
// the lens, m, its height 0.85 m, turned, tilted and rolled by so many degrees
// (Hartley & Zisserman, §6.1: u = f·x/z).
func seenAcross(turn, tilt, roll float64, away ...float64) (out []lens.Edge) {
	const f, w, h = 900.0, 1280.0, 720.0
	rad := math.Pi / 180
	see := func(x, z float64) lens.Point {
		y := 0.85
		x, z = x*math.Cos(turn*rad)-z*math.Sin(turn*rad), x*math.Sin(turn*rad)+z*math.Cos(turn*rad)
		y, z = y*math.Cos(tilt*rad)+z*math.Sin(tilt*rad), -y*math.Sin(tilt*rad)+z*math.Cos(tilt*rad)
		u, v := f*x/z, f*y/z
		// The picture of a camera turned clockwise leans the other way.
		s, c := math.Sincos(-roll * rad)
		return lens.Point{U: w/2 + u*c - v*s, V: h/2 + u*s + v*c}
	}
	for _, z := range away {
		out = append(out, lens.Edge{Stretch: lens.Stretch{From: see(-0.7, z), To: see(0.6, z)}, Sd: 0.5})
	}
	return out
}

// The roll of a camera that looks across the target line is that of the lines on
// the ground, also where it is turned and tilted a little; within what it says.
func TestTheRollByLinesAcross(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 9))
	within, told := 0, 0
	const n = 400
	for range n {
		turn, tilt, roll := 4*r.NormFloat64(), 3*r.NormFloat64(), 6*r.Float64()-3
		turn, tilt = max(-6, min(6, turn)), max(-6, min(6, tilt))
		edges := seenAcross(turn, tilt, roll, 2.6, 3.1, 4.0)
		for i := range edges {
			edges[i].From.V += 0.5 * r.NormFloat64()
			edges[i].To.V += 0.5 * r.NormFloat64()
		}
		lines, got, sigma, err := lens.LevelBy(edges, 1280, 720)
		if err != nil {
			require.Greater(t, math.Abs(turn), 4.5)
			continue
		}
		require.GreaterOrEqual(t, len(lines), 2)
		require.InDelta(t, roll, got, 2.6, "turn %.1f tilt %.1f", turn, tilt)
		require.Less(t, sigma, 1.5)
		told++
		if math.Abs(got-roll) < 2*sigma {
			within++
		}
	}
	t.Logf("told %d times of %d, within 2 sigma %d", told, n, within)
	require.Greater(t, told, n*9/10)
	require.Greater(t, within, told*93/100)
}

// What does not agree, is short, or lies above the ground says nothing.
func TestNoRollOfWhatIsNoLevelLine(t *testing.T) {
	one := seenAcross(0, 0, 2, 3)
	_, _, _, err := lens.LevelBy(one, 1280, 720)
	require.ErrorIs(t, err, lens.ErrNoLevel, "one line may be turned")
	_, _, _, err = lens.LevelBy(append(one, seenAcross(0, 0, -3, 4)...), 1280, 720)
	require.ErrorIs(t, err, lens.ErrNoLevel, "two that do not agree")
	two := seenAcross(0, 0, 2, 3, 4)
	_, roll, _, err := lens.LevelBy(two, 1280, 720)
	require.NoError(t, err)
	require.InDelta(t, 2, roll, 0.05)
	_, roll, _, err = lens.LevelBy(append(two, seenAcross(0, 0, -6, 3.5)...), 1280, 720)
	require.NoError(t, err, "a third that lies askew is left out")
	require.InDelta(t, 2, roll, 0.05)
	for i := range two {
		two[i].To = lens.Point{U: two[i].From.U + 0.12*1280, V: two[i].From.V - 2}
	}
	_, _, _, err = lens.LevelBy(two, 1280, 720)
	require.ErrorIs(t, err, lens.ErrNoLevel, "too short")
	wall := seenAcross(0, 0, 2, 3, 4)
	for i := range wall {
		wall[i].From.V, wall[i].To.V = wall[i].From.V-300, wall[i].To.V-300
	}
	_, _, _, err = lens.LevelBy(wall, 1280, 720)
	require.ErrorIs(t, err, lens.ErrNoLevel, "above the ground")
	_, _, _, err = lens.LevelBy(nil, 1280, 720)
	require.ErrorIs(t, err, lens.ErrNoLevel)
}

// The uncertainty of the roll is that of weighted least squares by gonum: a line's slope
// is known as its ends are, √2 of their error by its length, and to 0.1° besides; how
// slopes grow with the row is known before to that of a camera turned by 5°, its focal
// length 0.8 of the width.
func TestTheRollAcrossIsAsSureAsLeastSquaresSay(t *testing.T) {
	const rad = math.Pi / 180
	for _, sd := range []float64{0.3, 1.5} {
		x := mat.NewDense(4, 2, nil)
		weight := mat.NewDiagDense(4, nil)
		var edges []lens.Edge
		for i, row := range []float64{150, 210, 290} {
			long := 500 + 100*float64(i)
			edges = append(edges, lens.Edge{Stretch: lens.Stretch{From: lens.Point{U: 640 - long/2, V: 360 + row}, To: lens.Point{U: 640 + long/2, V: 360 + row}}, Sd: sd})
			x.SetRow(i, []float64{1, row})
			sigma := math.Hypot(math.Sqrt2*sd/long, 0.1*rad)
			weight.SetDiag(i, 1/(sigma*sigma))
		}
		before := math.Tan(5*rad) / (0.8 * 1280)
		x.SetRow(3, []float64{0, 1})
		weight.SetDiag(3, 1/(before*before))
		var weighed, information, covariance mat.Dense
		weighed.Mul(weight, x)
		information.Mul(x.T(), &weighed)
		require.NoError(t, covariance.Inverse(&information))
		_, roll, sigma, err := lens.LevelBy(edges, 1280, 720)
		require.NoError(t, err)
		assert.InDelta(t, 0, roll, 1e-9)
		assert.InDelta(t, math.Sqrt(covariance.At(0, 0))/rad, sigma, 1e-9, "ends known to %.1f px", sd)
	}
}
