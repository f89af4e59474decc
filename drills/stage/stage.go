package stage

import (
	"sync"
	"time"

	"drillbay/camera/virtual"
)

// Scene is a drawn bay on the wall's clock: all its cameras see the same player at
// the same moment.
type Scene struct {
	now   func() time.Time
	sleep func(d time.Duration, closed <-chan struct{})

	mu     sync.Mutex
	start  time.Time
	player *resting
	open   []<-chan struct{} // of the cameras that look on
}

// NewScene is the bay of a setup on a clock; sleep waits on it, or until closed. Its
// player stands still while rests says so.
func NewScene(s virtual.Setup, now func() time.Time, sleep func(d time.Duration, closed <-chan struct{}), rests func() bool) (*Scene, error) {
	r, err := newResting(s, rests)
	if err != nil {
		return nil, err
	}
	return &Scene{now: now, sleep: sleep, player: r}, nil
}

// rounds keeps a time of whole nanoseconds on its tick.
const rounds = 1e-3

// Camera is the pace of one of the cameras. Its pictures come by a share of the
// time between two later than those of a camera whose share is 0.
func (s *Scene) Camera(share float64) virtual.Pace {
	tick := 0
	return func(i int, fps float64, closed <-chan struct{}) int {
		period := float64(time.Second) / fps
		s.mu.Lock()
		if i == 0 {
			tick = s.enter(period, closed)
		} else {
			tick++
		}
		passed := float64(s.now().Sub(s.start))
		s.mu.Unlock()
		if wait := time.Duration((float64(tick)+share)*period - passed); wait > 0 {
			s.sleep(wait, closed)
		} else {
			tick = max(tick, int(passed/period-share+rounds))
		}
		s.mu.Lock()
		defer s.mu.Unlock()
		return s.player.at(tick)
	}
}

// enter lets a camera look on. The first begins the bay anew, another joins at the
// tick that is now. s.mu is held.
func (s *Scene) enter(period float64, closed <-chan struct{}) (tick int) {
	others := s.open[:0]
	for _, o := range s.open {
		select {
		case <-o:
		default:
			others = append(others, o)
		}
	}
	s.open = append(others, closed)
	if len(others) > 0 {
		return int(float64(s.now().Sub(s.start))/period + rounds)
	}
	s.start = s.now()
	s.player.tick, s.player.shown, s.player.step = 0, 0, 1
	return 0
}
