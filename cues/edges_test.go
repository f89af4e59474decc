package cues

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills"
)

// Players learn the tones, so they stay as they are: each is a tempered note of ISO
// 16 (A4 = 440 Hz, semitones of 2^(1/12)), counted in semitones from A4, so many
// milliseconds long. Pitch and length are measured on what is rendered.
func TestTheTonesAreTheNotesThatPlayersKnow(t *testing.T) {
	type heard struct{ semitones, ms, gap int }
	for name, want := range map[string][]heard{
		"count": {{15, 30, 0}}, "forward": {{-2, 50, 0}}, "back": {{5, 70, 0}}, "catch": {{12, 140, 0}}, "hold": {{-7, 30, 0}},
		"takeaway": {{0, 50, 0}}, "part": {{-5, 25, 0}}, "top": {{7, 80, 0}}, "impact": {{14, 160, 0}}, "seen": {{8, 50, 0}}, "pause": {{-4, 300, 0}},
		"ready": {{3, 90, 20}, {10, 160, 0}}, "in place": {{7, 80, 20}, {17, 300, 0}}, "again": {{10, 70, 40}, {10, 70, 0}}, "taken back": {{5, 90, 20}, {-2, 180, 0}},
		"set done": {{3, 100, 20}, {7, 100, 20}, {10, 250, 0}}, "trouble": {{-11, 200, 80}, {-11, 350, 0}},
	} {
		tone, ok := ToneNamed(name)
		require.True(t, ok, name)
		x := tone.Render()
		from := 0
		for _, n := range want {
			long := n.ms * Rate / 1000
			part := x[from : from+long]
			pitch := 440 * math.Pow(2, float64(n.semitones)/12)
			require.Greater(t, power(part, pitch), 0.3*power(part, 0), "%s is not at %.1f Hz", name, pitch)
			for i := range n.gap * Rate / 1000 {
				require.Zero(t, x[from+long+i], "%s: the gap", name)
			}
			from += long + n.gap*Rate/1000
		}
		require.Len(t, x, from, name)
	}
}

// power is that of one frequency in x, or all of it at 0 Hz.
func power(x []float64, hz float64) float64 {
	var re, im, all float64
	for i, v := range x {
		s, c := math.Sincos(2 * math.Pi * hz * float64(i) / Rate)
		re, im, all = re+v*c, im+v*s, all+v*v
	}
	if hz == 0 {
		return all / float64(len(x))
	}
	return 2 * (re*re + im*im) / float64(len(x)) / float64(len(x))
}

// A note is a sine with its octave at a quarter, at −9 dB of full scale where it
// peaks; it rises within 2 ms, falls over 12 ms and decays in between to a seventh.
func TestTheShapeOfANote(t *testing.T) {
	x := Tone{Notes: []Note{{Pitch: 1000, Length: 0.2, Level: -9}}}.Render()
	octave := 10 * math.Log10(power(x, 2000)/power(x, 1000))
	require.InDelta(t, 20*math.Log10(0.25), octave, 0.1)
	peak := func(from, to float64) (most float64) {
		for _, v := range x[int(from*Rate):int(to*Rate)] {
			most = max(most, math.Abs(v))
		}
		return most
	}
	full := math.Pow(10, -9.0/20)
	// A sine with a quarter of its octave peaks at 1.13 of a sine (computed).
	crest := 1.1267 / 1.25
	require.InDelta(t, full*crest*math.Exp(-2*0.0025/0.2), peak(0.002, 0.003), 0.01)
	require.InDelta(t, full*crest*math.Exp(-1), peak(0.0995, 0.1005), 0.005)
	require.Less(t, peak(0, 0.0004), 0.12*full)
	require.Greater(t, peak(0.0012, 0.002), 0.6*full)
	decayed := func(at float64) float64 { return full * crest * math.Exp(-2*at/0.2) }
	require.InDelta(t, decayed(0.1865), peak(0.186, 0.187), 0.004)
	require.Less(t, peak(0.1965, 0.1975), 0.25*decayed(0.197))
	require.Greater(t, peak(0.19, 0.191), 0.75*decayed(0.19))
	short := Tone{Notes: []Note{{Pitch: 1000, Length: 0.03, Level: -9}}}.Render()
	require.InDelta(t, full*crest*math.Exp(-2*0.0145/0.05), maxAbs(short[14*48:15*48]), 0.01, "a short note decays no faster than one of 50 ms")
}

func maxAbs(x []float64) (most float64) {
	for _, v := range x {
		most = max(most, math.Abs(v))
	}
	return most
}

