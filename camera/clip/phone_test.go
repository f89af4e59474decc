package clip

import (
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
)

const (
	clockWidth, clockHeight = 320, 176
	clockBits               = 10
)

// clockClip writes a clip whose pictures show their own number: ten bars, each
// bright for a one. Its time can be told from what is seen.
func clockClip(t *testing.T, frames int, fps float64) string {
	t.Helper()
	for _, tool := range []string{"ffmpeg", "ffprobe"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("%s is not installed: clips of phones are not read", tool)
		}
	}
	path := filepath.Join(t.TempDir(), "clock.avi")
	w, err := NewWriter(path, clockWidth, clockHeight, fps)
	require.NoError(t, err)
	p := frame.New(clockWidth, clockHeight, frame.Sub420)
	for i := range p.Cb {
		p.Cb[i], p.Cr[i] = 128, 128
	}
	for n := range frames {
		for x := range clockWidth {
			shade := byte(40)
			if n>>(x*clockBits/clockWidth)&1 == 1 {
				shade = 210
			}
			for y := range clockHeight {
				p.Y[y*p.YStride+x] = shade
			}
		}
		p.At = time.Duration(float64(n) / fps * float64(time.Second))
		require.NoError(t, w.Add(p))
	}
	require.NoError(t, w.Close())
	return path
}

// number reads the number of a picture again; upright says that the bars stand
// side by side.
func number(p *frame.Picture, turned bool) int {
	n := 0
	for bit := range clockBits {
		along := (2*bit + 1) * p.Width / (2 * clockBits)
		x, y := along, p.Height/2
		if turned {
			x, y = p.Width/2, (2*bit+1)*p.Height/(2*clockBits)
		}
		if p.Y[y*p.YStride+x] > 125 {
			n |= 1 << bit
		}
	}
	return n
}

// phone makes a clip as a phone does.
func phone(t *testing.T, from, name string, args ...string) string {
	t.Helper()
	path := filepath.Join(filepath.Dir(from), name)
	all := append(append([]string{"-v", "error", "-y", "-i", from}, args...), path)
	out, err := exec.Command("ffmpeg", all...).CombinedOutput()
	require.NoError(t, err, string(out))
	return path
}

// shown reads a clip: the numbers of its pictures and their times.
func shown(t *testing.T, path string, fps float64, turned bool) (info Info, numbers []int, times []float64) {
	t.Helper()
	r, err := Open(path, fps, nil)
	require.NoError(t, err)
	defer r.Close()
	for {
		p, err := r.Next()
		if errors.Is(err, io.EOF) {
			return r.Info(), numbers, times
		}
		require.NoError(t, err)
		require.Equal(t, [2]int{r.Info().Width, r.Info().Height}, [2]int{p.Width, p.Height})
		numbers, times = append(numbers, number(p, turned)), append(times, p.Seconds())
		p.Release()
	}
}

// Each picture comes at the time at which it was taken, whatever the coding.
func TestAPhonesClip(t *testing.T) {
	const n, fps = 40, 30.0
	clock := clockClip(t, n, fps)
	h264 := []string{"-c:v", "libx264", "-crf", "18", "-pix_fmt", "yuv420p"}
	// Every tenth picture is missing: a variable rate.
	drop := []string{"-vf", "select=mod(n\\,10)-5", "-fps_mode", "vfr"}
	for _, c := range []struct {
		name, file string
		args       []string
	}{
		{"H.264", "a.mp4", h264},
		{"H.264, MOV", "a.mov", h264},
		{"HEVC", "b.mp4", []string{"-c:v", "libx265", "-x265-params", "log-level=error", "-crf", "18", "-pix_fmt", "yuv420p"}},
		{"ten bits", "c.mov", []string{"-c:v", "libx265", "-x265-params", "log-level=error", "-crf", "18", "-pix_fmt", "yuv420p10le"}},
		{"variable rate", "d.mp4", append(drop, h264...)},
		{"later start", "e.mp4", append([]string{"-output_ts_offset", "1.7"}, h264...)},
	} {
		t.Run(c.name, func(t *testing.T) {
			info, numbers, times := shown(t, phone(t, clock, c.file, c.args...), 0, false)
			require.Equal(t, [2]int{clockWidth, clockHeight}, [2]int{info.Width, info.Height})
			require.Equal(t, info.Frames, len(numbers))
			require.True(t, info.Guessed, "nobody says how fast it was taken")
			want := n
			if c.name == "variable rate" {
				want = n - 4
			}
			require.Len(t, numbers, want)
			for i, k := range numbers {
				require.InDelta(t, float64(k)/fps, times[i], 1e-3, "picture %d", k)
			}
			require.Equal(t, n-1, numbers[want-1])
		})
	}
}

