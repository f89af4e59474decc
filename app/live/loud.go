package live

import (
	"drillbay/cues"
	"drillbay/cues/sound"
	"drillbay/drills/book"
)

// loud sets how loud voice, beat and tones are.
func (l *Live) loud(s book.Setup) {
	if l.sound == nil {
		return
	}
	q := s.Quieter
	l.sound.SetLevels(sound.Levels{Voice: q.Share(q.Voice), Beat: q.Share(q.Beat), Tones: q.Share(q.Tones)})
}

// tryLoud lets one of them be heard: the voice, the beat or the tones.
func (l *Live) tryLoud(kind int, s book.Setup) {
	if l.sound == nil {
		return
	}
	l.loud(s)
	switch kind {
	case 0:
		l.sound.Hush()
		l.sound.Say("in-line")
	case 1:
		if t, ok := cues.ToneNamed("back"); ok {
			l.sound.PlayBeat(t)
		}
	default:
		if t, ok := cues.ToneNamed("in place"); ok {
			l.sound.Play(t)
		}
	}
}
