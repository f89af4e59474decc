package doctor

import (
	"fmt"
	"math"
)

// SoundFigures is what is known of the sound.
type SoundFigures struct {
	Output string  // device; "" none
	Input  string  // microphone; "" none
	Delay  float64 // s from playing to hearing it again; NaN not measured
	Err    error   // why there is no output
}

// Limits of sound after the picture, s: detectable and acceptable (ITU-R
// BT.1359-1).
const (
	lateHeard = 0.125
	lateMost  = 0.185
)

// JudgeSound grades the sound. The output is needed, the microphone is not.
func JudgeSound(s SoundFigures) Finding {
	f := Finding{Check: "sound", Grade: Good}
	switch {
	case s.Err != nil:
		f.Grade, f.Remedy = Poor, fmt.Sprintf("no sound can be played (%v): connect a loudspeaker; until then verdicts are shown only", s.Err)
		return f
	case s.Output == "":
		f.Grade, f.Remedy = Poor, "no sound output was found: connect a loudspeaker; until then verdicts are shown only"
		return f
	}
	f.Figure = s.Output
	if !math.IsNaN(s.Delay) {
		f.Figure = fmt.Sprintf("%s, %.0f ms late", s.Output, s.Delay*1000)
	}
	switch {
	case s.Delay > lateMost:
		f.Grade = Poor
		f.Remedy = "the sound comes too late for a metronome: use a cable or the laptop's own loudspeaker instead of a wireless one"
	case s.Delay > lateHeard:
		f.Grade = Fair
		f.Remedy = "the delay can be heard: a cable or the laptop's own loudspeaker is quicker"
	case s.Input == "":
		f.Grade = Fair
		f.Remedy = "no microphone: strikes are told from the picture alone"
	case math.IsNaN(s.Delay):
		f.Grade = Fair
		f.Remedy = "the delay is not measured yet: measure it in the settings, in a quiet room"
	}
	return f
}
