package ear

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/cues"
)

// mixed is noise with strikes at a ratio in dB, and where they begin.
func mixed(seed uint64, strikes int, ratio float64) (samples []float32, at []int64) {
	r := rand.New(rand.NewPCG(seed, 1))
	const apart = 2 * Rate
	samples = make([]float32, (strikes+1)*apart)
	newNoise(seed).fill(samples)
	for k := range strikes {
		start := (k+1)*apart - apart/3 + r.IntN(apart/2)
		noise := rms(samples[start-Rate/2 : start+Rate/2])
		gain := noise * math.Pow(10, ratio/20)
		for i, x := range strike(r) {
			samples[start+i] += float32(gain * x)
		}
		at = append(at, int64(start))
	}
	for i := range samples {
		samples[i] *= 0.02
	}
	return samples, at
}

// listen gives all onsets, with the samples coming in chunks.
func listen(samples []float32) (found []Onset) {
	d := NewDetector()
	for n := 480; len(samples) > 0; n = n%701 + 61 {
		n := min(n, len(samples))
		d.Hear(samples[:n], func(o Onset) { found = append(found, o) })
		samples = samples[n:]
	}
	return found
}

// At 10 dB, ≥ 98 % found, each to 3 ms, and nothing else.
func TestStrikesInTheNoiseOfARange(t *testing.T) {
	samples, at := mixed(3, 250, 10)
	found := listen(samples)
	hits, wrong, worst := 0, 0, 0.0
	taken := make([]bool, len(at))
	for _, o := range found {
		near := -1
		for k, a := range at {
			if math.Abs(float64(o.At-a)) < 0.05*Rate && !taken[k] {
				near = k
			}
		}
		if near < 0 {
			wrong++
			continue
		}
		taken[near] = true
		hits++
		worst = max(worst, math.Abs(float64(o.At-at[near]))/Rate*1000)
	}
	t.Logf("%d of %d strikes found, worst time error %.2f ms, %d false in %.1f minutes", hits, len(at), worst, wrong, float64(len(samples))/Rate/60)
	require.GreaterOrEqual(t, float64(hits), 0.98*float64(len(at)))
	require.LessOrEqual(t, worst, 3.0)
	require.LessOrEqual(t, wrong, 1)
}

// In ten minutes of noise alone, at three levels, at most one false.
func TestTenMinutesWithoutAStrike(t *testing.T) {
	noise := newNoise(11)
	d := NewDetector()
	block, n := make([]float32, Rate), 0
	for second := range 600 {
		noise.fill(block)
		gain := [3]float32{0.003, 0.03, 0.1}[second/200]
		for i := range block {
			block[i] *= gain
		}
		d.Hear(block, func(Onset) { n++ })
	}
	require.LessOrEqual(t, n, 1)
}

// The metronome, as loud as a strike and as near, is no strike; nor are the
// other tones.
func TestTheMetronomeIsNoStrike(t *testing.T) {
	samples := make([]float32, 60*Rate)
	newNoise(5).fill(samples)
	for i := range samples {
		samples[i] *= 0.004
	}
	m := cues.NewMetronome(Rate)
	m.Start(cues.SwingAndCatch(120), Rate)
	beats := 0
	for {
		at, tone, ok := m.Next(int64(len(samples)))
		if !ok {
			break
		}
		beats++
		for i, x := range tone.Render() {
			if at+int64(i) < int64(len(samples)) {
				samples[at+int64(i)] += float32(x)
			}
		}
	}
	for k, name := range []string{"ready", "count", "impact", "top", "again", "set done", "trouble"} {
		tone, ok := cues.ToneNamed(name)
		require.True(t, ok)
		for i, x := range tone.Render() {
			samples[(5+k)*Rate+Rate/4+i] += float32(x)
		}
	}
	require.Greater(t, beats, 100)
	require.Empty(t, listen(samples))
}

func TestLongSoundsAreNoStrike(t *testing.T) {
	samples := make([]float32, 4*Rate)
	newNoise(9).fill(samples)
	r := rand.New(rand.NewPCG(1, 1))
	for i := range samples {
		samples[i] *= 0.004
		if i > 2*Rate && i < 3*Rate { // a hiss that begins all at once: a door, a sprinkler
			samples[i] += float32(0.2 * r.NormFloat64())
		}
	}
	require.Empty(t, listen(samples))
}

func TestTheFloorFollowsTheRange(t *testing.T) {
	samples := make([]float32, 40*Rate)
	newNoise(21).fill(samples)
	r := rand.New(rand.NewPCG(2, 2))
	var want []int64
	for second := range 40 {
		gain := float32(0.002)
		if second >= 20 {
			gain = 0.05 // the range fills up: 28 dB louder
		}
		part := samples[second*Rate : (second+1)*Rate]
		for i := range part {
			part[i] *= gain
		}
		if second%5 == 4 {
			level := rms(part) * math.Pow(10, 10.0/20)
			for i, x := range strike(r) {
				part[Rate/2+i] += float32(level * x)
			}
			want = append(want, int64(second*Rate+Rate/2))
		}
	}
	found := listen(samples)
	var heard []int64
	for _, o := range found {
		if math.Abs(float64(o.At-20*Rate)) > 0.1*Rate { // the step itself may be heard
			heard = append(heard, o.At)
		}
	}
	require.Len(t, heard, len(want))
	for i := range want {
		require.InDelta(t, want[i], heard[i], 0.003*Rate)
	}
}