// The limiter sees 2 ms ahead, holds for two such times, and comes up again with a
// time constant of 80 ms.
func TestHowTheLimiterComesUpAgain(t *testing.T) {
	require.Equal(t, 2*Rate/1000, Delay)
	l := NewLimiter(0.9)
	for i := range Rate / 10 { // at the ceiling nothing is turned down
		if y := l.Step(0.9); i >= Delay {
			require.InDelta(t, 0.9, y, 1e-12)
		}
	}
	for range Rate / 10 {
		l.Step(1.8)
	}
	gain := func(after int) float64 { // that many samples of quiet later
		l := NewLimiter(0.9)
		for range Rate / 10 {
			l.Step(1.8)
		}
		y := 0.0
		for range after + 1 {
			y = l.Step(0.1)
		}
		return y / 0.1
	}
	// The gain is the mean over 2 ms, 1 ms late: about 48 samples.
	require.InDelta(t, 0.5, gain(2*Delay-2), 1e-9, "held")
	for _, ms := range []float64{40, 80, 160} {
		want := 1 - 0.5*math.Exp(-ms/80)
		require.InDelta(t, want, gain(2*Delay+Delay/2+int(ms*Rate/1000)), 0.004, "%v ms after", ms)
	}
	require.InDelta(t, 1, gain(2*Rate), 1e-12, "quite up again")
	// What is too loud stays at the ceiling for as long as it lasts.
	l = NewLimiter(0.5)
	for i := range Rate {
		if y := l.Step(2); i > 2*Delay {
			require.InDelta(t, 0.5, y, 1e-9)
		}
	}
	// A louder part in a loud one turns down at once, a softer one does not.
	for range Rate / 100 {
		l.Step(4)
	}
	require.InDelta(t, 0.5, l.Step(4), 1e-9)
}

// ITU-R BS.1770-4: blocks of 400 ms that overlap by three quarters, gates at −70
// LKFS and 10 LU under what passes that. A 997 Hz sine in one channel reads its
// level less 3.01 (ibid.).
func TestTheGatesOfTheLoudness(t *testing.T) {
	tone := func(dbfs, seconds float64) []float64 { return sine(997, math.Pow(10, dbfs/20), seconds, 48000) }
	join := func(parts ...[]float64) (out []float64) {
		for _, p := range parts {
			out = append(out, p...)
		}
		return out
	}
	require.InDelta(t, -26.01, Loudness(join(tone(-36, 2), tone(-23, 12), tone(-36, 2)), 48000), 0.15, "what is 13 LU softer does not count (EBU Tech 3341, case 3; from memory)")
	require.InDelta(t, -3.01-20-10*math.Log10(2/(1+math.Pow(10, -0.6))), Loudness(join(tone(-20, 6), tone(-26, 6)), 48000), 0.1, "6 LU softer does")
	require.True(t, math.IsInf(Loudness(tone(-68, 2), 48000), -1), "under −70 LKFS there is silence")
	require.InDelta(t, -68.01, Loudness(tone(-65, 2), 48000), 0.05)
	// A tone of one block in silence is in seven blocks: wholly in one, then in
	// three quarters, a half, a quarter of two each, 0.571 on average.
	silence := make([]float64, 48000)
	require.InDelta(t, -3.01-20+10*math.Log10(4.0/7), Loudness(join(silence, tone(-20, 0.4), silence), 48000), 0.05)
	require.InDelta(t, -23.01, Loudness(tone(-20, 0.4), 48000), 0.1)
	require.False(t, math.IsInf(Loudness([]float64{0.5, -0.5}, 48000), 1), "two samples")

	x := tone(-30, 1)
	require.InDelta(t, -20, Level(x, 48000, -20), 1e-9)
	require.InDelta(t, -20, Loudness(x, 48000), 1e-9)
	require.InDelta(t, math.Pow(10, -17.0/20), maxAbs(x), 0.002)
	loud := tone(-3, 1)
	require.InDelta(t, -3.01, Level(loud, 48000, 0), 0.01, "no peak over full scale")
	require.InDelta(t, 1, maxAbs(loud), 1e-9)
	require.True(t, math.IsInf(Level(make([]float64, 48000), 48000, -20), -1))
}

