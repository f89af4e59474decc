// Package voice has a session heard: what it says of each rep by the cue script of
// the drill, how the camera must be moved, and whose turn it is.
package voice

import (
	"math"
	"slices"
	"sync/atomic"

	"drillbay/assets"
	"drillbay/camera/sight"
	"drillbay/cues"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/book"
	"drillbay/drills/runner"
)

// Voice has the session's moments heard: the runner's words become the cue
// caller's.
type Voice struct {
	caller *cues.Caller
	out    cues.Output
	phase  atomic.Uint32
	goesOn atomic.Bool // a rep goes on after its hold, to a strike
	ladder drills.Ladder
	greet  func(runner.Player) (known bool) // who begins; nil: nobody is called
}

// New returns a voice that speaks by the scripts of a ladder. greet is told of each
// player who begins, and reports whether the cautions are known to them; nil: nobody
// is called.
func New(out cues.Output, ladder drills.Ladder, greet func(runner.Player) (known bool)) *Voice {
	return &Voice{caller: cues.NewCaller(out), out: out, ladder: ladder, greet: greet}
}

// Mute ends all words, or allows them again.
func (v *Voice) Mute(on bool) { v.caller.Mute(on) }

// Tick says what waited for its time, s.
func (v *Voice) Tick(now float64) { v.caller.Tick(now) }

// Lead says to whoever stands at address how the camera must be moved, once nothing
// else is to be said.
func (v *Voice) Lead(o bay.Offset) { v.caller.Remark(LensWords(o)...) }

// scriptOf is the cue script of a drill: that of its file, with the feedback
// that the coach chose there, or the usual one of its kind.
func (v *Voice) scriptOf(d runner.Drill) (cues.Script, error) {
	name := "catch"
	switch {
	case d.Later:
		name = "later"
	case d.Kind == runner.CatchTurnStrike:
		name = "strike"
	case d.Kind == runner.Ordinary:
		name = "ordinary"
	}
	s, err := cues.ScriptNamed(name)
	if own, ok := v.ladder.Drill(d.ID); ok && !d.Later {
		if written, werr := book.Script(own); werr == nil {
			s, err = written, nil
		}
	}
	if d.Mixed != "" && err == nil {
		s = v.inMix(s, d)
	}
	return s, err
}

// inMix is a drill's script as part of mixed practice: which drill is next is
// said, and verdicts come as the mixed practice has them.
func (v *Voice) inMix(s cues.Script, d runner.Drill) cues.Script {
	if mix, ok := v.ladder.Drill(d.Mixed); ok {
		if m, err := book.Script(mix); err == nil {
			s.Feedback = m.Feedback
		}
	}
	next := append([]cues.Phrase{"next", "rung"}, cues.Number(d.Rung)...)
	if slices.Contains(assets.Phrases(), d.ID) {
		next = []cues.Phrase{"next", cues.Phrase(d.ID)}
	}
	return s.Saying(cues.DrillChanged, next...)
}

// spoken are the words for notices that have their own.
func spoken(key string) cues.Phrase {
	return map[string]cues.Phrase{runner.NoPicture: "no-signal", "bumped": "camera-moved", "save": "not-stored"}[key]
}

// cueOf maps each moment of the session to a cue.
var cueOf = [...]cues.Kind{
	runner.Began: cues.Began, runner.AddressTaken: cues.AddressTaken, runner.TurnedRound: cues.TurnedRound, runner.CatchSeen: cues.CatchSeen,
	runner.RepDone: cues.RepDone, runner.RepAgain: cues.RepAgain, runner.RepTaken: cues.RepTaken, runner.SetDone: cues.SetDone,
	runner.Paused: cues.Paused, runner.GoneOn: cues.GoneOn, runner.DrillChanged: cues.DrillChanged, runner.NoticeRaised: cues.NoticeRaised,
	runner.NoticeCleared: cues.NoticeCleared, runner.BeatChanged: cues.BeatChanged, runner.Ended: cues.Ended,
}

// Tell implements runner.Speaker. It is called by the runner alone.
func (v *Voice) Tell(m runner.Moment) {
	switch m.Kind {
	case runner.Began, runner.DrillChanged:
		if s, err := v.scriptOf(m.Drill); err == nil {
			v.caller.Use(s)
			v.goesOn.Store(s.GoesOn)
		}
		if m.Kind == runner.Began && v.greet != nil && v.greet(m.Player) {
			return // a group hears the cautions once
		}
	case runner.NoticeRaised:
		if spoken(m.Notice.Key) == "" {
			return // shown only
		}
	case runner.NoticeCleared:
		if m.Notice.Key != runner.NoPicture {
			return
		}
	}
	v.caller.Tell(cues.Moment{
		Kind: cueOf[m.Kind], At: m.At, Rep: m.Rep.Rep, Lost: m.Rep.Lost, Of: m.Drill.Reps, Counted: m.Counted, Done: m.Of,
		Rate: m.Beat.Rate, On: m.Beat.On, Notice: spoken(m.Notice.Key),
	})
}

// Follow keeps the caller from speaking over a stroke.
func (v *Voice) Follow(g sight.Glance) {
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

// Lens says how the camera must be moved, or with a tone that it is good.
func (v *Voice) Lens(o bay.Offset) {
	v.out.Hush()
	if o.Good() {
		if t, ok := cues.ToneNamed("in place"); ok {
			v.out.Play(t)
		}
		v.out.Say("lens-right")
		return
	}
	v.out.Say(LensWords(o)...)
}

// LensWords say how the camera must be moved.
func LensWords(o bay.Offset) (words []cues.Phrase) {
	up, near := o.Moves()
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
	return words
}
