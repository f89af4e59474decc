package cues

import (
	"sync"

	"drillbay/drills"
)

// Output has cues heard. No method waits.
type Output interface {
	Play(Tone)
	Say(...Phrase) // after what is being said
	Hush()         // ends what is being said, and drops what was to come
	Metronome(*Beat)
}

// Moment is one moment of a session, as the script reads it.
type Moment struct {
	Kind    Kind
	At      float64 // s
	Rep     drills.Rep
	Lost    drills.Loss // of the rep: said after its verdict
	Of      int         // reps in a set, 0 without end
	Counted int         // SetDone: of Done
	Done    int
	Rate    float64 // BeatChanged: beats a minute
	On      bool    // BeatChanged
	Notice  Phrase  // NoticeRaised: what to say in place of the script's words, "" for those
}

// patience is the longest time that a cue waits for the club to be still, s.
const patience = 6.0

// Caller hears of moments and has cues heard by a script. It may be told from
// several goroutines, and never waits.
type Caller struct {
	mu     sync.Mutex
	out    Output
	script Script
	moving bool
	quiet  bool // the rep goes on after its verdict: no more words until it is over
	since  float64
	last   float64 // the time told last
	due    []Cue   // waits until something may be heard
	muted  bool
}

// NewCaller returns a caller for an output, with the script "catch".
func NewCaller(out Output) *Caller {
	s, err := ScriptNamed("catch")
	if err != nil {
		panic(err) // it is embedded
	}
	return &Caller{out: out, script: s}
}

// Use changes to another script.
func (c *Caller) Use(s Script) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.script, c.due, c.quiet = s, nil, false
}

// Mute ends all words until it is taken back; tones and metronome go on.
func (c *Caller) Mute(on bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.muted = on; on {
		c.due = nil
		c.out.Hush()
	}
}

// Tell has the cues of a moment heard.
func (c *Caller) Tell(m Moment) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.last = max(c.last, m.At)
	c.follow(m)
	if m.Kind == BeatChanged {
		c.lead(m)
	}
	for _, cue := range c.script.cues[m.Kind] {
		switch cue.do {
		case sound:
			c.hear(Cue{tone: cue.tone})
		case say:
			c.say(said(m, cue.phrases)...)
		case verdict:
			if c.script.Feedback.Due(m.Rep.Number, m.Of, m.Rep) {
				c.judge(m)
			} else {
				c.hear(Cue{tone: named("seen")})
			}
		case reminder:
			c.judge(m)
		case count:
			c.say(Number(m.Rep.Number)...)
		case summary:
			if c.script.Feedback != NoFeedback {
				c.say(SummaryWords(m.Counted, m.Done)...)
			}
		case cautions:
			c.say(CautionWords()...)
		}
	}
	if m.Kind == RepDone && c.script.GoesOn {
		// What follows the verdict waits until the ball is away.
		c.quiet, c.since = true, m.At
	}
	c.release()
}

// follow keeps track of when nothing may be said.
func (c *Caller) follow(m Moment) {
	switch m.Kind {
	case TurnedRound, Moving:
		if !c.moving {
			c.moving, c.since = true, m.At
			c.out.Hush()
		}
	case CatchSeen:
		c.moving = false
	case RepDone:
		// Where a strike follows, the player may be at it already.
		c.moving = c.moving && c.script.GoesOn
		c.due = nil // a verdict is worth more than what was left unsaid
	case Still, AddressTaken:
		c.moving, c.quiet = false, false
	case Paused, Ended, Began:
		c.moving, c.quiet, c.due = false, false, nil
		c.out.Hush()
	}
}

// judge has a verdict said, and then what the rep lost of the body, in place of what is
// being said: at once, or after the stroke that is under way.
func (c *Caller) judge(m Moment) {
	words := append(VerdictWords(m.Rep), LossWords(m.Lost)...)
	switch {
	case c.muted:
	case c.moving:
		c.due = append(c.due, Cue{do: say, phrases: words})
	default:
		c.out.Hush()
		c.out.Say(words...)
	}
}

// say has phrases said, unless the voice is off.
func (c *Caller) say(p ...Phrase) {
	if !c.muted {
		c.hear(Cue{do: say, phrases: p})
	}
}

// Remark has words said that belong to no moment of a rep: at once or never,
// and not over a stroke.
func (c *Caller) Remark(p ...Phrase) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if !c.muted && !c.moving && !c.quiet {
		c.out.Say(p...)
	}
}

// hear plays or says something now, or when the club is still again.
func (c *Caller) hear(cue Cue) {
	switch {
	case c.moving || c.quiet:
		c.due = append(c.due, cue)
	case cue.do == sound:
		c.out.Play(cue.tone)
	default:
		c.out.Say(cue.phrases...)
	}
}

// Tick lets time pass: what was held back is said when it may be.
func (c *Caller) Tick(at float64) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.last = max(c.last, at)
	c.release()
}

// release says what was held back, when it may be said.
func (c *Caller) release() {
	if (c.moving || c.quiet) && c.last-c.since > patience {
		c.moving, c.quiet = false, false
	}
	if c.moving || c.quiet {
		return
	}
	for _, cue := range c.due {
		c.hear(cue)
	}
	c.due = nil
}

// lead starts, changes or stops the metronome.
func (c *Caller) lead(m Moment) {
	b, ok := c.script.Beat(m.Rate)
	if !m.On || !ok {
		c.out.Metronome(nil)
		return
	}
	c.out.Metronome(&b)
}

// Beat is the script's metronome at a rate, ok is false when it has none or
// the rate cannot be. For whole swings a beat is a quarter of the time from
// takeaway to impact.
func (s Script) Beat(rate float64) (Beat, bool) {
	var b Beat
	switch s.Lead {
	case LeadCatch:
		b = SwingAndCatch(rate)
	case LeadSwing:
		b = WholeSwing(240/rate, s.Ratio, 4*60/rate)
	case LeadPlain:
		b = Plain(rate)
	default:
		return Beat{}, false
	}
	b.CountIn = s.CountIn
	return b, b.Check() == nil
}

func said(m Moment, usual []Phrase) []Phrase {
	if m.Kind == NoticeRaised && m.Notice != "" {
		return []Phrase{m.Notice}
	}
	return usual
}
