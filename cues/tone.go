// Package cues says what is to be heard and when: the metronome, the script
// of a rep, and what the voice says. It is pure: no device, no clock.
package cues

import "math"

// Rate is the sample rate of everything that is played, Hz.
const Rate = 48000

// Note is one sine with its octave softly in it: pitch in Hz, length and gap
// after it in seconds, level of its peak in dB of full scale.
type Note struct {
	Pitch, Length, Gap, Level float64
}

// Tone is one or more notes in a row. Tones differ by pitch and by length,
// never by level alone.
type Tone struct {
	Name  string
	Notes []Note
}

// The attack and release of a note, seconds: long enough not to click.
const (
	attack  = 0.002
	release = 0.012
)

// octave is the level of the octave in a note.
const octave = 0.25

// Seconds returns the duration of the tone.
func (t Tone) Seconds() float64 {
	s := 0.0
	for _, n := range t.Notes {
		s += n.Length + n.Gap
	}
	return s
}

// Render gives the tone's samples at Rate, −1 to 1. The first and the last
// sample of each note are 0.
func (t Tone) Render() []float64 {
	var out []float64
	for _, n := range t.Notes {
		samples, gap := int(math.Round(n.Length*Rate)), int(math.Round(n.Gap*Rate))
		peak := math.Pow(10, n.Level/20) / (1 + octave)
		for i := range samples {
			at := float64(i) / Rate
			w := 2 * math.Pi * n.Pitch * at
			out = append(out, peak*fade(at, n.Length-1.0/Rate)*(math.Sin(w)+octave*math.Sin(2*w)))
		}
		out = append(out, make([]float64, gap)...)
	}
	return out
}

// fade is the envelope of a note: raised cosines at both ends, and a decay
// between them, so that a beat is heard where it begins.
func fade(at, length float64) float64 {
	e := math.Exp(-2 * at / max(length, 0.05))
	if at < attack {
		e *= (1 - math.Cos(math.Pi*at/attack)) / 2
	}
	if left := length - at; left < release {
		e *= (1 - math.Cos(math.Pi*max(left, 0)/release)) / 2
	}
	return e
}

// note is a note at the usual level.
func note(pitch, length float64) Note { return Note{Pitch: pitch, Length: length, Level: -9} }

// tones are all tones that a script can name.
func tones() []Tone {
	then := func(n Note, gap float64) Note { n.Gap = gap; return n }
	return []Tone{
		{"count", []Note{note(1046.5, 0.03)}},
		{"forward", []Note{note(392, 0.05)}},
		{"back", []Note{note(587.3, 0.07)}},
		{"catch", []Note{note(880, 0.14)}},
		{"hold", []Note{note(293.7, 0.03)}},
		{"takeaway", []Note{note(440, 0.05)}},
		{"part", []Note{note(329.6, 0.025)}},
		{"top", []Note{note(659.3, 0.08)}},
		{"impact", []Note{note(987.8, 0.16)}},
		{"ready", []Note{then(note(523.3, 0.09), 0.02), note(784, 0.16)}},
		{"in place", []Note{then(note(659.3, 0.08), 0.02), note(1174.7, 0.3)}},
		{"seen", []Note{note(698.5, 0.05)}},
		{"again", []Note{then(note(784, 0.07), 0.04), note(784, 0.07)}},
		{"taken back", []Note{then(note(587.3, 0.09), 0.02), note(392, 0.18)}},
		{"set done", []Note{then(note(523.3, 0.1), 0.02), then(note(659.3, 0.1), 0.02), note(784, 0.25)}},
		{"pause", []Note{note(349.2, 0.3)}},
		{"trouble", []Note{then(note(233.1, 0.2), 0.08), note(233.1, 0.35)}},
	}
}

// ToneNamed finds a tone by its name.
func ToneNamed(name string) (Tone, bool) {
	for _, t := range tones() {
		if t.Name == name {
			return t, true
		}
	}
	return Tone{}, false
}

// named is ToneNamed for the names used in this package.
func named(name string) Tone { t, _ := ToneNamed(name); return t }
