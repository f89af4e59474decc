package ear

import (
	"sync"
	"sync/atomic"
	"time"
)

// State says whether the ear listens.
type State uint8

const (
	Opening State = iota
	Listening
	Deaf // no microphone; it is tried again and again
	Closed
)

// Kind names a kind of sound.
type Kind uint8

const (
	Strike Kind = iota // of the ball, while a downswing was under way
	Taps               // two taps of the club or two claps: again, or next
)

// Heard is one sound that means something.
type Heard struct {
	Kind     Kind
	At       float64 // s, by the clock of Options
	Strength float64 // dB over the noise floor
}

// Options holds what an ear works with. The functions are called on its goroutine and must
// not wait.
type Options struct {
	// Now is the clock that Heard answers in, seconds; nil is one of its own.
	Now func() float64
	// Microphone is its name, "" the system's own choice.
	Microphone string
	// Downswing reports whether the picture says that a downswing is under
	// way at a time, so that the neighbour's strike does not count. It is
	// asked about 0.1 s after the time. nil: always.
	Downswing func(at float64) bool
	// Own reports whether our own output sounds within another time of a time: taps are not
	// heard then. nil: never.
	Own func(at, within float64) bool
	// Speaking reports whether our own voice sounds then: it begins and ends
	// like a strike, and nothing is heard then. nil: never.
	Speaking func(at, within float64) bool
	// Taps switches two taps on.
	Taps bool
	// Distance is the distance from the ball to the microphone, m: sound takes 2.9 ms a
	// metre.
	Distance float64
}

// speedOfSound in air of 20 °C, m/s (ISO 9613-1).
const speedOfSound = 343.2

// ownWithin is the time around our own sounds in which the ear takes nothing for a strike
// or a tap, s: a room rings on.
const ownWithin = 0.15

// Ear listens to a microphone. Its methods may be called from any goroutine.
type Ear struct {
	o      Options
	heard  chan Heard
	chunks chan *chunk
	free   chan *chunk
	record chan *recording
	quit   chan struct{}
	once   sync.Once
	ended  sync.WaitGroup
	missed atomic.Int64 // samples that came while the ear was behind

	mu     sync.Mutex
	state  State
	reason error
	device string
}

// chunk is a piece of sound as the microphone gives it.
type chunk struct {
	data     [2048]float32
	n        int
	at       float64 // s, when it came
	position int64   // of its first sample in the stream
	stream   int     // which stream, counted by openings
}

// recording keeps the sound for the measurement of the delay; it is let go of right after
// that.
type recording struct {
	samples []float64
	want    int
	began   float64 // s
	done    chan struct{}
}

// Open begins to listen. It returns at once and never fails: State and Err
// tell how it went.
func Open(o Options) *Ear {
	if o.Now == nil {
		began := time.Now()
		o.Now = func() float64 { return time.Since(began).Seconds() }
	}
	e := newEar(o)
	e.ended.Add(2)
	go e.watch(openMicrophone)
	go e.listen()
	return e
}

func newEar(o Options) *Ear {
	e := &Ear{o: o, heard: make(chan Heard, 32), chunks: make(chan *chunk, 128), free: make(chan *chunk, 128), record: make(chan *recording), quit: make(chan struct{})}
	for range cap(e.free) {
		e.free <- &chunk{}
	}
	return e
}

// Heard tells what is heard, until the ear is closed. What is not taken is
// dropped.
func (e *Ear) Heard() <-chan Heard { return e.heard }

// State returns the ear's state.
func (e *Ear) State() State {
	e.mu.Lock()
	defer e.mu.Unlock()
	return e.state
}

// Err returns the reason why nothing is heard, nil while the ear listens.
func (e *Ear) Err() error {
	e.mu.Lock()
	defer e.mu.Unlock()
	return e.reason
}

// Close ends listening.
func (e *Ear) Close() {
	e.once.Do(func() { close(e.quit) })
	e.ended.Wait()
}

// listen finds what is to be heard in the chunks.
func (e *Ear) listen() {
	defer e.ended.Done()
	defer close(e.heard) // nobody else writes to it
	l := newListener(e)
	for {
		select {
		case <-e.quit:
			return
		case r := <-e.record:
			l.recording = r
		case c := <-e.chunks:
			l.take(c)
			e.free <- c
		}
	}
}

// listener is the state of one goroutine that listens.
type listener struct {
	e         *Ear
	detector  *Detector
	taps      taps
	times     times
	stream    int
	next      int64 // the position expected next
	recording *recording
	found     func(Onset)
	gap       [480]float32
}

func newListener(e *Ear) *listener {
	l := &listener{e: e, detector: NewDetector(), stream: -1}
	l.found = l.onset
	return l
}

func (l *listener) take(c *chunk) {
	if c.stream != l.stream {
		l.detector, l.times, l.taps = NewDetector(), times{}, taps{}
		l.stream, l.next = c.stream, c.position
		l.detector.origin(c.position)
	}
	for l.next < c.position { // what was missed is silence
		n := min(int64(len(l.gap)), c.position-l.next)
		l.detector.Hear(l.gap[:n], l.found)
		l.next += n
	}
	l.times.came(c.at, c.position+int64(c.n))
	l.keep(c)
	l.detector.Hear(c.data[:c.n], l.found)
	l.next += int64(c.n)
	if at, ok := l.taps.pair(l.times.at(l.next)); ok && l.e.o.Taps {
		l.e.tell(Heard{Kind: Taps, At: at})
	}
}

// onset judges an onset by what the picture says.
func (l *listener) onset(o Onset) {
	at := l.times.at(o.At) - l.e.o.Distance/speedOfSound
	if l.e.o.Speaking != nil && l.e.o.Speaking(at, ownWithin) {
		return
	}
	if l.e.o.Downswing == nil || l.e.o.Downswing(at) {
		l.e.tell(Heard{Kind: Strike, At: at, Strength: o.Strength})
		return
	}
	if l.e.o.Own == nil || !l.e.o.Own(at, ownWithin) {
		l.taps.onset(at, o.Strength)
	}
}

func (e *Ear) tell(h Heard) {
	select {
	case e.heard <- h:
	default:
	}
}

// keep records for a measurement of the delay.
func (l *listener) keep(c *chunk) {
	r := l.recording
	if r == nil {
		return
	}
	if len(r.samples) == 0 {
		r.began = l.times.at(c.position)
	}
	for _, x := range c.data[:c.n] {
		r.samples = append(r.samples, float64(x))
	}
	if len(r.samples) >= r.want {
		close(r.done)
		l.recording = nil
	}
}
