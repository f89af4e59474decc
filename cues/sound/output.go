// Package sound is the one audio output: it mixes tones, metronome and voice,
// and has them heard. Without a sound card, or when the sound server is lost,
// it runs on in silence and comes back by itself. No method waits for a
// device.
package sound

import (
	"context"
	"math"
	"sync"
	"sync/atomic"
	"time"

	"drillbay/cues"
)

// State says whether an output plays.
type State uint8

const (
	Opening State = iota
	Playing
	Silent // no output; it is tried again and again
	Closed
)

// Output is the audio output. Its methods may be called from any goroutine.
type Output struct {
	desk  *desk
	voice *voice
	clock *clock
	now   func() float64

	requests chan request
	quit     chan struct{}
	once     sync.Once
	ended    sync.WaitGroup
	dropped  atomic.Int64

	mu     sync.Mutex
	state  State
	reason error
	speech []program
}

// request is something to be said, or a name to be prepared.
type request struct {
	phrases []cues.Phrase
	name    string
	number  int
	prepare bool
	hushes  int
}

var _ cues.Output = (*Output)(nil)

// Open opens the output. It returns at once and never fails: State and Notice
// tell how it went. now is the clock that Beat and Heard answer in, seconds;
// nil is a clock that begins here.
func Open(now func() float64) *Output {
	if now == nil {
		began := time.Now()
		now = func() float64 { return time.Since(began).Seconds() }
	}
	o := newOutput(now)
	o.speech = findPrograms(system, installed)
	o.ended.Add(2)
	go o.watch([]opener{openSpeaker, openDevice})
	go o.talk()
	return o
}

func newOutput(now func() float64) *Output {
	o := &Output{desk: newDesk(), voice: newVoice(), clock: &clock{delay: buffered}, now: now, requests: make(chan request, 64), quit: make(chan struct{})}
	return o
}

// Levels gives the loudness of each kind of sound as a share of full, 0 to 1.
type Levels struct{ Voice, Beat, Tones float64 }

// SetLevels sets how loud each kind of sound is that begins from now on.
func (o *Output) SetLevels(l Levels) { o.desk.setLevels(l) }

// Play sounds a tone now.
func (o *Output) Play(t cues.Tone) { o.desk.playAt(rendered(t), o.desk.level().Tones) }

// PlayBeat sounds a tone as loud as the beat is.
func (o *Output) PlayBeat(t cues.Tone) { o.desk.playAt(rendered(t), o.desk.level().Beat) }

// Say says phrases after what is being said.
func (o *Output) Say(phrases ...cues.Phrase) {
	o.ask(request{phrases: phrases, hushes: o.desk.hushed()})
}

// Call says a player's name, when the system's speech program has spoken it
// (Prepare), else "player" and the number.
func (o *Output) Call(name string, number int) {
	o.ask(request{name: name, number: number, hushes: o.desk.hushed()})
}

// Prepare has names spoken by the system's speech program, to be called
// later.
func (o *Output) Prepare(names ...string) {
	for _, n := range names {
		o.ask(request{name: n, prepare: true})
	}
}

func (o *Output) ask(r request) {
	select {
	case o.requests <- r:
	default:
		o.dropped.Add(1)
	}
}

// Hush ends what is being said, and drops what was to be said.
func (o *Output) Hush() { o.desk.hush() }

// Metronome starts or changes the beat, nil stops it. A beat that cannot be
// is not started.
func (o *Output) Metronome(b *cues.Beat) {
	if b == nil || b.Check() != nil {
		o.desk.stop()
		return
	}
	sounds := map[string][]float32{}
	for _, s := range b.Steps {
		sounds[s.Tone.Name] = rendered(s.Tone)
	}
	if count, ok := cues.ToneNamed("count"); ok {
		sounds[count.Name] = rendered(count)
	}
	o.desk.start(*b, sounds)
}

// Beat is the metronome as it is heard.
type Beat struct {
	cues.Phase
	Zero float64 // s: when the first beat after the count-in was or will be heard
}

// Beat returns the beat of the metronome that is heard at a time, s.
func (o *Output) Beat(now float64) Beat {
	zero := o.clock.zero()
	if math.IsNaN(zero) {
		return Beat{}
	}
	p := o.desk.phase((now - zero) * cues.Rate)
	if !p.On {
		return Beat{}
	}
	return Beat{Phase: p, Zero: zero + p.Zero/cues.Rate}
}

// Sounding reports whether this output is heard at a time, s, give or take
// another.
func (o *Output) Sounding(at, within float64) bool {
	zero := o.clock.zero()
	return !math.IsNaN(zero) && o.desk.sounds((at-zero)*cues.Rate, within*cues.Rate, false)
}

// Speaking is Sounding for words alone.
func (o *Output) Speaking(at, within float64) bool {
	zero := o.clock.zero()
	return !math.IsNaN(zero) && o.desk.sounds((at-zero)*cues.Rate, within*cues.Rate, true)
}

// State returns the output's state.
func (o *Output) State() State {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.state
}

// Notice returns what is wrong with the output and what to do about it; both are empty
// while all is well.
func (o *Output) Notice() (wrong, remedy string) {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.state != Silent {
		return "", ""
	}
	return "No sound can be played.", "Connect or switch on a loudspeaker; verdicts are shown until then."
}

// Err returns the reason why nothing can be played, nil while it can.
func (o *Output) Err() error {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.reason
}

// Close ends the output.
func (o *Output) Close() {
	o.once.Do(func() { close(o.quit) })
	o.ended.Wait()
}

// talk makes words of requests, one after the other.
func (o *Output) talk() {
	defer o.ended.Done()
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	names := make(chan string, 64)
	o.ended.Add(1)
	go o.name(ctx, names)
	for {
		select {
		case <-o.quit:
			return
		case r := <-o.requests:
			if r.prepare {
				select {
				case names <- r.name:
				default:
				}
				continue
			}
			o.utter(r)
		}
	}
}

// utter says a request, unless it was hushed meanwhile.
func (o *Output) utter(r request) {
	var data []float32
	if r.name != "" || r.number != 0 {
		if data = o.voice.name(r.name); len(data) == 0 {
			data = o.voice.compose(append([]cues.Phrase{"player"}, cues.Number(r.number)...))
		}
	} else {
		data = o.voice.compose(r.phrases)
	}
	o.desk.say(data, r.hushes)
}

// name prepares names, off the cue's path.
func (o *Output) name(ctx context.Context, names <-chan string) {
	defer o.ended.Done()
	for {
		select {
		case <-ctx.Done():
			return
		case n := <-names:
			if o.voice.name(n) != nil {
				continue
			}
			samples, rate, err := name(ctx, o.speech, n)
			if err != nil {
				continue // "player three" is said instead
			}
			o.voice.keep(n, prepared(samples, rate))
		}
	}
}

func (v *voice) keep(name string, data []float32) {
	v.mu.Lock()
	defer v.mu.Unlock()
	v.names[name] = data
}

func rendered(t cues.Tone) []float32 {
	samples := t.Render()
	out := make([]float32, len(samples))
	for i, x := range samples {
		out[i] = float32(x)
	}
	return out
}
