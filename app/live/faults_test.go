package live

import (
	"errors"
	"fmt"
	"image"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/pion/mediadevices/pkg/driver"
	"github.com/pion/mediadevices/pkg/io/video"
	"github.com/pion/mediadevices/pkg/prop"
	"github.com/stretchr/testify/require"

	"drillbay/camera"
	"drillbay/camera/virtual"
	"drillbay/cues/soundtest"
	"drillbay/drills/ledger"
	"drillbay/drills/runner"
	"drillbay/drills/stage"
)

// fault is something that goes wrong for a while, s of the practice.
type fault struct {
	Kind     string
	From, To float64
}

// The faults of a camera and of the clock.
const (
	unplugged = "unplugged" // and plugged in again under another id
	stalled   = "stalled"
	garbage   = "garbage sizes"
	another   = "another size"
	halved    = "half the rate"
	suspended = "suspended"   // the session's clock has gone on by minutes meanwhile
	slept     = "slept"       // the same where that clock stands still in sleep
	forward   = "set forward" // the wall clock, by an hour
	back      = "set back"
)

const gap = 300.0 // s, of a laptop that was suspended

// says gives for each fault the key of its notice and a part of the text.
var says = map[string][2]string{
	unplugged: {runner.NoPicture, "camera"},
	stalled:   {runner.NoPicture, "picture"},
	garbage:   {runner.NoPicture, "picture"},
	another:   {"mode", "160 × 90"},
	halved:    {"rate", "slow"},
	suspended: {"clock", "stopped for 5 min"},
	slept:     {"clock", "slept for 5 min"},
	forward:   {"clock", "slept for 1 h 0 min, or its clock was set forward"},
	back:      {"clock", "set back by 1 h 0 min"},
}

// leaps is by how much the wall clock leaps.
var leaps = map[string]time.Duration{suspended: seconds(gap), slept: seconds(gap), forward: time.Hour, back: -time.Hour}

// shaky is a camera with faults: the virtual bay behind a driver that does
// what is wrong.
type shaky struct {
	*virtual.Device
	read   video.Reader // opened once: practice goes on whatever the camera does
	began  time.Time
	faults []fault

	name   string
	mu     sync.Mutex
	closed chan struct{}
	remove func()
	number int // of its id
}

// The names of the first camera and of the second.
const shakyName, shakyOther = "a camera", "another camera"

// now is the fault that the camera has now, if any.
func (s *shaky) now() (f fault, ok bool) {
	at := time.Since(s.began).Seconds()
	for _, f := range s.faults {
		if at >= f.From && at < f.To {
			return f, true
		}
	}
	return fault{}, false
}

func (s *shaky) Open() error {
	if f, ok := s.now(); ok && f.Kind == unplugged {
		return os.ErrNotExist
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.closed = make(chan struct{})
	return nil
}

func (s *shaky) Close() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.closed != nil {
		close(s.closed)
		s.closed = nil
	}
	return nil
}

func (s *shaky) VideoRecord(prop.Media) (video.Reader, error) {
	s.mu.Lock()
	closed := s.closed
	s.mu.Unlock()
	odd := 0
	return video.ReaderFunc(func() (image.Image, func(), error) {
		for {
			img, release, err := s.read.Read()
			if err != nil {
				return img, release, err
			}
			f, ok := s.now()
			switch {
			case !ok:
			case f.Kind == unplugged:
				return nil, release, errors.New("no such device")
			case f.Kind == stalled:
				<-closed
				return nil, release, io.EOF
			case f.Kind == garbage:
				if odd++; odd%2 == 0 {
					return image.NewYCbCr(image.Rect(0, 0, 3, 5), image.YCbCrSubsampleRatio420), release, nil
				}
				short := *img.(*image.YCbCr)
				short.Y = short.Y[:100]
				return &short, release, nil
			case f.Kind == another:
				return half(img.(*image.YCbCr)), release, nil
			case f.Kind == halved:
				if odd++; odd%2 == 0 {
					continue
				}
			}
			return img, release, nil
		}
	}), nil
}

// half is a quarter of the picture, as another mode would be.
func half(img *image.YCbCr) *image.YCbCr {
	return img.SubImage(image.Rect(0, 0, img.Rect.Dx()/2, img.Rect.Dy()/2)).(*image.YCbCr)
}

