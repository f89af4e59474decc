package lens

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestLinesMeet(t *testing.T) {
	// (0,0)–(4,2) and (0,3)–(3,0) meet at (2,1): computed by solving x = 2y
	// with x + y = 3. The ends are ten times as far apart here, for lines of
	// a few pixels have no direction.
	p, _, _, err := MeetingPoint([]Stretch{{Point{0, 0}, Point{40, 20}}, {Point{0, 30}, Point{30, 0}}}, 1)
	require.NoError(t, err)
	require.InDelta(t, 20, p.U, 1e-9)
	require.InDelta(t, 10, p.V, 1e-9)
	p, _, _, err = MeetingPoint([]Stretch{{Point{0, 0}, Point{4, 2}}, {Point{0, 3}, Point{3, 0}}}, 1)
	require.NoError(t, err)
	require.InDelta(t, 2, p.U, 1e-9)
	require.InDelta(t, 1, p.V, 1e-9)
}

// Three lines that form a small triangle: by symmetry they meet in its middle
// (an equilateral triangle with its corners at the middles of the lines).
func TestThreeLinesMeetInTheMiddle(t *testing.T) {
	var lines []Stretch
	for k := range 3 {
		s, c := math.Sincos(float64(k) * 2 * math.Pi / 3)
		lines = append(lines, Stretch{Point{100 + 5*c - 50*s, 100 + 5*s + 50*c}, Point{100 + 5*c + 50*s, 100 + 5*s - 50*c}})
	}
	p, across, down, err := MeetingPoint(lines, 0.001)
	require.NoError(t, err)
	require.InDelta(t, 100, p.U, 1e-6)
	require.InDelta(t, 100, p.V, 1e-6)
	require.Greater(t, across, 3.0, "the lines miss it by 5 px: it is not sure to 0.001")
	require.InDelta(t, across, down, 1e-6)
}

// What the stated uncertainty promises is what happens when the ends are
// moved at random.
func TestMeetingPointIsAsSureAsItSays(t *testing.T) {
	lines := []Stretch{{Point{250, 700}, Point{430, 520}}, {Point{900, 700}, Point{760, 500}}}
	at, across, down, err := MeetingPoint(lines, 1.5)
	require.NoError(t, err)
	random := rand.New(rand.NewPCG(3, 4))
	moved := func(p Point) Point { return Point{p.U + 1.5*random.NormFloat64(), p.V + 1.5*random.NormFloat64()} }
	var su, sv float64
	const n = 4000
	for range n {
		p, _, _, err := MeetingPoint([]Stretch{{moved(lines[0].From), moved(lines[0].To)}, {moved(lines[1].From), moved(lines[1].To)}}, 1.5)
		require.NoError(t, err)
		su, sv = su+(p.U-at.U)*(p.U-at.U), sv+(p.V-at.V)*(p.V-at.V)
	}
	require.InEpsilon(t, math.Sqrt(su/n), across, 0.06)
	require.InEpsilon(t, math.Sqrt(sv/n), down, 0.06)
}

func TestLinesThatDoNotMeetAreRefused(t *testing.T) {
	for name, lines := range map[string][]Stretch{
		"one":      {{Point{0, 0}, Point{100, 50}}},
		"parallel": {{Point{0, 0}, Point{100, 50}}, {Point{0, 20}, Point{100, 70}}},
		"the same": {{Point{0, 0}, Point{100, 50}}, {Point{0, 0}, Point{100, 50}}},
		"a point":  {{Point{0, 0}, Point{100, 50}}, {Point{7, 7}, Point{7, 7}}},
		"no place": {{Point{0, 0}, Point{100, 50}}, {Point{math.NaN(), 7}, Point{7, 7}}},
	} {
		_, _, _, err := MeetingPoint(lines, 1)
		require.Error(t, err, name)
	}
}