// Of a clip whose end is missing what is there is read, and that is told.
func TestAPhonesClipThatIsCutOff(t *testing.T) {
	made := phone(t, clockClip(t, 40, 30), "a.mp4", "-c:v", "libx264", "-pix_fmt", "yuv420p", "-movflags", "+faststart")
	whole, err := os.ReadFile(made)
	require.NoError(t, err)
	info, _, _ := shown(t, made, 0, false)
	require.False(t, info.Cut)
	cut := filepath.Join(t.TempDir(), "cut.mp4")
	require.NoError(t, os.WriteFile(cut, whole[:2*len(whole)/3], 0o600))
	r, err := Open(cut, 0, nil)
	require.NoError(t, err)
	defer r.Close()
	require.True(t, r.Info().Cut)
	require.Less(t, r.Info().Frames, 40)
}

// A file whose name looks like an address is a file, and nothing else.
func TestANameIsNoAddress(t *testing.T) {
	made := phone(t, clockClip(t, 12, 30), "a.mp4", "-c:v", "libx264", "-pix_fmt", "yuv420p")
	t.Chdir(filepath.Dir(made))
	for _, name := range []string{"http:a.mp4", "concat:a.mp4|a.mp4", "-a.mp4"} {
		require.NoError(t, os.Rename(filepath.Base(made), name))
		made = name
		info, numbers, _ := shown(t, name, 0, false)
		require.Equal(t, name, info.Name)
		require.Len(t, numbers, 12)
	}
}

// A clip that was taken upright is shown upright.
func TestARotatedClip(t *testing.T) {
	clock := clockClip(t, 12, 30)
	plain := phone(t, clock, "plain.mp4", "-c:v", "libx264", "-crf", "18", "-pix_fmt", "yuv420p")
	for _, turn := range []string{"90", "-90"} {
		rotated := filepath.Join(filepath.Dir(clock), "turn"+turn+".mp4")
		out, err := exec.Command("ffmpeg", "-v", "error", "-y", "-display_rotation", turn, "-i", plain, "-c", "copy", rotated).CombinedOutput()
		if err != nil { // older ffmpeg notes it as a tag
			out, err = exec.Command("ffmpeg", "-v", "error", "-y", "-i", plain, "-c", "copy", "-metadata:s:v:0", "rotate="+turn, rotated).CombinedOutput()
		}
		require.NoError(t, err, string(out))
		info, numbers, times := shown(t, rotated, 0, true)
		require.Equal(t, [2]int{clockHeight, clockWidth}, [2]int{info.Width, info.Height}, "turned by %s", turn)
		require.Len(t, numbers, 12)
		reversed := numbers[1] != 1
		for i, k := range numbers {
			if reversed {
				k = mirrored(k)
			}
			require.Equal(t, i, k)
			require.InDelta(t, float64(i)/30, times[i], 1e-3)
		}
	}
}

// mirrored has the bits in the other order.
func mirrored(n int) (out int) {
	for bit := range clockBits {
		out |= (n >> bit & 1) << (clockBits - 1 - bit)
	}
	return out
}

