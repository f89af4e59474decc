package cues

import "math"

// Metronome places a beat's sounds on samples. Sound k lies at
// round(k·60·fs/rate) after the first, so it never drifts. A start, a stop
// and a change take effect on the next beat: no tone is cut off. It is used
// by one goroutine and allocates nothing while it runs.
type Metronome struct {
	rate    int
	count   Tone
	now     Beat
	on      bool
	anchor  int64   // the sample of a sound
	at      float64 // its place, beats
	next    int     // the next sound
	pending *Beat   // takes over at the next sound
	stop    bool    // at the next sound
}

// NewMetronome returns a metronome at a sample rate, not running.
func NewMetronome(rate int) *Metronome { return &Metronome{rate: rate, count: named("count")} }

// Start begins a beat at a sample, or, when one is running, changes to it at
// its next sound. The beat must be without fault (Check).
func (m *Metronome) Start(b Beat, at int64) {
	if m.on {
		m.pending, m.stop = &b, false
		return
	}
	m.begin(b, at)
}

func (m *Metronome) begin(b Beat, at int64) {
	m.now, m.on, m.stop, m.pending = b, true, false, nil
	m.anchor, m.at, m.next = at, 0, 0
}

// Stop ends the beat before its next sound.
func (m *Metronome) Stop() { m.stop, m.pending = m.on, nil }

// Next is the sample and the tone of the next sound before a sample, and
// moves on past it.
func (m *Metronome) Next(before int64) (at int64, tone Tone, ok bool) {
	if !m.on {
		return 0, Tone{}, false
	}
	at, step := m.sound(m.next)
	if at >= before {
		return 0, Tone{}, false
	}
	switch {
	case m.stop:
		m.on, m.stop = false, false
		return 0, Tone{}, false
	case m.pending != nil:
		step = m.change(at)
	}
	m.next++
	if step < 0 {
		return at, m.count, true
	}
	return at, m.now.Steps[step].Tone, true
}

// change hands over to the pending beat at the sound that is due, and says
// which step that is now.
func (m *Metronome) change(at int64) int {
	b := *m.pending
	if !sameSteps(b, m.now) {
		m.begin(b, at)
		_, step := b.place(0)
		return step
	}
	// The same pattern at another rate goes on where it is.
	b.CountIn = m.now.CountIn
	m.now, m.pending = b, nil
	place, step := m.now.place(m.next)
	m.anchor, m.at = at, place
	return step
}

func (m *Metronome) sound(k int) (at int64, step int) {
	place, step := m.now.place(k)
	return m.anchor + int64(math.Round(m.now.Samples(place-m.at, m.rate))), step
}

func sameSteps(a, b Beat) bool {
	if len(a.Steps) != len(b.Steps) || a.Round != b.Round {
		return false
	}
	for i := range a.Steps {
		if a.Steps[i].At != b.Steps[i].At || a.Steps[i].Tone.Name != b.Steps[i].Tone.Name {
			return false
		}
	}
	return true
}

// Phase is the position of a metronome in its pattern, for drawing.
type Phase struct {
	On    bool
	Rate  float64 // beats a minute
	Beats float64 // from the first sound after the count-in; below 0 while it counts in
	Round float64 // beats in a round
	Step  int     // the sound heard last in its round, from 0
	// Zero is the sample of the first round's first sound, or the sample at which it would
	// lie at this rate.
	Zero float64
}

// Phase returns the position at a sample.
func (m *Metronome) Phase(at float64) Phase {
	if !m.on {
		return Phase{}
	}
	beats := m.at + (at-float64(m.anchor))*m.now.Rate/(60*float64(m.rate)) - float64(m.now.CountIn)
	p := Phase{On: true, Rate: m.now.Rate, Beats: beats, Round: m.now.Round}
	p.Zero = float64(m.anchor) - m.now.Samples(m.at-float64(m.now.CountIn), m.rate)
	in := beats - math.Floor(beats/m.now.Round)*m.now.Round
	for i, s := range m.now.Steps {
		if s.At <= in {
			p.Step = i
		}
	}
	return p
}
