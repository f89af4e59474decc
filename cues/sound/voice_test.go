package sound

import (
	"context"
	"errors"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/assets"
	"drillbay/cues"
)

func wide(data []float32) []float64 {
	out := make([]float64, len(data))
	for i, x := range data {
		out[i] = float64(x)
	}
	return out
}

// ITU-R BS.1770: every phrase within ± 1 LU of the one level.
func TestEveryPhraseIsEquallyLoud(t *testing.T) {
	v := newVoice()
	for _, name := range assets.Phrases() {
		data := v.phrase(cues.Phrase(name))
		require.InDelta(t, -20, cues.Loudness(wide(data), cues.Rate), 1, name)
		peak := 0.0
		for _, x := range data {
			peak = max(peak, math.Abs(float64(x)))
		}
		require.LessOrEqual(t, peak, 1.0, name)
		require.Zero(t, data[0], name)
	}
	require.Nil(t, v.phrase("hello"))
}

// The synthesiser thumps where a short vowel ends in a stop: up to 17 dB over the
// rest of a word that it speaks by itself. What is left is that of speech: the
// loudest 20 ms stand at most 8 dB over the upper quarter.
func TestNoPhraseThumps(t *testing.T) {
	v := newVoice()
	for _, name := range assets.Phrases() {
		var powers []float64
		data := wide(v.phrase(cues.Phrase(name)))
		const block = cues.Rate / 50
		for from := 0; from+block <= len(data); from += block / 2 {
			sum := 0.0
			for _, x := range data[from : from+block] {
				sum += x * x
			}
			powers = append(powers, sum)
		}
		slices.Sort(powers)
		loudest := powers[len(powers)-1]
		powers = slices.DeleteFunc(powers, func(p float64) bool { return p < loudest*0.0004 })
		require.Less(t, 10*math.Log10(loudest/powers[len(powers)*3/4]), 8.0, name)
	}
}

// The verdict's first sound comes at once: no phrase begins with silence.
func TestPhrasesBeginAtOnce(t *testing.T) {
	v := newVoice()
	for _, name := range assets.Phrases() {
		data := v.phrase(cues.Phrase(name))
		require.Less(t, quietest(data[:cues.Rate/10]), 0.05, name)
	}
}

// quietest returns the duration of the longest silence, s: blocks of 10 ms more than 40 dB
// below the loudest.
func quietest(data []float32) float64 {
	const block = cues.Rate / 100
	var powers []float64
	loudest := 0.0
	for from := 0; from+block <= len(data); from += block {
		sum := 0.0
		for _, x := range data[from : from+block] {
			sum += float64(x) * float64(x)
		}
		powers = append(powers, sum)
		loudest = max(loudest, sum)
	}
	run, longest := 0, 0
	for _, p := range powers {
		if run++; p >= loudest*1e-4 {
			run = 0
		}
		longest = max(longest, run)
	}
	return float64(longest) / 100
}

func TestNumbersAreComposedWithoutGaps(t *testing.T) {
	v := newVoice()
	for _, n := range []int{21, 48, 99, 120, 345} {
		parts := cues.Number(n)
		whole := v.compose(parts)
		sum := 0
		for _, p := range parts {
			sum += len(v.phrase(p))
		}
		require.Len(t, whole, sum)
		// A stop consonant inside a word is silent for up to about 0.1 s
		// (common phonetics); a pause between words is heard above that.
		require.LessOrEqual(t, quietest(whole), 0.1, "%d", n)
	}
	apart := v.compose([]cues.Phrase{"inside", "8"})
	require.Greater(t, len(apart), len(v.phrase("inside"))+len(v.phrase("8")))
}

func TestTrimming(t *testing.T) {
	x := make([]float64, 30000)
	for i := 10000; i < 20000; i++ {
		x[i] = 0.5 * math.Sin(float64(i)/10)
	}
	got := trimmed(x, 48000)
	require.InDelta(t, 10000, len(got), 1000)
	require.Empty(t, trimmed(nil, 48000))
	require.NotEmpty(t, trimmed(make([]float64, 100), 48000))
}

func TestResamplingKeepsTheWave(t *testing.T) {
	wave := func(pitch float64, rate int) []float64 {
		out := make([]float64, rate)
		for i := range out {
			out[i] = 0.5 * math.Sin(2*math.Pi*pitch*float64(i)/float64(rate))
		}
		return out
	}
	for _, c := range []struct {
		from, to int
		pitch    float64
	}{{22050, 48000, 441}, {22050, 48000, 8000}, {16000, 48000, 997}, {44100, 48000, 15000}, {48000, 22050, 3000}, {48000, 48000, 100}} {
		got, want := resampled(wave(c.pitch, c.from), c.from, c.to), wave(c.pitch, c.to)
		require.InDelta(t, c.to, len(got), 1)
		for i := 200; i < len(got)-200; i++ {
			require.InDelta(t, want[i], got[i], 1e-3, "%v, sample %d", c, i)
		}
	}
	for i, x := range resampled(wave(15000, 48000), 48000, 22050) {
		if i > 200 && i < 21800 {
			require.InDelta(t, 0, x, 1e-3, "what the lower rate cannot carry is gone")
		}
	}
	require.Empty(t, resampled(nil, 22050, 48000))
}

