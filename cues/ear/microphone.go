package ear

import (
	"errors"
	"fmt"
	"math"
	"sync/atomic"
	"time"

	"github.com/gen2brain/malgo"

	"drillbay/cues/card"
)

const (
	chunkMs    = 10
	lookEvery  = 200 * time.Millisecond
	stallAfter = 1.5 // s without a chunk: the microphone hangs
	wakeWithin = 4.0 // s from opening that a microphone may need to begin
	retryFirst = 1.0 // s, then doubled
	retryMost  = 8.0 // s
)

var (
	errStopped = errors.New("the microphone stopped")
	errSlow    = errors.New("the microphone gives nothing")
)

// source is an open microphone.
type source interface {
	err() error
	close()
	name() string
}

// opener opens a microphone that gives its samples to take: uncopied, on a
// thread of its own.
type opener func(microphone string, take func(samples []byte)) (source, error)

// watch keeps a microphone open until the ear is closed.
func (e *Ear) watch(open opener) {
	defer e.ended.Done()
	w := &watcher{e: e, open: open, wait: retryFirst}
	w.try(e.o.Now())
	look := time.NewTicker(lookEvery)
	defer look.Stop()
	for {
		select {
		case <-e.quit:
			w.letGo(Closed, nil)
			return
		case <-look.C:
			w.look(e.o.Now())
		}
	}
}

type watcher struct {
	e       *Ear
	open    opener
	source  source
	stream  int
	current *stream
	opened  float64
	again   float64
	wait    float64
}

// stream is one opening of a microphone.
type stream struct {
	e        *Ear
	number   int
	position int64
	last     atomic.Uint64 // bits of the time of the last chunk, s
	shut     atomic.Bool
}

// take copies what came; it runs on the microphone's thread.
func (s *stream) take(samples []byte) {
	if s.shut.Load() {
		return
	}
	now := s.e.o.Now()
	s.last.Store(math.Float64bits(now))
	for len(samples) >= 4 {
		n := min(len(samples)/4, len(chunk{}.data))
		select {
		case c := <-s.e.free:
			for i := range n {
				bits := uint32(samples[4*i]) | uint32(samples[4*i+1])<<8 | uint32(samples[4*i+2])<<16 | uint32(samples[4*i+3])<<24
				c.data[i] = math.Float32frombits(bits)
			}
			left := float64(len(samples)/4-n) / Rate
			c.n, c.at, c.position, c.stream = n, now-left, s.position, s.number
			s.e.chunks <- c // as many fit as there are
		default:
			s.e.missed.Add(int64(n))
		}
		s.position += int64(n)
		samples = samples[4*n:]
	}
}

func (w *watcher) try(now float64) {
	w.stream++
	s := &stream{e: w.e, number: w.stream}
	s.last.Store(math.Float64bits(now))
	src, err := w.open(w.e.o.Microphone, s.take)
	if err != nil {
		s.shut.Store(true)
		w.e.set(Deaf, "", err)
		w.again, w.wait = w.e.o.Now()+w.wait, min(2*w.wait, retryMost)
		return
	}
	w.source, w.current, w.wait, w.opened = src, s, retryFirst, w.e.o.Now()
	w.e.set(Listening, src.name(), nil)
}

func (w *watcher) look(now float64) {
	if w.source == nil {
		if now >= w.again {
			w.try(now)
		}
		return
	}
	err := w.source.err()
	if err == nil && now-math.Float64frombits(w.current.last.Load()) > stallAfter && now-w.opened > wakeWithin {
		err = errSlow
	}
	if err != nil {
		w.letGo(Deaf, err)
		w.again, w.wait = now+w.wait, min(2*w.wait, retryMost)
	}
}

// letGo gives the microphone up. Closing may hang with the device: it is not
// waited for long.
func (w *watcher) letGo(s State, reason error) {
	w.e.set(s, "", reason)
	if w.source == nil {
		return
	}
	w.current.shut.Store(true)
	gone, old := make(chan struct{}), w.source
	go func() { old.close(); close(gone) }()
	select {
	case <-gone:
	case <-time.After(time.Second):
	}
	w.source, w.current = nil, nil
}

func (e *Ear) set(s State, device string, reason error) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.state, e.device, e.reason = s, device, reason
}

// microphone is a capture device of the system.
type microphone struct {
	system  card.System
	device  *malgo.Device
	label   string
	stopped atomic.Bool
}

func openMicrophone(wanted string, take func([]byte)) (source, error) {
	system, err := card.Open()
	if err != nil {
		return nil, err
	}
	m := &microphone{system: system}
	info, err := choose(system, wanted)
	if err != nil {
		system.Close()
		return nil, err
	}
	m.label = info.Name()
	c := malgo.DefaultDeviceConfig(malgo.Capture)
	c.SampleRate, c.Capture.Format, c.Capture.Channels = Rate, malgo.FormatF32, 1
	c.PeriodSizeInMilliseconds, c.Periods = chunkMs, 4
	c.Alsa.NoMMap = 1
	c.Pulse.StreamNameCapture = "drillbay"
	if wanted != "" {
		c.Capture.DeviceID = info.ID.Pointer()
	}
	m.device, err = malgo.InitDevice(system.Context, c, malgo.DeviceCallbacks{
		Data: func(_, in []byte, _ uint32) { take(in) },
		Stop: func() { m.stopped.Store(true) },
	})
	if err != nil {
		system.Close()
		return nil, fmt.Errorf("the microphone %s does not open: %w", m.label, err)
	}
	if err := m.device.Start(); err != nil {
		m.close()
		return nil, fmt.Errorf("the microphone %s does not start: %w", m.label, err)
	}
	return m, nil
}

// choose finds a microphone by name, or the system's own choice.
func choose(system card.System, wanted string) (malgo.DeviceInfo, error) {
	all, err := system.Devices(malgo.Capture)
	if err != nil || len(all) == 0 {
		return malgo.DeviceInfo{}, errors.New("there is no microphone: connect one, or go on without")
	}
	for _, info := range all {
		if (wanted == "" && info.IsDefault != 0) || (wanted != "" && info.Name() == wanted) {
			return info, nil
		}
	}
	if wanted == "" {
		return all[0], nil
	}
	return malgo.DeviceInfo{}, fmt.Errorf("the microphone %q is not there", wanted)
}

// Microphones are the names of all microphones, the system's own choice first.
func Microphones() ([]string, error) {
	names, err := card.Names(malgo.Capture)
	if err != nil {
		return nil, fmt.Errorf("microphones cannot be listed: %w", err)
	}
	return names, nil
}

func (m *microphone) err() error {
	if m.stopped.Load() {
		return errStopped
	}
	return nil
}

func (m *microphone) name() string { return m.label }

func (m *microphone) close() {
	m.device.Uninit()
	m.system.Close()
}
