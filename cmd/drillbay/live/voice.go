package live

import (
	"math"
	"sync/atomic"

	"drillbay/app"
	"drillbay/camera/sight"
	"drillbay/cmd/drillbay/book"
	"drillbay/cues"
	"drillbay/drills"
	"drillbay/drills/runner"
)

// voice has the session's moments heard: the runner's words become the cue
// caller's.
type voice struct {
	caller *cues.Caller
	out    cues.Output
	phase  atomic.Uint32
	goesOn atomic.Bool // a rep goes on after its hold, to a strike
	ladder drills.Ladder
}

func newVoice(out cues.Output) *voice { return &voice{caller: cues.NewCaller(out), out: out} }

// scriptOf is the cue script of a drill: that of its file, with the feedback
// that the coach chose there, or the usual one of its kind.
func (v *voice) scriptOf(d runner.Drill) (cues.Script, error) {
	name := "catch"
	switch {
	case d.Later:
		name = "later"
	case d.Kind == runner.CatchTurnStrike:
		name = "strike"
	case d.Kind == runner.Ordinary:
		name = "ordinary"
	}
	if own, ok := v.ladder.Drill(d.ID); ok && !d.Later {
		if s, err := book.Script(own); err == nil {
			return s, nil
		}
	}
	return cues.ScriptNamed(name)
}

// spoken are the words for notices that have their own.
func spoken(key string) cues.Phrase {
	return map[string]cues.Phrase{"signal": "no-signal", "bumped": "camera-moved", "save": "not-stored"}[key]
}

// Tell implements runner.Speaker. It is called by the runner alone.
func (v *voice) Tell(m runner.Moment) {
	switch m.Kind {
	case runner.Began, runner.DrillChanged:
		if s, err := v.scriptOf(m.Drill); err == nil {
			v.caller.Use(s)
			v.goesOn.Store(s.GoesOn)
		}
	case runner.NoticeRaised:
		if spoken(m.Notice.Key) == "" {
			return // shown only
		}
	case runner.NoticeCleared:
		if m.Notice.Key != "signal" {
			return
		}
	}
	v.caller.Tell(cues.Moment{
		Kind: cues.Kind(m.Kind), At: m.At, Rep: m.Rep.Rep, Of: m.Drill.Reps, Counted: m.Counted, Done: m.Of,
		Rate: m.Beat.Rate, On: m.Beat.On, Notice: spoken(m.Notice.Key),
	})
}

// follow keeps the caller from speaking over a stroke.
func (v *voice) follow(g sight.Glance) {
	if was := sight.Phase(v.phase.Swap(uint32(g.Phase))); was != g.Phase {
		switch g.Phase {
		case sight.Forward, sight.Back, sight.Finish:
			v.caller.Tell(cues.Moment{Kind: cues.Moving, At: g.At})
		case sight.Settling:
			if was == sight.Hold && v.goesOn.Load() {
				v.caller.Tell(cues.Moment{Kind: cues.Moving, At: g.At})
			}
		case sight.Hold, sight.Address, sight.Away:
			v.caller.Tell(cues.Moment{Kind: cues.Still, At: g.At})
		}
	}
}

// lens says how the camera must be moved.
func (v *voice) lens(o app.Offset) {
	up, near := o.Moves()
	var words []cues.Phrase
	part := func(cm float64, more, less cues.Phrase) {
		if cm == 0 {
			return
		}
		if cm < 0 {
			more = less
		}
		words = append(append(append(words, more), cues.Number(int(math.Round(math.Abs(cm))))...), "centimetres")
	}
	part(up, "raise-camera", "lower-camera")
	part(near, "camera-nearer-ball", "camera-nearer-player")
	if len(words) == 0 {
		words = []cues.Phrase{"lens-right"}
	}
	v.out.Hush()
	v.out.Say(words...)
}

// Silent is an output that is not heard.
type Silent struct{}

// Play implements cues.Output.
func (Silent) Play(cues.Tone) {}

// Say implements cues.Output.
func (Silent) Say(...cues.Phrase) {}

// Hush implements cues.Output.
func (Silent) Hush() {}

// Metronome implements cues.Output.
func (Silent) Metronome(*cues.Beat) {}
