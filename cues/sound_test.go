package cues

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

func sine(pitch, peak, seconds float64, rate int) []float64 {
	out := make([]float64, int(seconds*float64(rate)))
	for i := range out {
		out[i] = peak * math.Sin(2*math.Pi*pitch*float64(i)/float64(rate))
	}
	return out
}

// ITU-R BS.1770: a 997 Hz sine of full scale in one front channel reads
// −3.01 LKFS, and 20 dB less 20 LU less.
func TestLoudnessOfTheStandardsTone(t *testing.T) {
	require.InDelta(t, -3.01, Loudness(sine(997, 1, 5, 48000), 48000), 0.01)
	for _, rate := range []int{44100, 22050} { // the filter is brought to other rates, within the ± 0.1 LU of a meter
		require.InDelta(t, -3.01, Loudness(sine(997, 1, 5, rate), rate), 0.05, "%d Hz", rate)
	}
	require.InDelta(t, -23.01, Loudness(sine(997, 0.1, 5, 48000), 48000), 0.01)
	require.True(t, math.IsInf(Loudness(nil, 48000), -1))
	require.True(t, math.IsInf(Loudness(make([]float64, 48000), 48000), -1))
	require.InDelta(t, -3.01, Loudness(sine(997, 1, 0.25, 48000), 48000), 0.1, "shorter than a block")
}

// The coefficients that ITU-R BS.1770-4 prints for 48 kHz (tables 1 and 2;
// values from memory).
func TestTheFilterIsTheStandards(t *testing.T) {
	k := newWeighting(48000)
	for i, c := range []struct{ got, want float64 }{
		{k.shelf.b0, 1.53512485958697}, {k.shelf.b1, -2.69169618940638}, {k.shelf.b2, 1.19839281085285},
		{k.shelf.a1, -1.69065929318241}, {k.shelf.a2, 0.73248077421585},
		{k.pass.a1, -1.99004745483398}, {k.pass.a2, 0.99007225036621},
	} {
		require.InDelta(t, c.want, c.got, 1e-8, "coefficient %d", i)
	}
}

// ITU-R BS.1770-4: silence between words is gated out. 2 s of tone in 6 s
// read as the tone, not 4.8 dB less.
func TestSilenceDoesNotCount(t *testing.T) {
	x := append(sine(997, 0.1, 2, 48000), make([]float64, 4*48000)...)
	require.InDelta(t, -23.01, Loudness(x, 48000), 0.5)
}

func TestTonesDifferAndDoNotClick(t *testing.T) {
	all := tones()
	heard := map[[2]int]string{}
	for _, tone := range all {
		x := tone.Render()
		require.InDelta(t, tone.Seconds(), float64(len(x))/Rate, 1e-3, tone.Name)
		peak, step := 0.0, 0.0
		for i := range x {
			peak = max(peak, math.Abs(x[i]))
			if i > 0 {
				step = max(step, math.Abs(x[i]-x[i-1]))
			}
		}
		require.Less(t, peak, 0.4, tone.Name)
		require.Greater(t, peak, 0.15, tone.Name)
		// A sine of 1100 Hz with its octave, at the peak, goes no faster.
		require.Less(t, step, peak*2*math.Pi*1100*1.5/Rate*1.2, "%s begins or ends with a click", tone.Name)
		require.Zero(t, x[0], tone.Name)
		require.InDelta(t, 0, x[len(x)-1], 1e-3, tone.Name)
		first := tone.Notes[0]
		key := [2]int{int(first.Pitch), int(tone.Seconds() * 1000)}
		require.Empty(t, heard[key], "%s sounds like another", tone.Name)
		heard[key] = tone.Name
	}
	steps := SwingAndCatch(72).Steps
	for i := 1; i < 3; i++ {
		a, b := steps[i-1].Tone.Notes[0], steps[i].Tone.Notes[0]
		require.Greater(t, b.Pitch, a.Pitch*1.3, "higher")
		require.Greater(t, b.Length, a.Length*1.3, "and longer")
	}
	_, ok := ToneNamed("gong")
	require.False(t, ok)
}

func TestTheLimiterHoldsTheCeiling(t *testing.T) {
	l := NewLimiter(0.9)
	quiet := sine(440, 0.5, 0.1, Rate)
	for i, x := range quiet {
		y := l.Step(x)
		if i >= Delay {
			require.InDelta(t, quiet[i-Delay], y, 1e-12, "what fits passes unchanged, %d samples later", Delay)
		}
	}
	loud := sine(440, 2.5, 0.3, Rate)
	before, step := 0.0, 0.0
	for i, x := range loud {
		y := l.Step(x)
		require.LessOrEqual(t, math.Abs(y), 0.9)
		if i > Delay {
			step = max(step, math.Abs(y-before))
		}
		before = y
	}
	require.Less(t, step, 0.2, "turned down, not cut")
	flat := 0
	for i := range Rate / 10 {
		x := 0.0
		if i < 144 { // one bump of 3 ms, twice the ceiling
			x = 0.9 * (1 - math.Cos(2*math.Pi*float64(i)/144))
		}
		if l.Step(x) > 0.8999 {
			flat++
		}
	}
	require.LessOrEqual(t, flat, 6, "its top stays round")
	for i := range 2 * Rate {
		x := 0.0
		if i == 100 {
			x = 40 // a single sample
		}
		require.LessOrEqual(t, math.Abs(l.Step(x)), 0.9)
	}
	for i := range Rate / 10 {
		x := 0.5 * math.Sin(float64(i)/20)
		if y := l.Step(x); i >= Delay {
			require.InDelta(t, 0.5*math.Sin(float64(i-Delay)/20), y, 1e-3, "up again after a while")
		}
	}
	require.Zero(t, testing.AllocsPerRun(100, func() { l.Step(3) }))
}
