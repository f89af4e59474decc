package clip

import (
	"bufio"
	"context"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"os/exec"
	"path/filepath"
	"strconv"
)

// ErrNoSound says that a clip has no sound, or that it cannot be read here.
var ErrNoSound = errors.New("no sound")

// Sound gives the samples of a clip's sound in order, one channel from −1 to 1 at a
// rate in Hz, through the ffmpeg program. begins is when the first one sounds, s after
// the clip's first frame; less than 0 before it. A clip without sound, or a system
// without ffmpeg, gives an error that wraps ErrNoSound.
func Sound(ctx context.Context, path string, rate int, hear func([]float32)) (begins float64, err error) {
	name := filepath.Base(path)
	ffmpeg, ffprobe, ok := tools()
	if !ok {
		return 0, fmt.Errorf("%s: %w is read without ffmpeg", name, ErrNoSound)
	}
	if begins, err = soundBegins(ctx, ffprobe, path, name); err != nil {
		return 0, err
	}
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	cmd := exec.CommandContext(ctx, ffmpeg, "-v", "error", "-nostdin", "-protocol_whitelist", "file,pipe", "-i", asFile(path), "-map", "0:a:0",
		"-ac", "1", "-ar", strconv.Itoa(rate), "-f", "f32le", "pipe:1")
	log := &tail{}
	cmd.Stderr = log
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		return 0, fmt.Errorf("cannot start ffmpeg for %s: %w", name, err)
	}
	from := bufio.NewReaderSize(out, 1<<18)
	samples, raw := make([]float32, 4096), make([]byte, 4*4096)
	for left := MaxSeconds * rate; left > 0; {
		n, rerr := io.ReadFull(from, raw)
		for i := range n / 4 {
			samples[i] = math.Float32frombits(binary.LittleEndian.Uint32(raw[4*i:]))
		}
		hear(samples[:n/4])
		if left -= n / 4; rerr != nil {
			break
		}
	}
	stopped := ctx.Err() != nil
	stop()
	if werr := cmd.Wait(); stopped {
		return 0, context.Canceled
	} else if werr != nil && len(log.b) > 0 {
		return 0, fmt.Errorf("%s: %w can be read (%s)", name, ErrNoSound, log.line())
	}
	return begins, nil
}

// soundBegins is how much later than a clip's pictures its sound begins, s.
func soundBegins(ctx context.Context, ffprobe, path, name string) (float64, error) {
	said, err := runProbe(ctx, ffprobe, path, name, "-show_entries", "stream=codec_type,start_time")
	if err != nil {
		return 0, err
	}
	var p struct {
		Streams []struct {
			Kind  string `json:"codec_type"`
			Start string `json:"start_time"`
		} `json:"streams"`
	}
	if err := json.Unmarshal(said, &p); err != nil {
		return 0, fmt.Errorf("%s: %w", name, ErrNotAClip)
	}
	starts := map[string]float64{}
	for _, s := range p.Streams {
		if _, ok := starts[s.Kind]; ok {
			continue // the first of each kind is read
		}
		t, err := strconv.ParseFloat(s.Start, 64)
		if err != nil || math.Abs(t) > 1e9 {
			t = 0
		}
		starts[s.Kind] = t
	}
	audio, ok := starts["audio"]
	if !ok {
		return 0, fmt.Errorf("%s: %w is in it", name, ErrNoSound)
	}
	return audio - starts["video"], nil
}