// plug registers the camera under a new id.
func (s *shaky) plug() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	m := driver.GetManager()
	if s.remove != nil {
		s.remove()
	}
	s.number++
	label := s.name + " id-" + strconv.Itoa(s.number)
	if err := m.Register(s, driver.Info{Label: label, Name: s.name, DeviceType: driver.Camera}); err != nil {
		return err
	}
	for _, d := range m.Query(driver.FilterVideoRecorder()) {
		if d.Info().Label == label {
			s.remove = func() { m.Delete(d.ID()) }
		}
	}
	return nil
}

// jumping is a clock that goes on by a gap once.
type jumping struct {
	camera.Clock
	at float64 // s
}

func (j jumping) Now() time.Duration {
	now := j.Clock.Now()
	if now.Seconds() >= j.at {
		now += time.Duration(gap * float64(time.Second))
	}
	return now
}

// spoil puts the faults of a plan into a session.
func (p plan) spoil(c *Config) (stop func(), err error) {
	if len(p.Faults) == 0 && !p.Both {
		return func() {}, nil
	}
	st, err := stage.NewScene(c.Drawn, time.Now, virtual.Sleep, func() bool { return false })
	if err != nil {
		return nil, err
	}
	began := time.Now()
	s, err := shakes(shakyName, c.Drawn, st.Camera(0), began, p.Faults)
	if err != nil {
		return nil, err
	}
	all := []*shaky{s}
	c.Virtual, c.Camera = false, shakyName
	if p.Both {
		other, err := shakes(shakyOther, stage.OtherView(c.Drawn), st.Camera(0.5), began, p.Second)
		if err != nil {
			return nil, err
		}
		all = append(all, other)
		c.Second = shakyOther
	}
	for _, f := range p.Faults {
		if f.Kind == suspended {
			c.Clock = jumping{camera.NewSystemClock(), f.From}
		}
	}
	c.Wall = func() time.Time {
		now := time.Now().Round(0)
		for _, f := range p.Faults {
			if time.Since(s.began).Seconds() >= f.From {
				now = now.Add(leaps[f.Kind])
			}
		}
		return now
	}
	// A camera that was unplugged is found again by its name alone.
	c.Rescan = func() {
		for _, s := range all {
			if f, ok := s.now(); !ok || f.Kind != unplugged {
				_ = s.plug()
			}
		}
	}
	return func() {
		for _, s := range all {
			s.remove()
		}
	}, nil
}

// shakes is a camera with faults that is plugged in.
func shakes(name string, drawn virtual.Setup, pace virtual.Pace, began time.Time, faults []fault) (*shaky, error) {
	d, err := virtual.NewDevice(drawn, pace)
	if err != nil {
		return nil, err
	}
	if err := d.Open(); err != nil {
		return nil, err
	}
	s := &shaky{Device: d, name: name, began: began, faults: faults}
	if s.read, err = d.VideoRecord(d.Properties()[0]); err != nil {
		return nil, err
	}
	return s, s.plug()
}

// extra returns how much longer a plan takes by the session's clock, s.
func (p plan) extra() float64 {
	for _, f := range p.Faults {
		if f.Kind == suspended {
			return gap
		}
	}
	return 0
}

// trouble are faults in an order and at moments that a seed decides.
func trouble(seed uint64) (out []fault, end float64) {
	random := rand.New(rand.NewPCG(seed, 12))
	kinds := []string{unplugged, stalled, garbage, another, halved, suspended, slept, forward, back}
	random.Shuffle(len(kinds), func(i, j int) { kinds[i], kinds[j] = kinds[j], kinds[i] })
	lasts := map[string]float64{unplugged: 2, stalled: 2.7, garbage: 2, another: 2, halved: 5, suspended: 0.5, slept: 0.5, forward: 0.5, back: 0.5}
	at := 3 + 1.5*random.Float64()
	for _, k := range kinds {
		out = append(out, fault{k, at, at + lasts[k]})
		at += lasts[k] + 1.8 + 1.2*random.Float64()
	}
	return out, at
}

