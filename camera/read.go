package camera

import (
	"errors"
	"fmt"
	"image"
	"time"

	"github.com/pion/mediadevices/pkg/driver"

	"drillbay/camera/frame"
)

// read opens a camera, reads it and closes it: one goroutine does all three.
func (s *Source) read(v *visit) {
	defer close(v.done)
	defer func() {
		if r := recover(); r != nil {
			v.err = fmt.Errorf("its driver failed: %v", r)
			v.close()
		}
	}()
	if v.err = v.d.Open(); v.err != nil {
		return
	}
	defer v.close()
	if v.stop.Load() {
		if v.closed.Load() {
			_ = v.d.Close() // it was closed before it was open, which does nothing
		}
		return
	}
	modes := modesOf(v.d.Properties())
	s.mu.Lock()
	s.modes = modes
	s.mu.Unlock()
	mode, err := s.choose(modes)
	if err != nil {
		v.err = err
		return
	}
	r, err := v.d.(driver.VideoRecorder).VideoRecord(mode.media())
	if err != nil {
		v.err = fmt.Errorf("mode %s: %w", mode, err)
		return
	}
	if mode.Rate > 0 {
		v.period.Store(int64(float64(time.Second) / mode.Rate))
	}
	v.mode.Store(&mode)
	s.fit.Reset(time.Duration(v.period.Load()))
	full := fullRange(v.d.Info().Label, mode)
	began := s.clock.Now()
	bad := 0
	for !v.stop.Load() {
		img, release, err := r.Read()
		arrival := s.clock.Now()
		if v.stop.Load() {
			giveBack(release)
			return
		}
		if err != nil {
			giveBack(release)
			v.err = err
			return
		}
		if !s.take(img, arrival, full) {
			giveBack(release)
			if bad++; bad >= badLimit {
				v.err = errors.New("its pictures cannot be read")
				return
			}
			continue
		}
		giveBack(release)
		bad = 0
		v.last.Store(int64(arrival))
		if v.frames.Add(1) == 1 {
			s.tell(Event{State: Live, Camera: v.name, Mode: mode})
			began = arrival
		}
		if s.fit.Ready() {
			v.period.Store(int64(s.fit.Period()))
		}
		if s.shortOf(mode, modes, arrival-began) {
			v.again.Store(true)
			return
		}
	}
}

func giveBack(release func()) {
	if release != nil {
		release()
	}
}

// choose picks the mode: the wanted one if there is, else the best by the
// rates that were measured rather than claimed.
func (s *Source) choose(modes []Mode) (Mode, error) {
	if len(modes) == 0 {
		return Mode{}, errors.New("offers no mode that can be read")
	}
	if w := s.cfg.Mode; w != nil {
		for _, m := range modes {
			if m == *w {
				return m, nil
			}
		}
	}
	real := make([]Mode, len(modes))
	claimed := map[Mode]Mode{}
	for i, m := range modes {
		real[i] = m
		if r, ok := s.slow[m.String()]; ok {
			real[i].Rate = r
		}
		claimed[real[i]] = m
	}
	return claimed[Rank(real)[0]], nil
}

// A mode is judged after settle; one that delivers less than enough of its
// rate is noted, and another tried, triesLimit times in all.
const (
	settle     = 2 * time.Second
	enough     = 0.8
	triesLimit = 2
)

// shortOf reports whether the mode delivers so much less than it claims that
// another one is better.
func (s *Source) shortOf(mode Mode, modes []Mode, since time.Duration) bool {
	if s.cfg.KeepMode || s.cfg.Mode != nil || mode.Rate <= 0 || since < settle || !s.fit.Ready() {
		return false
	}
	key := mode.String()
	if _, judged := s.slow[key]; judged || len(s.slow) >= triesLimit {
		return false
	}
	rate := 1 / s.fit.Period().Seconds()
	if rate >= enough*mode.Rate {
		return false
	}
	s.slow[key] = rate
	other, err := s.choose(modes)
	return err == nil && other != mode
}

// take copies a picture that arrived and queues it. It reports whether the
// picture was usable.
func (s *Source) take(img image.Image, arrival time.Duration, full bool) bool {
	missed := s.fit.Drops()
	at := s.fit.Add(arrival)
	missed = s.fit.Drops() - missed
	s.index += int64(max(missed, 0)) + 1

	p, err := s.copy(img, full)
	s.mu.Lock()
	defer s.mu.Unlock()
	s.stats.Missed = s.fit.Drops()
	if d := s.fit.Period(); d > 0 {
		s.stats.Rate = 1 / d.Seconds()
	}
	switch {
	case err != nil:
		s.stats.Bad++
		return false
	case p == nil:
		s.stats.NoMemory++
		return true
	}
	p.Index, p.At = s.index-1, at
	s.queue(p)
	cost := s.clock.Now() - arrival
	s.stats.Frames++
	s.copySum += cost
	s.stats.CopyMean = s.copySum / time.Duration(s.stats.Frames)
	s.stats.CopyMax = max(s.stats.CopyMax, cost)
	return true
}

// copy takes a picture out of the driver's hands. Without memory in the pool
// it returns none.
func (s *Source) copy(img image.Image, full bool) (*frame.Picture, error) {
	if err := sound(img); err != nil {
		return nil, err
	}
	b := img.Bounds()
	p := s.cfg.Pool.Get(b.Dx(), b.Dy(), frame.Sub420)
	if p == nil {
		return nil, nil
	}
	if err := p.CopyImage(img); err != nil {
		p.Release()
		return nil, err
	}
	if _, planar := img.(*image.YCbCr); !planar {
		full = true // converted
	}
	p.Full = full
	return p, nil
}

// sound reports what is wrong with a picture's header.
func sound(img image.Image) error {
	if img == nil {
		return errors.New("no picture")
	}
	y, planar := img.(*image.YCbCr)
	if planar && y == nil {
		return errors.New("no picture")
	}
	b := img.Bounds()
	if b.Dx() < 16 || b.Dy() < 16 || b.Dx() > frame.MaxSide || b.Dy() > frame.MaxSide {
		return fmt.Errorf("picture of %d × %d", b.Dx(), b.Dy())
	}
	if !planar {
		return nil
	}
	if y.YStride < b.Dx() || y.CStride < b.Dx()/4 {
		return errors.New("rows shorter than the picture")
	}
	last := image.Pt(b.Max.X-1, b.Max.Y-1)
	if y.YOffset(last.X, last.Y) >= len(y.Y) || y.COffset(last.X, last.Y) >= min(len(y.Cb), len(y.Cr)) {
		return errors.New("planes shorter than the picture")
	}
	return nil
}

// queue hands a picture to the consumer; when the queue is full the oldest
// makes room. s.mu is held.
func (s *Source) queue(p *frame.Picture) {
	if s.closed {
		p.Release()
		return
	}
	for {
		select {
		case s.frames <- p:
			return
		default:
		}
		select {
		case old := <-s.frames:
			old.Release()
			s.stats.Dropped++
		default:
		}
	}
}
