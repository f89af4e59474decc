package clip

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	"drillbay/camera/frame"
)

// foreign reads any format through the ffmpeg program, one raw frame at a
// time, with the time that ffprobe gives each frame.
type foreign struct {
	info  Info
	times []float64 // of all frames of the file
	every int       // of which one is given
	next  int       // frame of the file
	given int64
	stop  context.CancelFunc
	out   *bufio.Reader
	log   *tail
	pool  *frame.Pool
	full  bool
	wait  func() error
}

func openFFmpeg(path string, fps float64, pool *frame.Pool) (Reader, error) {
	name := filepath.Base(path)
	ffmpeg, ffprobe, ok := tools()
	if !ok {
		return nil, fmt.Errorf("%s is not a Motion-JPEG AVI; to read it, install ffmpeg (Debian: apt install ffmpeg) or convert it: %w", name, ErrNotAClip)
	}
	said, err := runProbe(context.Background(), ffprobe, path, name, "-select_streams", "v:0", "-show_streams", "-show_format", "-show_entries", "packet=pts_time,flags")
	if err != nil {
		return nil, err
	}
	s, err := understand(said, name, fps)
	if err != nil {
		return nil, err
	}
	shrink := s.shrink()
	f := &foreign{times: s.times, pool: pool, log: &tail{}, full: s.full}
	f.info = Info{Name: name, Width: s.width / shrink, Height: s.height / shrink, Shrunk: shrink}
	f.every = oneIn(s.fps, f.info.Width*f.info.Height)
	f.info.Frames = (len(s.times) + f.every - 1) / f.every
	f.info.FPS = s.fps / float64(f.every)
	f.info.Guessed, f.info.Cut = s.guessed, s.cut
	ctx, stop := context.WithCancel(context.Background())
	f.stop = stop
	rng := "tv"
	if f.full {
		rng = "pc"
	}
	cmd := exec.CommandContext(ctx, ffmpeg, "-v", "error", "-nostdin", "-protocol_whitelist", "file,pipe", "-i", asFile(path), "-map", "0:v:0", "-fps_mode", "passthrough",
		"-vf", fmt.Sprintf("scale=%d:%d:flags=area:out_range=%s:out_color_matrix=bt601", f.info.Width, f.info.Height, rng), "-pix_fmt", "yuv420p", "-f", "rawvideo", "pipe:1")
	cmd.Stderr = f.log
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		stop()
		return nil, fmt.Errorf("cannot start ffmpeg for %s: %w", name, err)
	}
	f.out = bufio.NewReaderSize(out, 1<<20)
	f.wait = cmd.Wait
	return f, nil
}

const (
	// wideEnough is the width up to which a picture is read as it is, px.
	wideEnough = 1280
	// heldBytes is the memory for the pictures of heldSeconds, bytes: that is as long as a
	// rep with the time before and after it, s.
	heldBytes, heldSeconds = 800 << 20, 9.0
)

// shrink is the whole number by which a picture is made smaller.
func (s stream) shrink() int {
	n := (max(s.width, s.height) + wideEnough - 1) / wideEnough
	for n > 1 && (s.width/n < 16 || s.height/n < 16) {
		n--
	}
	return max(n, 1)
}

// oneIn returns n where one frame in n is given, so that a rep fits into memory.
func oneIn(fps float64, pixels int) int {
	return max(1, int(math.Ceil(fps*heldSeconds*1.5*float64(pixels)/heldBytes)))
}

// asFile is a path that is never taken for the name of a protocol.
func asFile(path string) string { return "file:" + path }

// tools finds the two programs that read other formats.
func tools() (ffmpeg, ffprobe string, ok bool) {
	ffmpeg, err1 := exec.LookPath("ffmpeg")
	ffprobe, err2 := exec.LookPath("ffprobe")
	return ffmpeg, ffprobe, err1 == nil && err2 == nil
}

// runProbe has ffprobe say as JSON what is asked of a file by its flags.
func runProbe(ctx context.Context, ffprobe, path, name string, flags ...string) ([]byte, error) {
	ctx, stop := context.WithTimeout(ctx, 60*time.Second)
	defer stop()
	args := append([]string{"-v", "error", "-protocol_whitelist", "file,pipe"}, flags...)
	cmd := exec.CommandContext(ctx, ffprobe, append(args, "-of", "json", "-i", asFile(path))...)
	log := &tail{}
	cmd.Stderr = log
	b, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("ffmpeg cannot read %s (%s): %w", name, strings.TrimPrefix(log.line(), asFile(path)+": "), ErrNotAClip)
	}
	return b, nil
}

func (f *foreign) Info() Info { return f.info }

func (f *foreign) Next() (*frame.Picture, error) {
	if f.out == nil {
		return nil, io.EOF
	}
	p := f.pool.Get(f.info.Width, f.info.Height, frame.Sub420)
	if p == nil {
		return nil, fmt.Errorf("frames of %d × %d take too much memory: make the clip smaller: %w", f.info.Width, f.info.Height, ErrTooLarge)
	}
	for {
		for _, plane := range [][]byte{p.Y, p.Cb, p.Cr} {
			if _, err := io.ReadFull(f.out, plane); err != nil {
				p.Release()
				return nil, f.ended(err)
			}
		}
		i := f.next
		f.next++
		if i%f.every != 0 {
			continue
		}
		p.Index, p.Full = f.given, f.full
		f.given++
		t := f.times[len(f.times)-1] + float64(i-len(f.times)+1)/(f.info.FPS*float64(f.every))
		if i < len(f.times) {
			t = f.times[i]
		}
		p.At = time.Duration(t * float64(time.Second))
		return p, nil
	}
}

func (f *foreign) ended(err error) error {
	werr := f.wait()
	f.out = nil
	f.stop()
	if f.next == 0 || errors.Is(err, io.ErrUnexpectedEOF) {
		return fmt.Errorf("ffmpeg stopped in %s at frame %d (%s): %w", f.info.Name, f.next, f.log.line(), ErrNotAClip)
	}
	if werr != nil {
		return fmt.Errorf("ffmpeg stopped in %s at frame %d (%s): %w", f.info.Name, f.next, f.log.line(), ErrNotAClip)
	}
	return io.EOF
}

func (f *foreign) Close() error {
	f.stop()
	if f.out != nil {
		f.out = nil
		_ = f.wait() // it was stopped on purpose
	}
	return nil
}

// tail keeps the last part of what a program said.
type tail struct{ b []byte }

func (t *tail) Write(p []byte) (int, error) {
	t.b = append(t.b, p...)
	if len(t.b) > 4096 {
		t.b = t.b[len(t.b)-4096:]
	}
	return len(p), nil
}

func (t *tail) line() string {
	lines := strings.Split(strings.TrimSpace(string(t.b)), "\n")
	if s := strings.TrimSpace(lines[len(lines)-1]); s != "" {
		return s
	}
	return "it gave no reason"
}
