package measure

import (
	"errors"
	"fmt"
	"io"
	"math"

	"drillbay/camera/clip"
	"drillbay/camera/frame"
	"drillbay/camera/sight"
	"drillbay/drills"
	"drillbay/drills/rep"
)

// keep is how much of a clip is held for the full pass, s.
const keep = 8.5

// Frames is a source of frames in order, io.EOF at the end; see clip.Reader.
type Frames interface {
	Next() (*frame.Picture, error)
}

// Reps finds and reads the reps of a source of frames. each, when not nil, is
// called for each rep as it is found, while its frames are held; again when
// a later stillness shows that the rep went on. Damaged frames are skipped,
// and counted in bad.
func Reps(src Frames, k rep.Known, d Drill, each func(Result, []*frame.Picture)) (reps []Result, frames, bad int, err error) {
	w := sight.NewWatcher(k.Setting)
	reader := &Reader{Known: k, Drill: d}
	var held []*frame.Picture
	defer func() {
		for _, p := range held {
			p.Release()
		}
	}()
	for {
		p, err := src.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		if errors.Is(err, clip.ErrNotAClip) {
			if bad++; bad > 1000 || frames == 0 && bad > 20 {
				return reps, frames, bad, fmt.Errorf("too many damaged frames: %w", err)
			}
			continue
		}
		if err != nil {
			return reps, frames, bad, err
		}
		frames++
		held = append(held, p)
		for len(held) > 1 && p.Seconds()-held[0].Seconds() > keep {
			held[0].Release()
			held = append(held[:0], held[1:]...)
		}
		g := w.Step(p)
		if g.Caught {
			r, ok := reader.read(held, g.Span)
			r.Teach(w, ok)
			if ok {
				var taken bool
				if reps, taken = merge(reps, r); taken {
					reader.took(r)
					if each != nil {
						each(r, held)
					}
				}
			}
		}
		if g.Ended && len(reps) > 0 {
			last := &reps[len(reps)-1]
			if math.Abs(last.Span.Catch-g.Span.Catch) < 0.05 || last.Span.Whole && math.IsNaN(last.Rep.Moments.End) {
				last.Rep.Moments.End = g.Span.End
			}
		}
	}
	for i := range reps {
		reps[i].Rep.Number = i + 1
		if n := reps[i].Rep.Moments; math.IsNaN(n.End) && len(held) > 0 {
			reps[i].Rep.Moments.End = held[len(held)-1].Seconds()
		}
	}
	return reps, frames, bad, nil
}

// merge adds r, or puts it in place of the last when both are one rep that
// was taken for finished too early: a brief stop on the way. taken is false
// when r is the last rep seen again.
func merge(reps []Result, r Result) (out []Result, taken bool) {
	n := len(reps)
	if n == 0 || math.Abs(reps[n-1].Rep.Moments.Start-r.Rep.Moments.Start) >= sameStart {
		return append(reps, r), true
	}
	last := reps[n-1]
	if math.IsNaN(last.Rep.Moments.Impact) && !math.IsNaN(r.Rep.Moments.Impact) {
		reps[n-1] = r // what rested at the top went on to the ball
		return reps, true
	}
	brief := !(last.Rep.Moments.End-last.Rep.Moments.Catch > 0.6)
	low := last.Rep.Elevation.Value < -8 || last.Rep.Verdict == drills.NoReading
	a, b := last.Track.Samples, r.Track.Samples
	if brief && low && b[len(b)-1].Arc > a[len(a)-1].Arc+8 {
		reps[n-1] = r
		return reps, true
	}
	return reps, false
}