// A microphone that samples at 16 kHz and less hears nothing above 8 kHz.
func TestANarrowMicrophone(t *testing.T) {
	samples, at := mixed(17, 20, 15)
	narrow := [2]biquad{lowPass(5200, firstQ), lowPass(5200, secondQ)}
	steep := narrow
	for i, x := range samples {
		y := float64(x)
		for k := range narrow {
			y = steep[k].step(narrow[k].step(y))
		}
		samples[i] = float32(math.Round(y*32768) / 32768)
	}
	require.GreaterOrEqual(t, len(listen(samples)), len(at)*8/10)
}

func TestJunkIsSurvived(t *testing.T) {
	d := NewDetector()
	junk := make([]float32, Rate)
	for i := range junk {
		junk[i] = float32(i%2)*2 - 1
	}
	d.Hear(make([]float32, Rate), func(Onset) { t.Fatal("in silence") })
	d.Hear(junk, func(Onset) {})
	d.Hear(nil, func(Onset) {})
}

func TestListeningAllocatesNothing(t *testing.T) {
	d := NewDetector()
	samples, _ := mixed(1, 2, 10)
	found := func(Onset) {}
	require.Zero(t, testing.AllocsPerRun(10, func() { d.Hear(samples[:Rate], found) }))
}

func TestTwoTaps(t *testing.T) {
	pairs := func(onsets ...[2]float64) (at []float64) {
		var p taps
		k := 0
		for now := 0.0; now < 12; now += 0.01 {
			for k < len(onsets) && onsets[k][0] <= now {
				p.onset(onsets[k][0], onsets[k][1])
				k++
			}
			if when, ok := p.pair(now); ok {
				at = append(at, when)
			}
		}
		return at
	}
	require.Equal(t, []float64{1.3}, pairs([2]float64{1, 20}, [2]float64{1.3, 22}))
	require.Equal(t, []float64{1.3, 5.2}, pairs([2]float64{1, 20}, [2]float64{1.3, 22}, [2]float64{5, 20}, [2]float64{5.2, 18}))
	require.Empty(t, pairs([2]float64{1, 20}), "one")
	require.Empty(t, pairs([2]float64{1, 20}, [2]float64{2, 20}), "too far apart")
	require.Empty(t, pairs([2]float64{1, 20}, [2]float64{1.3, 22}, [2]float64{1.6, 22}), "three")
	require.Empty(t, pairs([2]float64{1, 20}, [2]float64{1.3, 22}, [2]float64{1.6, 22}, [2]float64{1.9, 22}), "four")
	require.Empty(t, pairs([2]float64{1, 10}, [2]float64{1.3, 40}), "a tap and a bang")
	require.Equal(t, []float64{4.2}, pairs([2]float64{1, 20}, [2]float64{4, 22}, [2]float64{4.2, 22}), "a lone one long before")
}

func TestTheProbeIsFoundAgain(t *testing.T) {
	probe := Probe()
	for _, c := range []struct {
		lag   float64
		ratio float64 // dB
	}{{0, 20}, {1234, 20}, {20000, -6}, {5000.5, 20}} {
		heard := make([]float32, 2*Rate)
		newNoise(4).fill(heard)
		whole, part := int(c.lag), c.lag-math.Floor(c.lag)
		gain := rms(heard) * math.Pow(10, c.ratio/20) / 0.2
		wide := make([]float64, len(heard))
		for i := range heard {
			wide[i] = float64(heard[i])
		}
		for i := range probe {
			before := 0.0
			if i > 0 {
				before = probe[i-1]
			}
			// Turned over, as a microphone may be.
			wide[whole+i] -= gain * ((1-part)*probe[i] + part*before)
		}
		at, err := Find(wide, probe)
		require.NoError(t, err)
		require.InDelta(t, c.lag, at, 0.6, "%+v", c)
	}
	noise := make([]float32, 2*Rate)
	newNoise(6).fill(noise)
	wide := make([]float64, len(noise))
	for i := range noise {
		wide[i] = float64(noise[i])
	}
	_, err := Find(wide, probe)
	require.ErrorIs(t, err, ErrNotHeard)
	_, err = Find(make([]float64, 2*Rate), probe)
	require.ErrorIs(t, err, ErrNotHeard)
	_, err = Find(nil, probe)
	require.ErrorIs(t, err, ErrNotHeard)
}

func BenchmarkListening(b *testing.B) {
	d := NewDetector()
	samples, _ := mixed(1, 2, 10)
	b.ReportAllocs()
	for b.Loop() {
		d.Hear(samples[:480], func(Onset) {})
	}
}
