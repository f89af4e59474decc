package sound

import (
	"sync"

	"drillbay/assets"
	"drillbay/cues"
)

// voiceLevel is the loudness of every phrase, LKFS.
const voiceLevel = -20.0

// voice has the phrases ready to play. They are made when first wanted, off
// the cue's path, and kept.
type voice struct {
	mu    sync.Mutex
	ready map[cues.Phrase][]float32
	names map[string][]float32 // a name that the system spoke; empty: it could not
}

func newVoice() *voice {
	return &voice{ready: map[cues.Phrase][]float32{}, names: map[string][]float32{}}
}

// phrase is a phrase at cues.Rate: trimmed, level, with soft ends; nil when
// there is none.
func (v *voice) phrase(p cues.Phrase) []float32 {
	v.mu.Lock()
	data, ok := v.ready[p]
	v.mu.Unlock()
	if ok {
		return data
	}
	if file, err := assets.Phrase(string(p)); err == nil {
		if samples, rate, err := assets.Sound(file); err == nil {
			data = prepared(samples, rate)
		}
	}
	v.mu.Lock()
	defer v.mu.Unlock()
	v.ready[p] = data
	return data
}

// name is a name that was prepared, nil when it was not.
func (v *voice) name(name string) []float32 {
	v.mu.Lock()
	defer v.mu.Unlock()
	return v.names[name]
}

// compose joins phrases to one sound, with the gaps that belong between them.
func (v *voice) compose(phrases []cues.Phrase) []float32 {
	var out []float32
	for i, p := range phrases {
		if i > 0 {
			out = append(out, make([]float32, int(cues.Gap(phrases[i-1], p)*cues.Rate))...)
		}
		out = append(out, v.phrase(p)...)
	}
	return out
}

// prepared makes speech ready to play.
func prepared(samples []float64, rate int) []float32 {
	samples = trimmed(samples, rate)
	samples = resampled(samples, rate, cues.Rate)
	cues.Level(samples, cues.Rate, voiceLevel)
	soften(samples)
	out := make([]float32, len(samples))
	for i, x := range samples {
		out[i] = float32(x)
	}
	return out
}

// trimmed cuts what is 40 dB under the loudest 10 ms off both ends.
func trimmed(samples []float64, rate int) []float64 {
	window := max(rate/100, 1)
	powers := make([]float64, 0, len(samples)/window+1)
	loudest := 0.0
	for from := 0; from < len(samples); from += window {
		sum := 0.0
		part := samples[from:min(from+window, len(samples))]
		for _, x := range part {
			sum += x * x
		}
		powers = append(powers, sum/float64(len(part)))
		loudest = max(loudest, powers[len(powers)-1])
	}
	first, last := 0, len(powers)-1
	for first < last && powers[first] < loudest*1e-4 {
		first++
	}
	for last > first && powers[last] < loudest*1e-4 {
		last--
	}
	return samples[first*window : min((last+1)*window, len(samples))]
}

// soften fades both ends over 3 ms.
func soften(samples []float64) {
	n := min(cues.Rate*3/1000, len(samples)/2)
	for i := range n {
		gain := float64(i) / float64(n)
		samples[i] *= gain
		samples[len(samples)-1-i] *= gain
	}
}
