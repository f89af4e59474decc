package app

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills"
	"drillbay/drills/runner"
)

// Where the hands were stands in one line: depth, height at level and at the top, of what
// was read; the first says against what.
func TestWhereTheHandsWereIsOneLine(t *testing.T) {
	at := func(v float64) drills.Reading { return drills.Reading{Value: v, Sigma: 1} }
	for want, r := range map[string]drills.Rep{
		"12 cm deeper than at address, 9 cm higher":                   {Depth: at(12), Height: at(9), TopHeight: drills.None()},
		"4 cm farther away than at address, 2 cm lower":               {Depth: at(-4.2), Height: at(-2), TopHeight: drills.None()},
		"12 cm deeper than at address, 9 cm higher, 61 cm at the top": {Depth: at(12), Height: at(9), TopHeight: at(61)},
		"as deep as at address, as high":                              {Depth: at(0.2), Height: at(0.3), TopHeight: drills.None()},
		"9 cm higher than at address":                                 {Depth: drills.None(), Height: at(9), TopHeight: drills.None()},
		"61 cm higher than at address at the top":                     {Depth: drills.None(), Height: drills.None(), TopHeight: at(61)},
		"": {Depth: drills.None(), Height: drills.None(), TopHeight: drills.None()},
	} {
		require.Equal(t, want, handsAt(r, metric))
	}
}

// The caution stands wherever the body is told of: below what a rep lost, in practice and
// in the lookback, below the coach's readings and the hands' height; once.
func TestTheCautionStandsWhereTheBodyIsTold(t *testing.T) {
	a := martaPractises()
	cautions := func() int { return strings.Count(strings.Join(a.step().Texts(), " "), drills.NoAdvice) }
	a.tell(done("plain", 3))
	require.Zero(t, cautions(), "nothing of the body is told")
	r := bodied("lost")
	r.Lost = drills.Loss{Part: drills.SpineTilt, Side: -1}
	a.tell(r)
	require.Equal(t, 1, cautions(), "over the picture, also before the line is drawn there")
	a.now += 30
	a.key(Down)
	a.key(Down)
	require.Equal(t, 1, cautions(), "over the picture")
	a.setup.OverlayOff = true
	require.Equal(t, 1, cautions(), "beside it")
	a.snap.Lookback = runner.Lookback{}
	require.Equal(t, 1, cautions(), "in practice")
	a.setup.View = viewScale
	require.Equal(t, 1, cautions(), "also beside the set's scale alone")
	a.setup.View = viewLive
	high := done("high", 3)
	high.Rep.Height = drills.Reading{Value: 12, Sigma: 2}
	a.tell(high)
	require.Equal(t, 1, cautions(), "below the hands' height")
	a.snap.Lookback = runner.Lookback{}
	require.Zero(t, cautions())
}

// A rep from the front says how far the shaft was from level, and why it does not say
// whether that was outside.
func TestALookbackFromTheFrontSaysWhatIsNotTold(t *testing.T) {
	a := martaPractises()
	said := func() string { return strings.Join(a.step().Texts(), " ") }
	require.NotContains(t, said(), drills.SeenFaceOn)
	a.bay.FaceOn = true
	require.Contains(t, said(), "From the front it is whether you swung it; "+drills.SeenFaceOn+".", "before the first rep")
	r := done("front", 0)
	r.Rep.ShaftLine, r.Rep.Verdict, r.Rep.Why, r.Rep.Elevation = drills.None(), drills.NoReading, drills.SeenFaceOn, drills.Reading{Value: -5, Sigma: 0.8}
	values := func() string {
		out := ""
		for _, v := range values(r, runner.Drill{}, a.units()) {
			out += v[0] + ": " + v[1] + "\n"
		}
		return out
	}
	require.Contains(t, values(), "Shaft: 5° below level, true to about 1°\n")
	require.Contains(t, values(), ": The shaft line is not read face-on: "+drills.SideFaceOn+".\n")
	r.Rep.Verdict, r.Rep.Why, r.Rep.Elevation.Value = drills.Short, "stopped 19° before level; "+drills.SeenFaceOn, -19
	require.Contains(t, values(), "Stopped 19° before level; the shaft line is not read face-on: "+drills.SideFaceOn)
	a.tell(r)
	require.True(t, a.step().Says("short"))
	r.Rep.Verdict, r.Rep.Why = drills.NoReading, drills.SeenFaceOn
	a.tell(r)
	require.Contains(t, said(), drills.SideFaceOn, "there is room for it")
	r = done("line", 3)
	r.Rep.Elevation = drills.Reading{Value: -5, Sigma: 0.8}
	require.NotContains(t, values(), "below level")
	require.NotContains(t, values(), drills.SideFaceOn)
}
