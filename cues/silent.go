package cues

// Silent is an output that is not heard.
type Silent struct{}

// Play implements Output.
func (Silent) Play(Tone) {}

// Say implements Output.
func (Silent) Say(...Phrase) {}

// Hush implements Output.
func (Silent) Hush() {}

// Metronome implements Output.
func (Silent) Metronome(*Beat) {}
