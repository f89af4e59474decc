package clip

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"
)

// ErrRate is wrapped by errors about clips of which it is not known how fast
// they were taken; the frames a second must be given to Open.
var ErrRate = errors.New("how fast it was taken is not known")

// stream describes a clip's pictures before they are read.
type stream struct {
	width, height int // as shown, rotated
	times         []float64
	fps           float64 // mean, true time
	full          bool
	cut           bool // the file holds fewer than it says
	guessed       bool // nothing but the clip's own play says that this is true time
}

// probe holds ffprobe's answer.
type probe struct {
	Streams []struct {
		Width    int    `json:"width"`
		Height   int    `json:"height"`
		PixFmt   string `json:"pix_fmt"`
		Range    string `json:"color_range"`
		Frames   string `json:"nb_frames"`
		SideData []struct {
			Rotation float64 `json:"rotation"`
		} `json:"side_data_list"`
		Tags map[string]string `json:"tags"`
	} `json:"streams"`
	Packets []struct {
		PTS   string `json:"pts_time"`
		Flags string `json:"flags"`
	} `json:"packets"`
	Format struct {
		Tags map[string]string `json:"tags"`
	} `json:"format"`
}

// understand takes a clip's description out of ffprobe's answer. fps is the frame rate at
// which the clip was taken, 0 for the one that the file says: slow motion is played slower
// than it was taken.
func understand(said []byte, name string, fps float64) (stream, error) {
	var p probe
	if err := json.Unmarshal(said, &p); err != nil || len(p.Streams) == 0 {
		return stream{}, fmt.Errorf("%s has no picture: %w", name, ErrNotAClip)
	}
	st := p.Streams[0]
	s := stream{width: st.Width, height: st.Height, full: st.Range == "pc" || strings.HasPrefix(st.PixFmt, "yuvj")}
	for _, d := range st.SideData {
		if quarters := math.Round(d.Rotation / 90); math.Mod(math.Abs(quarters), 2) == 1 {
			s.width, s.height = s.height, s.width
		}
	}
	if err := checkSize(name, s.width, s.height); err != nil {
		return s, err
	}
	if n, err := strconv.Atoi(st.Frames); err == nil {
		s.cut = n > len(p.Packets)
	}
	taken := fps
	if taken == 0 {
		var err error
		if taken, err = takenAt(p, name); err != nil {
			return s, err
		}
	}
	s.guessed = taken == 0
	return s, s.time(p, name, taken)
}

// takenAt returns the frame rate at which the recorder says it took the clip, 0 when it
// does not say.
func takenAt(p probe, name string) (float64, error) {
	for _, tags := range []map[string]string{p.Format.Tags, p.Streams[0].Tags} {
		for key, value := range tags {
			// Recorders of slow motion note it as a tag of this ending.
			if !strings.HasSuffix(strings.ToLower(key), "capture.fps") {
				continue
			}
			rate, err := strconv.ParseFloat(strings.TrimSpace(value), 64)
			if err != nil || !(rate >= 1 && rate <= 1000) {
				return 0, fmt.Errorf("%s says that it was taken at %q frames a second: give the right number with --fps: %w", name, value, ErrRate)
			}
			return rate, nil
		}
	}
	return 0, nil
}

// usualStep is the median of the steps from one time to the next, s: frames
// may be missing.
func usualStep(times []float64) float64 {
	if len(times) < 2 {
		return 0
	}
	steps := make([]float64, len(times)-1)
	for i := range steps {
		steps[i] = times[i+1] - times[i]
	}
	sort.Float64s(steps)
	return steps[len(steps)/2]
}

// time sorts the times of the frames; the first frame is at 0.
func (s *stream) time(p probe, name string, taken float64) error {
	shown := 0
	for _, k := range p.Packets {
		if strings.Contains(k.Flags, "D") {
			continue // cut away by the file itself
		}
		shown++
		if t, err := strconv.ParseFloat(k.PTS, 64); err == nil && math.Abs(t) < 1e9 {
			s.times = append(s.times, t)
		}
	}
	if shown > MaxFrames {
		return fmt.Errorf("%s has %d frames; at most %d are read: %w", name, shown, MaxFrames, ErrTooLarge)
	}
	if shown == 0 {
		return fmt.Errorf("%s has no frames: %w", name, ErrNotAClip)
	}
	if len(s.times) < shown {
		if taken == 0 {
			return fmt.Errorf("%s does not say when its frames were taken: give how many a second with --fps: %w", name, ErrRate)
		}
		s.times = make([]float64, shown)
		for i := range s.times {
			s.times[i] = float64(i) / taken
		}
	}
	sort.Float64s(s.times)
	first, n := s.times[0], len(s.times)
	for i := range s.times {
		s.times[i] -= first
	}
	last := s.times[n-1]
	s.fps = 30
	if last > 0 {
		s.fps = float64(n-1) / last
	}
	if step := usualStep(s.times); taken > 0 && step > 0 {
		quicker := 1 / (step * taken) // than it is played
		for i := range s.times {
			s.times[i] *= quicker
		}
		last, s.fps = last*quicker, s.fps/quicker
	}
	switch {
	case last > MaxSeconds:
		return fmt.Errorf("%s lasts %.0f s; at most %.0f s are read: %w", name, last, MaxSeconds, ErrTooLarge)
	case !(s.fps >= 1 && s.fps <= 1000):
		return fmt.Errorf("%s: a frame rate of %.4g per second is not believed (1 to 1000): %w", name, s.fps, ErrNotAClip)
	}
	return nil
}