func TestNamesAreMadeSafe(t *testing.T) {
	for name, want := range map[string]string{
		"Marta": "Marta", "Jean-Luc O'Neil": "Jean-Luc O'Neil", "Åsa Öberg": "Åsa Öberg", "--help": "--help", "$(reboot); `x` | y": "reboot x y", "[[a]] <b>": "a b",
		"a\nb\x00c": "a b c", "  ": "", strings.Repeat("x", 500): strings.Repeat("x", longestName),
	} {
		require.Equal(t, want, spoken(name))
	}
}

// script writes a speech program of the test's own.
func script(t *testing.T, body string) program {
	t.Helper()
	if runtime.GOOS == "windows" {
		t.Skip("the programs of this test are shell scripts")
	}
	path := filepath.Join(t.TempDir(), "speak")
	require.NoError(t, os.WriteFile(path, []byte("#!/bin/sh\n"+body+"\n"), 0o700))
	return program{path: path, args: []string{"{file}"}}
}

func TestTheSystemsSpeechProgram(t *testing.T) {
	phrases, err := filepath.Abs("../../assets/voice/" + assets.Language + "/phrases")
	require.NoError(t, err)
	ctx := context.Background()
	samples, rate, err := script(t, `read name; test "$name" = "Marta K" && cp '`+phrases+`/player.wav' "$1"`).speak(ctx, "Marta K")
	require.NoError(t, err)
	require.Equal(t, 22050, rate)
	require.NotEmpty(t, samples)
	p := script(t, `cat >/dev/null; cat '`+phrases+`/player.wav'`)
	p.args = []string{"--stdout"}
	_, _, err = p.speak(ctx, "Marta")
	require.NoError(t, err)

	_, _, err = script(t, "exit 3").speak(ctx, "Marta")
	require.ErrorContains(t, err, "did not speak")
	_, _, err = script(t, "exit 0").speak(ctx, "Marta")
	require.ErrorContains(t, err, "left nothing")
	p = script(t, "exec yes")
	p.args = nil
	_, _, err = p.speak(ctx, "Marta")
	require.ErrorContains(t, err, "did not speak", "endless output")
	gone, cancel := context.WithCancel(ctx)
	cancel()
	_, _, err = script(t, "read x").speak(gone, "Marta")
	require.Error(t, err)
}

func TestFindingASpeechProgram(t *testing.T) {
	have := func(names ...string) func(string) (string, error) {
		return func(name string) (string, error) {
			for _, n := range names {
				if n == filepath.Base(name) {
					return "/bin/" + n, nil
				}
			}
			return "", errors.New("not there")
		}
	}
	for _, c := range []struct {
		system, want string
		have         []string
	}{{"linux", "/bin/text2wave", []string{"espeak-ng", "text2wave", "cmu_us_slt_arctic_hts"}}, {"linux", "/bin/espeak-ng", []string{"text2wave", "espeak-ng"}}, {"linux", "/bin/espeak-ng", []string{"espeak", "espeak-ng"}}, {"linux", "/bin/espeak", []string{"espeak"}}, {"linux", "", nil},
		{"darwin", "/bin/say", []string{"say"}}, {"windows", "/bin/powershell", []string{"powershell"}}} {
		found := findPrograms(c.system, have(c.have...))
		require.Equal(t, c.want != "", len(found) > 0)
		if len(found) > 0 {
			require.Equal(t, c.want, found[0].path)
		}
	}
}

// What the voice of the phrases cannot read goes to the next program; letters with marks
// it reads without them, and does not spell.
func TestANameIsSpokenByAProgramThatCanReadIt(t *testing.T) {
	phrases, err := filepath.Abs("../../assets/voice/" + assets.Language + "/phrases")
	require.NoError(t, err)
	speaks := func(text string) program {
		return script(t, `read name; test "$name" = "`+text+`" && cp '`+phrases+`/player.wav' "$1"`)
	}
	for as, want := range map[string]string{"Siobhán": "Siobhan", "Øystein Æ": "Oystein Ae", "Łukasz": "Lukasz", "Groß": "Gross", "Nguyễn": "Nguyen", "Marta": "Marta"} {
		p := speaks(want)
		p.latin = true
		samples, _, err := name(context.Background(), []program{p}, as)
		require.NoError(t, err, as)
		require.NotEmpty(t, samples)
	}
	deaf := speaks("")
	deaf.latin = true
	_, _, err = name(context.Background(), []program{deaf, speaks("Мария")}, "Мария")
	require.NoError(t, err)
	_, _, err = name(context.Background(), []program{deaf}, "Мария")
	require.ErrorIs(t, err, errUnspoken, "its number is said then")
	samples, _, err := name(context.Background(), []program{script(t, "exit 3"), speaks("Marta")}, "Marta")
	require.NoError(t, err, "the next one, where the first fails")
	require.NotEmpty(t, samples)
}

func TestAPlayerIsCalledByNameOrByNumber(t *testing.T) {
	o := newOutput(func() float64 { return 0 })
	o.utter(request{name: "Marta", number: 3})
	three := o.voice.compose([]cues.Phrase{"player", "3"})
	require.Equal(t, three, o.desk.words[0].data)
	o.voice.keep("Marta", speech(0.5))
	o.utter(request{name: "Marta", number: 3})
	require.Equal(t, speech(0.5), o.desk.words[1].data)
}
