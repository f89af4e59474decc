package sound

import (
	"fmt"

	"github.com/gen2brain/malgo"

	"drillbay/cues"
	"drillbay/cues/card"
)

// Outputs are the names of all outputs, the system's own choice first: the one
// that is used.
func Outputs() ([]string, error) {
	names, err := card.Names(malgo.Playback)
	if err != nil {
		return nil, fmt.Errorf("sound outputs cannot be listed: %w", err)
	}
	return names, nil
}

// Probe plays samples at cues.Rate, and says when by the clock their first one
// is taken to be heard, s. What a microphone hears later is to be added to the
// delay (Late).
func (o *Output) Probe(samples []float64) (heard float64) {
	data := make([]float32, len(samples))
	for i, x := range samples {
		data[i] = float32(x)
	}
	at := o.desk.play(data)
	return o.clock.zero() + float64(at)/cues.Rate
}

// Late adds to the delay what was measured (ear.Delay), s: the beat is then
// shown when it is heard.
func (o *Output) Late(seconds float64) { o.clock.add(seconds) }

// Delay returns the time that sound is taken to need from here to the ear, s.
func (o *Output) Delay() float64 { return o.clock.waits() }
