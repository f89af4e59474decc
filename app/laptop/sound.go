package laptop

import (
	"context"
	"errors"
	"fmt"
	"math"
)

// SoundFigures holds what is known of the sound.
type SoundFigures struct {
	Output string  // device; "" none
	Input  string  // microphone; "" none
	Delay  float64 // s from playing to hearing it again; NaN not measured
	Off    float64 // s by which the beat is heard after it is shown once the delay is known; NaN not measured
	Err    error   // why there is no output
	// NoDelay says why the delay is not known though there is a microphone.
	NoDelay error
}

// Limits of sound after the picture, and before it, s: detectable and
// acceptable (ITU-R BT.1359-1).
const (
	lateHeard, lateMost   = 0.125, 0.185
	earlyHeard, earlyMost = 0.045, 0.090
)

// verdictLate is the delay from which a verdict may come after the hold, s: it
// is to be heard within 1.2 s of the catch, and is known 0.6 s after it.
const verdictLate = 0.6

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
	if !math.IsNaN(s.Off) {
		f.Figure += fmt.Sprintf(", beat %+.0f ms off the picture", s.Off*1000)
	}
	switch {
	case s.Off > lateMost || s.Off < -earlyMost:
		f.Grade = Poor
		f.Remedy = "the beat is not heard when it is shown: close other programs, or use a cable instead of a wireless loudspeaker"
	case s.Off > lateHeard || s.Off < -earlyHeard:
		f.Grade = Fair
		f.Remedy = "that the beat is not heard when it is shown can be noticed: close other programs and look again"
	case s.Delay > verdictLate:
		f.Grade = Fair
		f.Remedy = "verdicts come late: a cable or the laptop's own loudspeaker is quicker than a wireless one"
	case s.Input == "":
		f.Grade = Fair
		f.Remedy = "no microphone: strikes are told from the picture alone"
	case errors.Is(s.NoDelay, context.DeadlineExceeded):
		f.Grade = Fair
		f.Remedy = "the delay could not be measured in time: close other programs and look again, in a quiet room"
	case s.NoDelay != nil:
		f.Grade = Fair
		f.Remedy = s.NoDelay.Error()
	case math.IsNaN(s.Delay):
		f.Grade = Fair
		f.Remedy = "the delay is not measured yet: look again, in a quiet room"
	}
	return f
}
