package camera

import (
	"errors"
	"fmt"
	"sync"
	"time"

	"drillbay/camera/frame"
)

// State says whether a source has a camera and frames arrive.
type State uint8

// The states.
const (
	Searching State = iota // no camera is open: looking for it, by name once one was open
	Live                   // frames arrive
	NoSignal               // a camera is open and no frame has arrived for too long, or it was lost
	Closed                 // by Close, for good
)

// Event is a change of a source's state.
type Event struct {
	State  State
	At     time.Duration // capture clock
	Camera string        // name
	Mode   Mode
	Err    error // why, for people; nil when there is nothing to say
}

// Stats are a source's counts since it was opened.
type Stats struct {
	Frames    int           // delivered to the queue
	Dropped   int           // that the consumer was too slow for: the oldest go first
	Missed    int           // that the camera or the system lost, from gaps
	Bad       int           // unusable: garbage size, planes too short
	NoMemory  int           // dropped because the pool's budget was used up
	Abandoned int           // drivers that hung and were left alone
	Rate      float64       // measured, frames a second; 0 when not known
	CopyMean  time.Duration // from Read's return to the queue, running mean
	CopyMax   time.Duration
}

// Config says which camera to open and in which mode. Only Pool is required.
type Config struct {
	Name  string // camera wanted; "" takes the best
	Label string // tells two cameras of one name apart
	Mode  *Mode  // wanted; nil takes the best
	Pool  *frame.Pool
	Clock Clock // default: a SystemClock
	Queue int   // frames that may wait for the consumer; default 4
	// Rescan looks for cameras that were plugged in since, where the system
	// does not tell; it is called before each try to open one. May be nil.
	Rescan func()
	// KeepMode leaves a mode in use though the camera delivers far less than
	// the mode promises.
	KeepMode bool
}

// Source reads one camera for as long as it is open.
//
// Its contract:
//   - Frames delivers pictures in the order of their Index, each with one
//     reference that the receiver releases. They are 4:2:0, of any size (a
//     camera may change it), Full says their range. At is on the capture
//     clock and rises strictly. Index counts the frames of the camera: a gap
//     is a frame that is missing.
//   - Capture never waits for the receiver. When the queue is full the oldest
//     picture is dropped and counted.
//   - Losing the camera is no end: the state becomes NoSignal within 500 ms or
//     10 periods, whichever is longer, and the camera is opened again, by
//     name, after 0.5 s, then 1, 2, 4 and 5 s. Events tells of every change;
//     who does not listen loses the oldest.
//   - Close may be called from anywhere and more than once. It returns when
//     all that the source started has ended; a driver that hangs is left
//     alone after a deadline, and what it still delivers goes nowhere. Frames
//     and Events are closed then, and pictures in the queue are released.
type Source struct {
	cfg    Config
	clock  Clock
	frames chan *frame.Picture
	events chan Event
	stop   chan struct{}
	once   sync.Once
	done   chan struct{}

	mu     sync.Mutex
	state  Event
	told   bool
	stats  Stats
	modes  []Mode
	closed bool

	fit     Fit   // reader's goroutine only
	index   int64 // next frame's
	copySum time.Duration
	slow    map[string]float64 // measured rates of modes that fell short
}

// Limits of the watch over a camera.
const (
	quietLeast   = 500 * time.Millisecond // no signal, at least
	quietPeriods = 10
	closeAfter   = 2 * time.Second // of no signal the camera is closed
	openLimit    = 8 * time.Second // for opening, until the first frame
	closeLimit   = time.Second     // for closing, then the driver is abandoned
	watchEvery   = 50 * time.Millisecond
	retryFirst   = 500 * time.Millisecond
	retryLast    = 5 * time.Second
	badLimit     = 60 // unusable frames in a row before the camera is reopened
)

// Open starts a source. It returns at once; the first Event tells whether a
// camera was found. The error is of the configuration only.
func Open(cfg Config) (*Source, error) {
	if cfg.Pool == nil {
		return nil, errors.New("camera: a source needs a pool of pictures")
	}
	if cfg.Clock == nil {
		cfg.Clock = NewSystemClock()
	}
	if cfg.Queue <= 0 {
		cfg.Queue = 4
	}
	s := &Source{
		cfg: cfg, clock: cfg.Clock,
		frames: make(chan *frame.Picture, cfg.Queue), events: make(chan Event, 32),
		stop: make(chan struct{}), done: make(chan struct{}),
		slow: map[string]float64{},
	}
	go s.run()
	return s, nil
}

// Frames delivers the pictures. It is closed by Close.
func (s *Source) Frames() <-chan *frame.Picture { return s.frames }

// Events tells of changes of state. It is closed by Close.
func (s *Source) Events() <-chan Event { return s.events }

// State is the last event.
func (s *Source) State() Event {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.state
}

// Modes returns the modes of the camera that was opened last, the best first: while it is
// open nobody else can ask it. The list does not change.
func (s *Source) Modes() []Mode {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.modes
}

// Stats are the counts so far.
func (s *Source) Stats() Stats {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.stats
}

// Close ends the source and waits for it; see the contract.
func (s *Source) Close() error {
	s.once.Do(func() { close(s.stop) })
	<-s.done
	return nil
}

// run owns the source: it opens the camera, watches it, and opens it again.
func (s *Source) run() {
	defer s.finish()
	name, label := s.cfg.Name, s.cfg.Label
	retry := retryFirst
	s.tell(Event{State: Searching, Camera: name})
	for attempt := 0; ; attempt++ {
		if s.cfg.Rescan != nil {
			s.cfg.Rescan()
		}
		d := pick(registered(), name, label, attempt)
		if d == nil {
			s.tell(Event{State: Searching, Camera: name, Err: missing(name)})
		} else {
			v := s.begin(d)
			again := s.watch(v)
			if v.frames.Load() > 0 {
				// From now on it is this one or none.
				name, label = nameOf(d), d.Info().Label
				retry, attempt = retryFirst, -1
			}
			if again {
				continue
			}
		}
		t, cancel := s.clock.After(retry)
		select {
		case <-s.stop:
			cancel()
			return
		case <-t:
		}
		retry = min(2*retry, retryLast)
	}
}

func missing(name string) error {
	if name == "" {
		return ErrNoCamera
	}
	return fmt.Errorf("camera %q is not connected: plug it in, it is found by itself", name)
}

func (s *Source) finish() {
	s.tell(Event{State: Closed})
	s.mu.Lock()
	s.closed = true
	s.mu.Unlock()
	for {
		select {
		case p := <-s.frames:
			p.Release()
			continue
		default:
		}
		break
	}
	close(s.frames)
	close(s.events)
	close(s.done)
}

// tell publishes a change of state; the same state again only with news.
func (s *Source) tell(e Event) {
	e.At = s.clock.Now()
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.closed || (e.State == s.state.State && e.Camera == s.state.Camera && e.Mode == s.state.Mode &&
		errText(e.Err) == errText(s.state.Err) && s.told) {
		return
	}
	s.state, s.told = e, true
	for {
		select {
		case s.events <- e:
			return
		default:
		}
		select {
		case <-s.events:
		default:
		}
	}
}

func errText(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}
