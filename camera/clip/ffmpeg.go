package clip

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"os/exec"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"time"

	"drillbay/camera/frame"
)

// foreign reads any format through the ffmpeg program, one raw frame at a
// time, with the time that ffprobe gives each frame.
type foreign struct {
	info  Info
	times []float64
	next  int
	cmd   *exec.Cmd
	stop  context.CancelFunc
	out   *bufio.Reader
	log   *tail
	pool  *frame.Pool
	full  bool
	wait  func() error
}

type probe struct {
	Streams []struct {
		Width    int    `json:"width"`
		Height   int    `json:"height"`
		Rate     string `json:"avg_frame_rate"`
		RawRate  string `json:"r_frame_rate"`
		Duration string `json:"duration"`
		PixFmt   string `json:"pix_fmt"`
		Range    string `json:"color_range"`
		SideData []struct {
			Rotation float64 `json:"rotation"`
		} `json:"side_data_list"`
		Tags map[string]string `json:"tags"`
	} `json:"streams"`
	Packets []struct {
		PTS string `json:"pts_time"`
	} `json:"packets"`
	Format struct {
		Tags map[string]string `json:"tags"`
	} `json:"format"`
}

func openFFmpeg(path string, pool *frame.Pool) (Reader, error) {
	name := filepath.Base(path)
	ffmpeg, err1 := exec.LookPath("ffmpeg")
	ffprobe, err2 := exec.LookPath("ffprobe")
	if err1 != nil || err2 != nil {
		return nil, fmt.Errorf("%s is not a Motion-JPEG AVI; to read it, install ffmpeg (Debian: apt install ffmpeg) or convert it: %w", name, ErrNotAClip)
	}
	if strings.HasPrefix(path, "-") {
		path = "./" + path
	}
	pr, err := runProbe(ffprobe, path, name)
	if err != nil {
		return nil, err
	}
	st := pr.Streams[0]
	w, h := st.Width, st.Height
	for _, sd := range st.SideData {
		if int(math.Abs(math.Round(sd.Rotation/90)))%2 == 1 {
			w, h = h, w
		}
	}
	if err := checkSize(name, w, h); err != nil {
		return nil, err
	}
	f := &foreign{info: Info{Name: name, Width: w, Height: h}, pool: pool, log: &tail{}}
	if err := f.takeTimes(pr); err != nil {
		return nil, err
	}
	f.full = st.Range == "pc" || strings.HasPrefix(st.PixFmt, "yuvj")
	ctx, stop := context.WithCancel(context.Background())
	f.stop = stop
	rng := "tv"
	if f.full {
		rng = "pc"
	}
	f.cmd = exec.CommandContext(ctx, ffmpeg, "-v", "error", "-nostdin", "-protocol_whitelist", "file,pipe", "-i", path, "-map", "0:v:0", "-fps_mode", "passthrough",
		"-vf", "scale=out_range="+rng+":out_color_matrix=bt601", "-pix_fmt", "yuv420p", "-f", "rawvideo", "pipe:1")
	f.cmd.Stderr = f.log
	out, err := f.cmd.StdoutPipe()
	if err == nil {
		err = f.cmd.Start()
	}
	if err != nil {
		stop()
		return nil, fmt.Errorf("cannot start ffmpeg for %s: %w", name, err)
	}
	f.out = bufio.NewReaderSize(out, 1<<20)
	f.wait = f.cmd.Wait
	return f, nil
}

func runProbe(ffprobe, path, name string) (probe, error) {
	ctx, stop := context.WithTimeout(context.Background(), 60*time.Second)
	defer stop()
	cmd := exec.CommandContext(ctx, ffprobe, "-v", "error", "-protocol_whitelist", "file,pipe", "-select_streams", "v:0", "-show_streams", "-show_format",
		"-show_entries", "packet=pts_time", "-of", "json", "-i", path)
	log := &tail{}
	cmd.Stderr = log
	b, err := cmd.Output()
	var pr probe
	if err != nil {
		return pr, fmt.Errorf("ffmpeg cannot read %s (%s): %w", name, log.line(), ErrNotAClip)
	}
	if err := json.Unmarshal(b, &pr); err != nil || len(pr.Streams) == 0 {
		return pr, fmt.Errorf("%s has no picture: %w", name, ErrNotAClip)
	}
	return pr, nil
}

// takeTimes sorts the presentation times; the first frame is at 0.
func (f *foreign) takeTimes(pr probe) error {
	for _, p := range pr.Packets {
		if t, err := strconv.ParseFloat(p.PTS, 64); err == nil {
			f.times = append(f.times, t)
		}
	}
	sort.Float64s(f.times)
	n := len(f.times)
	if n == 0 {
		return fmt.Errorf("%s has no frames: %w", f.info.Name, ErrNotAClip)
	}
	if n > MaxFrames {
		return fmt.Errorf("%s has %d frames; at most %d are read: %w", f.info.Name, n, MaxFrames, ErrTooLarge)
	}
	first := f.times[0]
	for i := range f.times {
		f.times[i] -= first
	}
	f.info.Frames = n
	f.info.FPS = 30
	if n > 1 && f.times[n-1] > 0 {
		f.info.FPS = float64(n-1) / f.times[n-1]
	}
	if f.times[n-1] > MaxSeconds {
		return fmt.Errorf("%s lasts %.0f s; at most %.0f s are read: %w", f.info.Name, f.times[n-1], MaxSeconds, ErrTooLarge)
	}
	return nil
}

func (f *foreign) Info() Info { return f.info }

func (f *foreign) Next() (*frame.Picture, error) {
	if f.out == nil {
		return nil, io.EOF
	}
	p := f.pool.Get(f.info.Width, f.info.Height, frame.Sub420)
	if p == nil {
		return nil, fmt.Errorf("no memory left for a frame of %d × %d", f.info.Width, f.info.Height)
	}
	for _, plane := range [][]byte{p.Y, p.Cb, p.Cr} {
		if _, err := io.ReadFull(f.out, plane); err != nil {
			p.Release()
			return nil, f.ended(err)
		}
	}
	i := f.next
	f.next++
	p.Index, p.Full = int64(i), f.full
	t := float64(i) / f.info.FPS
	if i < len(f.times) {
		t = f.times[i]
	}
	p.At = time.Duration(t * float64(time.Second))
	return p, nil
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