func TestTheLimitsOfABeat(t *testing.T) {
	for rate, ok := range map[float64]bool{19.9: false, 20: true, 240: true, 240.1: false} {
		require.Equal(t, ok, Plain(rate).Check() == nil, "%v beats a minute", rate)
	}
	for total, ok := range map[float64]bool{0.59: false, 0.6: true, 4: true, 4.1: false} {
		require.Equal(t, ok, CheckSwing(total, 3) == nil, "%v s", total)
	}
	for ratio, ok := range map[float64]bool{0.9: false, 1: true, 6: true, 6.1: false} {
		require.Equal(t, ok, CheckSwing(1, ratio) == nil, "%v to 1", ratio)
	}
	for n, ok := range map[int]bool{-1: false, 0: true, 16: true, 17: false} {
		b := Plain(60)
		b.CountIn = n
		require.Equal(t, ok, b.Check() == nil, "%d beats counted in", n)
	}
	for text, ok := range map[string]bool{"count in: 16": true, "count in: 17": false, "count in: 0": true, "count in: -1": false} {
		_, err := ParseScript("s", text)
		require.Equal(t, ok, err == nil, text)
	}
	b := Beat{Rate: 60, Round: 2, Steps: []Step{{0, Tone{Name: "a"}}, {1, Tone{Name: "b"}}, {1, Tone{Name: "c"}}}}
	require.ErrorContains(t, b.Check(), "sound 3 of a beat lies outside its round or out of order")
	b.Steps = []Step{{0, Tone{Name: "a"}}, {2, Tone{Name: "b"}}}
	require.ErrorContains(t, b.Check(), "sound 2")
	b.Steps = []Step{{0.5, Tone{Name: "a"}}}
	require.ErrorContains(t, b.Check(), "begins with a sound")
	b.Steps = []Step{{0, Tone{Name: "a"}}, {0.5, Tone{Name: "b"}}, {1.9, Tone{Name: "c"}}}
	require.NoError(t, b.Check())
	// 1.2 s from takeaway to impact, 3 : 1, and 2 s of rest: a beat is 0.3 s, the top
	// is on beat 3, and the rest takes seven beats.
	w := WholeSwing(1.2, 3, 2)
	require.InDelta(t, 200, w.Rate, 1e-9)
	require.Equal(t, 11.0, w.Round)
	require.Equal(t, []float64{0, 3, 4}, []float64{w.Steps[0].At, w.Steps[1].At, w.Steps[2].At})
}

// At 60 beats a minute a whole swing takes four seconds, a beat each, then rests for
// four.
func TestTheBeatsOfAScript(t *testing.T) {
	s := Script{Lead: LeadSwing, Ratio: 3, CountIn: 2}
	b, ok := s.Beat(60)
	require.True(t, ok)
	require.InDelta(t, 60, b.Rate, 1e-9)
	require.Equal(t, 8.0, b.Round)
	require.Equal(t, 2, b.CountIn)
	b, ok = s.Beat(120)
	require.True(t, ok)
	require.InDelta(t, 120, b.Rate, 1e-9)
	require.Equal(t, 8.0, b.Round)
}

func TestWhereAMetronomeIs(t *testing.T) {
	m := NewMetronome(48000)
	m.Start(SwingAndCatch(60), 96000)
	for beats, step := range map[float64]int{0: 0, 0.99: 0, 1: 1, 1.5: 1, 2: 2, 3: 3, 3.99: 3, 4: 0, 5: 1} {
		p := m.Phase(96000 + 48000*beats)
		require.InDelta(t, beats, p.Beats, 1e-9)
		require.Equal(t, step, p.Step, "after %v beats", beats)
		require.InDelta(t, 96000, p.Zero, 1e-9)
	}
	_, _, ok := m.Next(96000)
	require.False(t, ok, "a sound lies before a sample, not on it")
	_, _, ok = m.Next(96001)
	require.True(t, ok)
}

// What is due waits for a still club, but no longer than six seconds.
func TestPatienceHasAnEnd(t *testing.T) {
	said := &saying{}
	c := NewCaller(said)
	c.Tell(Moment{Kind: TurnedRound, At: 10})
	said.words = nil
	c.Tell(Moment{Kind: RepAgain, At: 11, Rep: drills.Rep{Verdict: drills.InLine, Manner: drills.Swung}})
	c.Tick(16)
	require.Empty(t, said.words)
	c.Tick(16.01)
	require.Equal(t, []Phrase{"in-line", "swung"}, said.words)
	require.Equal(t, "unknown (17)", Kind(17).String())
	require.Equal(t, "still", Still.String())
	require.Equal(t, "unknown (6)", Feedback(6).String())
	require.Equal(t, "none", NoFeedback.String())
}

// saying is an output that keeps what is said.
type saying struct{ words []Phrase }

func (s *saying) Play(Tone)       {}
func (s *saying) Say(p ...Phrase) { s.words = append(s.words, p...) }
func (s *saying) Hush()           {}
func (s *saying) Metronome(*Beat) {}

func TestLossesAndSetsInWords(t *testing.T) {
	require.Equal(t, []Phrase{"head-up-high"}, LossWords(drills.Loss{Part: drills.HeadUp, Side: 1}))
	require.Equal(t, []Phrase{"head-up-low"}, LossWords(drills.Loss{Part: drills.HeadUp, Side: -1}))
	require.Empty(t, LossWords(drills.Loss{}))
	require.Equal(t, []Phrase{"set-done", "1", "of", "1", "in-line-and-swung"}, SummaryWords(1, 1))
	require.Equal(t, []Phrase{"set-done", "none", "of", "1", "in-line-and-swung"}, SummaryWords(0, 1))
	require.Equal(t, []Phrase{"set-done"}, SummaryWords(0, 0))
	require.Equal(t, []Phrase{"20"}, Number(20))
	require.Equal(t, []Phrase{"20", "1"}, Number(21))
}
