package assets

import (
	"bytes"
	"encoding/binary"
	"math"
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestEveryLineHasItsPhrase(t *testing.T) {
	text, err := os.ReadFile("voice/" + Language + "/phrases.txt")
	require.NoError(t, err)
	var named []string
	for _, line := range strings.Split(string(text), "\n") {
		if name, said, ok := strings.Cut(line, " = "); ok {
			require.NotEmpty(t, said)
			named = append(named, name)
		}
	}
	require.ElementsMatch(t, named, Phrases())
	total := 0
	for _, name := range Phrases() {
		b, err := Phrase(name)
		require.NoError(t, err)
		samples, rate, err := Sound(b)
		require.NoError(t, err, name)
		require.Equal(t, 22050, rate)
		seconds := float64(len(samples)) / float64(rate)
		require.Greater(t, seconds, 0.2, name)
		require.Less(t, seconds, 9.0, name)
		total += len(b)
	}
	require.Less(t, total, 3<<20, "small enough to carry along")
	_, err = Phrase("../build")
	require.ErrorContains(t, err, `no spoken phrase "../build"`)
}

// A coach who is heard across a bay speaks at about four syllables a second; five are a
// hurry (Pellegrino et al. 2011 have 6.2 for fluent reading of English). Short words are
// not judged: one drawn-out sound decides there.
func TestNoSentenceIsHurried(t *testing.T) {
	text, err := os.ReadFile("voice/" + Language + "/phrases.txt")
	require.NoError(t, err)
	judged := 0
	for _, line := range strings.Split(string(text), "\n") {
		name, said, ok := strings.Cut(line, " = ")
		n := syllables(said)
		if !ok || n < 4 {
			continue
		}
		judged++
		b, err := Phrase(name)
		require.NoError(t, err)
		samples, rate, err := Sound(b)
		require.NoError(t, err)
		a := float64(n) * float64(rate) / float64(len(samples))
		assert.Less(t, a, 5.2, "%s: %q in %.2f s", name, said, float64(len(samples))/float64(rate))
		assert.Greater(t, a, 2.0, name)
	}
	require.Greater(t, judged, 50)
}

// syllables counts groups of vowels, without the silent e of "none" and "moved".
func syllables(said string) (n int) {
	for _, word := range strings.FieldsFunc(strings.ToLower(said), func(r rune) bool { return (r < 'a' || r > 'z') && r != '\'' }) {
		if stem, ok := strings.CutSuffix(word, "ed"); ok && !strings.HasSuffix(stem, "d") && !strings.HasSuffix(stem, "t") && strings.ContainsAny(stem, "aeiouy") {
			word = stem
		} else if stem, ok := strings.CutSuffix(word, "e"); ok && !strings.HasSuffix(stem, "l") && strings.ContainsAny(stem, "aeiouy") {
			word = stem
		}
		of := 0
		was := false
		for _, r := range word {
			is := strings.ContainsRune("aeiouy", r)
			if is && !was {
				of++
			}
			was = is
		}
		n += max(of, 1)
	}
	return n
}

// An independent decoder (SoX) reads the same samples.
func TestADPCMAsAnotherDecoderReadsIt(t *testing.T) {
	if _, err := exec.LookPath("sox"); err != nil {
		t.Skip("sox is not installed")
	}
	for _, name := range []string{"in-line", "caution-room"} {
		want, err := exec.Command("sox", "-D", phrases()+"/"+name+".wav", "-t", "s16", "-").Output()
		require.NoError(t, err)
		b, err := Phrase(name)
		require.NoError(t, err)
		samples, _, err := Sound(b)
		require.NoError(t, err)
		require.GreaterOrEqual(t, len(samples), len(want)/2)
		for i := range len(want) / 2 {
			require.Equal(t, int16(binary.LittleEndian.Uint16(want[2*i:])), int16(math.Round(samples[i]*32768)), "%s, sample %d", name, i)
		}
	}
}

func wav(format, channels, bits uint16, rate uint32, size uint32, data []byte) []byte {
	var b bytes.Buffer
	b.WriteString("RIFF\xff\xff\xff\xffWAVEfmt \x10\x00\x00\x00")
	for _, v := range []any{format, channels, rate, rate * 2, uint16(2), bits} {
		binary.Write(&b, binary.LittleEndian, v)
	}
	b.WriteString("data")
	binary.Write(&b, binary.LittleEndian, size)
	b.Write(data)
	return b.Bytes()
}

func TestPCM(t *testing.T) {
	samples, rate, err := Sound(wav(1, 1, 16, 16000, 0xffffffff, []byte{0, 0, 0, 0x80, 0, 0x40}))
	require.NoError(t, err)
	require.Equal(t, 16000, rate)
	require.Equal(t, []float64{0, -1, 0.5}, samples)
}

func TestBadSoundIsRefused(t *testing.T) {
	good := wav(1, 1, 16, 16000, 4, []byte{1, 2, 3, 4})
	for name, b := range map[string][]byte{
		"empty": nil, "text": []byte("RIFF is a word, WAVE too"), "stereo": wav(1, 2, 16, 16000, 4, []byte{1, 2, 3, 4}),
		"8 bits": wav(1, 1, 8, 16000, 4, []byte{1, 2, 3, 4}), "rate 0": wav(1, 1, 16, 0, 4, []byte{1, 2, 3, 4}), "no data": good[:36], "cut": good[:20],
	} {
		_, _, err := Sound(b)
		require.Error(t, err, name)
	}
}

func FuzzSound(f *testing.F) {
	f.Add(wav(1, 1, 16, 16000, 4, []byte{1, 2, 3, 4}))
	f.Add(wav(17, 1, 4, 22050, 9, []byte{1, 2, 99, 0, 5, 6, 7, 8, 9}))
	f.Fuzz(func(t *testing.T, b []byte) {
		samples, _, err := Sound(b)
		for _, x := range samples {
			if err == nil && (x < -1 || x > 1) {
				t.Fatal(x)
			}
		}
	})
}