// Slow motion, 240 taken a second: as the recorder wrote it, in true time; and
// played at 30 a second, with a tag that says how many were taken.
func TestSlowMotionKeepsTrueTime(t *testing.T) {
	const n, taken = 96, 240.0
	clock := clockClip(t, n, taken)
	h264 := []string{"-c:v", "libx264", "-crf", "18", "-pix_fmt", "yuv420p", "-movflags", "use_metadata_tags"}
	slow := append([]string{"-vf", "setpts=8*PTS", "-r", "30"}, h264...)
	check := func(path string, fps float64) Info {
		t.Helper()
		info, numbers, times := shown(t, path, fps, false)
		require.Len(t, numbers, n)
		for i, k := range numbers {
			require.Equal(t, i, k)
			require.InDelta(t, float64(k)/taken, times[i], 2e-4)
		}
		require.InDelta(t, taken, info.FPS, 0.5)
		return info
	}
	check(phone(t, clock, "true.mp4", h264...), 0)
	info := check(phone(t, clock, "tagged.mp4", append([]string{"-metadata", "recorder.capture.fps=240.000000"}, slow...)...), 0)
	require.False(t, info.Guessed)
	check(phone(t, clock, "told.mp4", slow...), taken)

	_, _, times := shown(t, phone(t, clock, "untold.mp4", slow...), 0, false)
	require.InDelta(t, 8*(n-1)/taken, times[n-1], 0.01, "nothing says so: it is taken as it is played")
}

// What cannot be known is asked.
func TestASpeedThatIsNotKnownIsAsked(t *testing.T) {
	clock := clockClip(t, 20, 30)
	raw := phone(t, clock, "raw.h264", "-c:v", "libx264", "-crf", "18", "-pix_fmt", "yuv420p", "-bf", "0")
	_, err := Open(raw, 0, nil)
	require.ErrorIs(t, err, ErrRate, "it has no times")
	_, numbers, times := shown(t, raw, 60, false)
	require.Len(t, numbers, 20)
	require.InDelta(t, 19/60.0, times[19], 1e-3)
	odd := phone(t, clock, "odd.mp4", "-c:v", "libx264", "-pix_fmt", "yuv420p", "-movflags", "use_metadata_tags", "-metadata", "recorder.capture.fps=fast")
	_, err = Open(odd, 0, nil)
	require.ErrorIs(t, err, ErrRate)
	require.ErrorContains(t, err, "--fps")
	_, _, times = shown(t, odd, 30, false)
	require.InDelta(t, 19/30.0, times[19], 1e-3)
	for _, fps := range []float64{-1, 0.5, 1001, math.NaN(), math.Inf(1)} {
		_, err := Open(clock, fps, nil)
		require.ErrorIs(t, err, ErrRate, fmt.Sprint(fps))
	}
}

// Large pictures are made smaller and very many a second thinned, so that a
// rep fits into memory; times stay true.
func TestAClipThatIsTooMuchIsMadeLess(t *testing.T) {
	for _, c := range []struct {
		width, height, shrink int
		fps                   float64
		every                 int
	}{
		{960, 540, 1, 30, 1}, {1280, 720, 1, 30, 1}, {1280, 720, 1, 60, 1}, {1920, 1080, 2, 30, 1}, {1920, 1080, 2, 240, 3}, {1080, 1920, 2, 60, 1}, {3840, 2160, 3, 60, 1}, {16, 1280 * 5, 1, 30, 1},
	} {
		s := stream{width: c.width, height: c.height, fps: c.fps}
		n := s.shrink()
		require.Equal(t, c.shrink, n, "%+v", c)
		every := oneIn(c.fps, c.width/n*(c.height/n))
		require.Equal(t, c.every, every, "%+v", c)
		require.LessOrEqual(t, 8.5*c.fps/float64(every)*1.5*float64(c.width/n*(c.height/n)), float64(heldBytes), "%+v", c)
	}
	clock := clockClip(t, 30, 240)
	big := phone(t, clock, "big.mp4", "-vf", "scale=1920:1056:flags=neighbor", "-c:v", "libx264", "-preset", "ultrafast", "-pix_fmt", "yuv420p")
	info, numbers, times := shown(t, big, 0, false)
	require.Equal(t, 2, info.Shrunk)
	require.Equal(t, 960, info.Width)
	require.InDelta(t, 120, info.FPS, 0.5)
	require.Len(t, numbers, 15)
	require.Equal(t, info.Frames, len(numbers))
	for i, k := range numbers {
		require.Equal(t, 2*i, k)
		require.InDelta(t, float64(k)/240, times[i], 2e-4)
	}
}
