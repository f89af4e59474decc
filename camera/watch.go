package camera

import (
	"errors"
	"fmt"
	"io"
	"sync/atomic"
	"time"

	"github.com/pion/mediadevices/pkg/driver"
)

// visit is one opening of one camera.
type visit struct {
	d      driver.Driver
	name   string
	stop   atomic.Bool // the reader must end
	closed atomic.Bool // somebody has taken on closing the driver
	frames atomic.Int64
	last   atomic.Int64 // clock at the last frame, or at the start
	period atomic.Int64 // expected, ns
	mode   atomic.Pointer[Mode]
	again  atomic.Bool // to be opened in another mode, at once
	err    error       // read after done
	done   chan struct{}
}

func (s *Source) begin(d driver.Driver) *visit {
	v := &visit{d: d, name: nameOf(d), done: make(chan struct{})}
	v.last.Store(int64(s.clock.Now()))
	go s.read(v)
	return v
}

// close closes the driver unless that was begun before.
func (v *visit) close() {
	if v.closed.CompareAndSwap(false, true) {
		_ = v.d.Close()
	}
}

// watch follows a visit to its end and reports whether to go on at once.
func (s *Source) watch(v *visit) (again bool) {
	for {
		t, cancel := s.clock.After(watchEvery)
		select {
		case <-v.done:
			cancel()
			return s.ended(v)
		case <-s.stop:
			cancel()
			v.stop.Store(true)
			s.await(v)
			return false
		case <-t:
		}
		quiet := s.clock.Now() - time.Duration(v.last.Load())
		limit := max(quietLeast, quietPeriods*time.Duration(v.period.Load()))
		if v.frames.Load() == 0 {
			if quiet > openLimit {
				s.tell(Event{State: NoSignal, Camera: v.name, Err: fmt.Errorf("camera %q opens but sends no picture: unplug it and plug it in again", v.name)})
				s.await(v)
				return false
			}
			continue
		}
		switch {
		case quiet > limit+closeAfter:
			v.stop.Store(true)
			s.await(v)
			return false
		case quiet > limit:
			s.tell(Event{State: NoSignal, Camera: v.name, Err: fmt.Errorf("camera %q sends no picture: check its cable", v.name)})
		default:
			s.tell(Event{State: Live, Camera: v.name, Mode: *v.mode.Load()})
		}
	}
}

// ended tells of a visit that the reader ended.
func (s *Source) ended(v *visit) (again bool) {
	select {
	case <-s.stop:
		return false
	default:
	}
	if v.again.Load() {
		return true
	}
	state := Searching
	if v.frames.Load() > 0 {
		state = NoSignal
	}
	err := v.err
	if errors.Is(err, io.EOF) {
		err = fmt.Errorf("camera %q has stopped sending pictures: check its cable", v.name)
	} else if err != nil {
		err = explain(v.name, err)
	}
	s.tell(Event{State: state, Camera: v.name, Err: err})
	return false
}

// await gives the reader time to end by itself, then closes the driver under
// it, and at last abandons it.
func (s *Source) await(v *visit) {
	v.stop.Store(true)
	grace := max(quietLeast, quietPeriods*time.Duration(v.period.Load()))
	if s.clock.Now()-time.Duration(v.last.Load()) > grace {
		grace = 0 // it hangs already
	}
	if grace > 0 && s.wait(v.done, grace) {
		return
	}
	shut := make(chan struct{})
	go func() {
		v.close()
		<-v.done
		close(shut)
	}()
	if !s.wait(shut, closeLimit) {
		s.mu.Lock()
		s.stats.Abandoned++
		s.mu.Unlock()
	}
}

func (s *Source) wait(done <-chan struct{}, d time.Duration) bool {
	t, cancel := s.clock.After(d)
	defer cancel()
	select {
	case <-done:
		return true
	case <-t:
		return false
	}
}
