package cues

import (
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
)

// sounds are the samples at which a metronome sounds before a sample.
func sounds(m *Metronome, before int64) (at []int64, names []string) {
	for {
		a, tone, ok := m.Next(before)
		if !ok {
			return at, names
		}
		at, names = append(at, a), append(names, tone.Name)
	}
}

// Samples a beat at 48 kHz: 60 bpm 48000; 72 40000; 80 36000; 90 32000; 120
// 24000; 76 has beat 100 at 3789474 (60·48000/76 = 37894.7368…). Computed.
func TestSamplesABeat(t *testing.T) {
	for rate, want := range map[float64]int64{60: 48000, 72: 40000, 80: 36000, 90: 32000, 120: 24000} {
		m := NewMetronome(48000)
		m.Start(SwingAndCatch(rate), 1000)
		at, _ := sounds(m, 1001+2*want)
		require.Equal(t, []int64{1000, 1000 + want, 1000 + 2*want}, at, "%v beats a minute", rate)
	}
	m := NewMetronome(48000)
	m.Start(Plain(76), 0)
	at, _ := sounds(m, 3789475)
	require.Len(t, at, 101)
	require.Equal(t, int64(3789474), at[100])
}

// Beat k is at round(k·60·fs/bpm) for hours: against exact fractions.
func TestAHundredThousandBeatsDoNotDrift(t *testing.T) {
	for _, c := range []struct{ rate, fs int64 }{{76, 44100}, {76, 48000}, {72, 44100}, {113, 48000}} {
		m := NewMetronome(int(c.fs))
		m.Start(SwingAndCatch(float64(c.rate)), 0)
		for k := range int64(100001) {
			at, _, ok := m.Next(math.MaxInt64)
			require.True(t, ok)
			// ⌊k·60·fs/rate + ½⌋ in whole numbers.
			want := new(big.Int).Div(big.NewInt(2*k*60*c.fs+c.rate), big.NewInt(2*c.rate))
			if at != want.Int64() {
				t.Fatalf("beat %d at %d beats a minute and %d Hz: %d, want %s", k, c.rate, c.fs, at, want)
			}
		}
	}
	// A period rounded once drifts by −4.774 ms in 1000 beats at 44.1 kHz
	// and 76 beats a minute (computed): that is what must not happen.
	m := NewMetronome(44100)
	m.Start(Plain(76), 0)
	at, _ := sounds(m, 1000*60*44100/76+2)
	rounded := math.Round(60*44100.0/76) * 1000
	require.InDelta(t, -4.774, (float64(at[1000])-rounded)/44.1, 0.012, "within a rounded sample")
}

func TestForwardBackCatchHold(t *testing.T) {
	m := NewMetronome(Rate)
	b := SwingAndCatch(60)
	b.CountIn = 2
	m.Start(b, 0)
	at, names := sounds(m, 7*48000+1)
	require.Equal(t, []string{"count", "count", "forward", "back", "catch", "hold", "forward", "back"}, names)
	require.Equal(t, int64(7*48000), at[7])
	p := m.Phase(2.5 * 48000)
	require.InDelta(t, 0.5, p.Beats, 1e-9)
	require.Equal(t, 0, p.Step)
	require.InDelta(t, 2*48000, p.Zero, 1e-9)
	require.Less(t, m.Phase(48000).Beats, 0.0, "counting in")
	require.Equal(t, 2, m.Phase(8.2*48000).Step)
}

// Back : down about 3 : 1 (common practice): 0.75 s and 0.25 s of 1 s.
func TestAWholeSwing(t *testing.T) {
	m := NewMetronome(Rate)
	b := WholeSwing(1, UsualRatio, 3)
	require.NoError(t, b.Check())
	m.Start(b, 0)
	at, names := sounds(m, 5*48000+1)
	require.Equal(t, []string{"takeaway", "top", "impact", "takeaway", "top", "impact"}, names)
	require.Equal(t, []int64{0, 36000, 48000, 192000, 228000, 240000}, at)
	for _, c := range []struct{ total, ratio float64 }{{1, 3}, {1.2, 2.5}, {0.9, 3.5}} {
		m := NewMetronome(Rate)
		m.Start(WholeSwing(c.total, c.ratio, 2), 0)
		at, _ := sounds(m, 2*48000)
		require.InDelta(t, c.ratio, float64(at[1]-at[0])/float64(at[2]-at[1]), 1e-3)
		require.InDelta(t, c.total, float64(at[2])/48000, 1e-4)
	}
}

func TestAChangeTakesEffectOnTheNextBeat(t *testing.T) {
	m := NewMetronome(Rate)
	m.Start(SwingAndCatch(60), 0)
	_, names := sounds(m, 48001)
	require.Equal(t, []string{"forward", "back"}, names)
	m.Start(SwingAndCatch(120), 50000)
	at, names := sounds(m, 48000*3+1)
	require.Equal(t, []int64{96000, 120000, 144000}, at, "the beat that was coming comes when it was coming")
	require.Equal(t, []string{"catch", "hold", "forward"}, names, "the round goes on")
	m.Start(WholeSwing(1, 3, 2), 0)
	at, names = sounds(m, 168000+36001)
	require.Equal(t, []int64{168000, 204000}, at)
	require.Equal(t, []string{"takeaway", "top"}, names, "another pattern begins at its beginning")
	m.Stop()
	at, _ = sounds(m, math.MaxInt64)
	require.Empty(t, at)
	require.Equal(t, Phase{}, m.Phase(300000))
	m.Stop()
	m.Start(Plain(60), 400000)
	at, _ = sounds(m, 448001)
	require.Equal(t, []int64{400000, 448000}, at)
	m.Stop()
	m.Start(Plain(60), 450000)
	at, _ = sounds(m, 496001)
	require.Equal(t, []int64{496000}, at, "stopped and begun again before the next beat: it goes on")
}

func TestBeatsThatCannotBe(t *testing.T) {
	for name, b := range map[string]Beat{
		"slow": Plain(19), "fast": Plain(241), "no rate": Plain(0), "not a number": Plain(math.NaN()), "no sound": {Rate: 60, Round: 1},
		"late": {Rate: 60, Round: 4, Steps: []Step{{At: 1}}}, "order": {Rate: 60, Round: 4, Steps: []Step{{}, {At: 2}, {At: 2}}},
		"long": {Rate: 60, Round: 1, Steps: []Step{{}, {At: 1}}}, "count-in": {Rate: 60, Round: 1, Steps: []Step{{}}, CountIn: 17},
	} {
		require.Error(t, b.Check(), name)
	}
	require.NoError(t, SwingAndCatch(72).Check())
	require.NoError(t, CheckSwing(1, 3))
	require.ErrorContains(t, CheckSwing(0.2, 3), "0.6 to 4 s")
	require.ErrorContains(t, CheckSwing(1, 9), "1 to 6")
}

func TestTheMetronomeAllocatesNothing(t *testing.T) {
	m := NewMetronome(Rate)
	b := SwingAndCatch(120)
	b.CountIn = 16
	m.Start(b, 0)
	before := int64(0)
	require.Zero(t, testing.AllocsPerRun(100, func() {
		before += 24000
		m.Next(before)
		m.Phase(float64(before))
	}))
}