// Sessions whose camera is unplugged and comes back under another id, stalls,
// delivers garbage, changes its mode and halves its rate, on a laptop that was
// suspended meanwhile: every rep that was told is kept once, what happened was
// said, and practice goes on. DRILLBAY_FAULTS says how many.
func TestFaultsOfTheCamera(t *testing.T) {
	if testing.Short() {
		t.Skip("a session with all faults takes three quarters of a minute")
	}
	n := faulty(t)
	for first := 0; first < n; first += 2 {
		t.Run("", func(t *testing.T) {
			for k := first; k < min(first+2, n); k++ {
				t.Run(strconv.Itoa(k), func(t *testing.T) {
					t.Parallel()
					withFaults(t, uint64(k), soundtest.Program("TestHelperSession"))
				})
			}
		})
	}
}

func withFaults(t *testing.T, seed uint64, cmd *exec.Cmd) {
	faults, end := trouble(seed)
	p := plan{Ledger: filepath.Join(t.TempDir(), ledger.FileName), Seed: seed + 1, Reps: int(end/4.2) + 3, Faults: faults}
	g := begin(t, "faults", cmd, p)
	o := g.finish()
	t.Logf("seed %d: %v; %d told; said: %v", seed, o, len(g.told), said(g))
	require.Empty(t, o.Error)
	require.Len(t, g.told, o.Stored)
	kept(t, p.Ledger, g.told)
	require.Greater(t, g.last, faults[len(faults)-1].To, "practice goes on after the last fault")
	for _, f := range faults {
		require.True(t, g.saidOf(f), "%s at %.1f s is said: %v", f.Kind, f.From, said(g))
	}
	for _, n := range g.seen {
		require.Regexp(t, `^[A-Z].*\.`, n.Text)
	}
}

// saidOf reports whether what is said of a fault was up while it was there, or
// soon after.
func (g *played) saidOf(f fault) bool {
	const soon = 2.0 // s
	key, part := says[f.Kind][0], says[f.Kind][1]
	return slices.ContainsFunc(g.seen, func(n line) bool {
		wentBefore := slices.ContainsFunc(g.gone, func(l line) bool { return l.Gone == key && l.At >= n.At && l.At < f.From })
		return n.Notice == key && strings.Contains(n.Text, part) && n.At <= f.To+soon && !wentBefore
	})
}

func said(g *played) (out []string) {
	for _, n := range g.seen {
		out = append(out, fmt.Sprintf("%.1f s: %s", n.At, n.Text))
	}
	return out
}

// Sessions whose sound server is killed and comes back, or whose microphone is
// gone for a while, at a rep that a seed decides: no rep that was told is lost, what
// happened was said, and practice goes on.
func TestFaultsOfTheSound(t *testing.T) {
	if testing.Short() {
		t.Skip("a session with sound takes half a minute")
	}
	for k := range faulty(t) {
		t.Run(strconv.Itoa(k), func(t *testing.T) {
			t.Parallel()
			random := rand.New(rand.NewPCG(uint64(k), 21))
			server := soundtest.New(t)
			server.Start()
			p := plan{Ledger: filepath.Join(t.TempDir(), ledger.FileName), Seed: uint64(k) + 1, Reps: 8, Sound: true, Taps: true}
			fault, key, silence := "microphone gone", "ear", server.Plug()
			spoil, mend := func() { silence(true) }, func() { silence(false) }
			if k%2 == 1 {
				fault, key, spoil, mend = "sound server killed", "sound lost", server.Stop, server.Start
			}
			g := begin(t, fault, server.Program("TestHelperSession"), p)
			after := 1 + random.IntN(3)
			require.True(t, g.until(func(line) bool { return len(g.told) == after }))
			_, listens := server.Used()
			require.True(t, listens, "the microphone was open")
			spoil()
			require.True(t, g.until(func(l line) bool { return l.Notice == key }), "the loss is told: %v", said(g))
			mend()
			require.True(t, g.until(func(l line) bool { return l.Gone == key }), "and that it is back: %v", said(g))
			before := len(g.told)
			o := g.finish()
			t.Logf("%s after rep %d: %v; %d told; said: %v", fault, after, o, len(g.told), said(g))
			require.Empty(t, o.Error)
			require.Len(t, g.told, o.Stored)
			require.Greater(t, len(g.told), before, "practice goes on")
			kept(t, p.Ledger, g.told)
		})
	}
}

// faulty returns how many sessions to spoil, from DRILLBAY_FAULTS.
func faulty(t *testing.T) int {
	t.Helper()
	if n, err := strconv.Atoi(os.Getenv("DRILLBAY_FAULTS")); err == nil {
		return max(1, n)
	}
	return 2
}

// seconds is a time in seconds.
func seconds(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }
