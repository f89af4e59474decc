package sound

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/cues"
)

// stream draws from a desk in blocks of odd sizes.
func stream(d *desk, samples int) []float64 {
	var out []float64
	for n := 1; len(out) < samples; n = n%700 + 37 {
		block := make([][2]float64, min(n, samples-len(out)))
		got, ok := d.Stream(block)
		if got != len(block) || !ok {
			panic("the desk ended")
		}
		for _, s := range block {
			out = append(out, s[0])
		}
	}
	return out
}

func level(n int, value float32) []float32 {
	out := make([]float32, n)
	for i := range out {
		out[i] = value
	}
	return out
}

func beating(d *desk, b cues.Beat) {
	sounds := map[string][]float32{}
	for _, s := range b.Steps {
		sounds[s.Tone.Name] = rendered(s.Tone)
	}
	d.start(b, sounds)
}

// Beat k of 76 beats a minute begins at round(k·60·48000/76), however the
// output draws: 100 beats against the tone laid there by hand.
func TestBeatsAreLaidOnTheirSamples(t *testing.T) {
	d := newDesk()
	b := cues.Plain(76)
	beating(d, b)
	got := stream(d, 3789474+20000)
	tone := b.Steps[0].Tone.Render()
	want := make([]float64, len(got))
	for k := range 101 {
		at := int(math.Round(float64(k)*60*48000/76)) + cues.Delay
		for i, x := range tone {
			if at+i < len(want) {
				want[at+i] += x
			}
		}
	}
	require.Equal(t, 3789474+cues.Delay, int(math.Round(100*60*48000/76.0))+cues.Delay, "check value: beat 100")
	for i := range got {
		if math.Abs(got[i]-want[i]) > 1e-6 {
			t.Fatalf("sample %d: %v, want %v", i, got[i], want[i])
		}
	}
}

func TestNothingClicks(t *testing.T) {
	d := newDesk()
	beating(d, cues.SwingAndCatch(200))
	d.say(speech(3), d.hushed())
	var got []float64
	got = append(got, stream(d, 30000)...)
	beating(d, cues.SwingAndCatch(120))
	got = append(got, stream(d, 30000)...)
	d.hush()
	d.say(speech(1), d.hushed())
	got = append(got, stream(d, 40000)...)
	d.stop()
	got = append(got, stream(d, 60000)...)
	for i := 1; i < len(got); i++ {
		// The fastest that a sine of 1000 Hz with its octave and the speech here go.
		require.Less(t, math.Abs(got[i]-got[i-1]), 0.09, "sample %d", i)
	}
	require.Zero(t, got[len(got)-1], "and all ends")
}

// speech stands in for words: seconds of a low sine with soft ends.
func speech(seconds float64) []float32 {
	samples := make([]float64, int(seconds*cues.Rate))
	for i := range samples {
		samples[i] = 0.4 * math.Sin(2*math.Pi*150*float64(i)/cues.Rate)
	}
	soften(samples)
	out := make([]float32, len(samples))
	for i, x := range samples {
		out[i] = float32(x)
	}
	return out
}

func TestNeverOverFullScale(t *testing.T) {
	d := newDesk()
	for range 6 {
		d.play(level(20000, 0.9))
		d.say(level(4000, -0.9), d.hushed())
	}
	peak := 0.0
	for _, x := range stream(d, 40000) {
		peak = max(peak, math.Abs(x))
	}
	require.LessOrEqual(t, peak, ceiling)
	require.Greater(t, peak, ceiling*0.98)
}

func TestWordsComeOneAfterTheOther(t *testing.T) {
	d := newDesk()
	d.say(level(1000, 0.3), d.hushed())
	d.say(level(1000, 0.2), d.hushed())
	got := stream(d, 14000)
	at := func(i int) float64 { return got[i+cues.Delay] }
	require.InDelta(t, 0.3, at(500), 1e-6)
	require.Zero(t, at(1000+4800), "a pause between")
	require.InDelta(t, 0.2, at(1000+9600+500), 1e-6)
}

func TestHushEndsWordsSoftlyAndDropsTheRest(t *testing.T) {
	d := newDesk()
	old := d.hushed()
	d.say(level(48000, 0.4), old)
	d.say(level(48000, 0.3), old)
	stream(d, 10000)
	d.hush()
	d.say(level(1000, 0.1), old) // asked for before the hush
	d.say(level(1000, 0.2), d.hushed())
	got := stream(d, 48000)[cues.Delay:]
	require.InDelta(t, 0.4, got[0], 0.01)
	require.InDelta(t, 0.2, got[fadeOut/2], 0.02, "half-way down")
	loudAfter, last := 0.0, 0
	for i, x := range got {
		if i > fadeOut+50 {
			loudAfter = max(loudAfter, x)
		}
		if x > 0.01 {
			last = i
		}
	}
	require.InDelta(t, 0.2, loudAfter, 1e-6, "only what came after is said")
	require.InDelta(t, fadeOut+1000, last, 800)
	d.hush()
	require.Empty(t, d.words)
}

func TestWhenItSounds(t *testing.T) {
	d := newDesk()
	stream(d, 1000)
	d.play(level(500, 0.1))
	require.True(t, d.sounds(1250, 0, false))
	require.False(t, d.sounds(1250, 0, true), "no words")
	require.True(t, d.sounds(1600, 150, false))
	require.False(t, d.sounds(1600, 50, false))
	require.False(t, d.sounds(900, 50, false))
	d.say(level(9000, 0.1), d.hushed())
	require.True(t, d.sounds(8000, 0, true))
	stream(d, 2000)
	d.hush()
	require.True(t, d.sounds(3000, 0, true))
	require.False(t, d.sounds(8000, 0, true), "cut off")
}

func TestDrawingAllocatesNothing(t *testing.T) {
	d := newDesk()
	beating(d, cues.SwingAndCatch(240))
	d.say(speech(2), d.hushed())
	block := make([][2]float64, 512)
	d.Stream(block)
	require.Zero(t, testing.AllocsPerRun(300, func() { d.Stream(block) }))
}

func TestATapGivesFloatsAndSilenceWhenShut(t *testing.T) {
	d := newDesk()
	d.play(level(20000, 0.5))
	drawn := 0
	tp := newTap(d, func(n int) { drawn += n })
	b := make([]byte, 8*1500+3)
	n, err := tp.Read(b)
	require.NoError(t, err)
	require.Equal(t, 8*1500, n)
	require.Equal(t, 1500, drawn)
	value := func(i int) float32 {
		return math.Float32frombits(uint32(b[4*i]) | uint32(b[4*i+1])<<8 | uint32(b[4*i+2])<<16 | uint32(b[4*i+3])<<24)
	}
	require.Equal(t, float32(0.5), value(2*1400), "left")
	require.Equal(t, float32(0.5), value(2*1400+1), "right")
	tp.open.Store(false)
	tp.Read(b)
	require.Zero(t, value(0))
	require.Equal(t, int64(1500), d.position(), "nothing was drawn")
}

func BenchmarkDesk(b *testing.B) {
	d := newDesk()
	beating(d, cues.SwingAndCatch(120))
	block := make([][2]float64, 480)
	b.ReportAllocs()
	for b.Loop() {
		d.Stream(block)
	}
}

// Each kind of sound has its level; what began before goes on as it was.
func TestEachKindOfSoundHasItsLevel(t *testing.T) {
	peak := func(l Levels, start func(d *desk)) (most float64) {
		d := newDesk()
		d.setLevels(l)
		start(d)
		for _, x := range stream(d, 4000) {
			most = max(most, math.Abs(x))
		}
		return most
	}
	words := func(d *desk) { d.say(level(2000, 0.4), d.hushed()) }
	tone := func(d *desk) { d.playAt(level(2000, 0.4), d.level().Tones) }
	probe := func(d *desk) { d.play(level(2000, 0.4)) }
	quiet := Levels{Voice: 0.5, Beat: 1, Tones: 0.25}
	full := Levels{1, 1, 1}
	require.InDelta(t, 0.5*peak(full, words), peak(quiet, words), 0.01)
	require.InDelta(t, 0.25*peak(full, tone), peak(quiet, tone), 0.01)
	require.InDelta(t, peak(full, probe), peak(quiet, probe), 1e-9, "what measures the delay is always full")
}
