package camera

import (
	"errors"
	"image"
	"io"
	"runtime"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"github.com/pion/mediadevices/pkg/driver"
	mediaframe "github.com/pion/mediadevices/pkg/frame"
	"github.com/pion/mediadevices/pkg/io/video"
	"github.com/pion/mediadevices/pkg/prop"
	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
)

// handClock is a clock that is moved by hand, inside synctest.Test: it moves
// only when everything else waits, and the test fails when a goroutine is left
// behind.
type handClock struct {
	mu      sync.Mutex
	cond    *sync.Cond
	now     time.Duration
	waiters map[chan time.Time]time.Duration
}

func newHandClock() *handClock {
	c := &handClock{waiters: map[chan time.Time]time.Duration{}}
	c.cond = sync.NewCond(&c.mu)
	return c
}

func (c *handClock) Now() time.Duration {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.now
}

func (c *handClock) After(d time.Duration) (<-chan time.Time, func()) {
	c.mu.Lock()
	defer c.mu.Unlock()
	ch := make(chan time.Time, 1)
	c.waiters[ch] = c.now + d
	c.cond.Broadcast()
	return ch, func() {
		c.mu.Lock()
		defer c.mu.Unlock()
		delete(c.waiters, ch)
	}
}

// set moves the clock without asking whether anybody waits.
func (c *handClock) set(t time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.now = t
}

// step waits until everybody waits, then moves the clock.
func (c *handClock) step(d time.Duration) {
	synctest.Wait()
	c.mu.Lock()
	defer c.mu.Unlock()
	for len(c.waiters) == 0 {
		c.cond.Wait()
	}
	c.now += d
	for ch, at := range c.waiters {
		if at <= c.now {
			delete(c.waiters, ch)
			ch <- time.Time{}
		}
	}
}

// script is a camera whose every move the test makes.
type script struct {
	modes    []prop.Media
	openErr  error
	openOK   chan struct{} // Open waits for it
	reads    chan reading
	deaf     bool // Read does not notice Close
	closeOK  chan struct{}
	mu       sync.Mutex
	gone     chan struct{}
	opened   int
	closings int
}

type reading struct {
	img image.Image
	err error
}

func newScript(modes ...prop.Media) *script {
	if len(modes) == 0 {
		modes = []prop.Media{mode(64, 48, 30, mediaframe.FormatI420)}
	}
	return &script{modes: modes, reads: make(chan reading)}
}

func mode(w, h int, rate float32, f mediaframe.Format) prop.Media {
	return prop.Media{Video: prop.Video{Width: w, Height: h, FrameRate: rate, FrameFormat: f}}
}

func (c *script) Open() error {
	if c.openOK != nil {
		<-c.openOK
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.openErr != nil {
		return c.openErr
	}
	c.opened++
	c.gone = make(chan struct{})
	return nil
}

func (c *script) Close() error {
	if c.closeOK != nil {
		<-c.closeOK
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	c.closings++
	if c.gone != nil {
		close(c.gone)
		c.gone = nil
	}
	return nil
}

func (c *script) Properties() []prop.Media { return c.modes }

func (c *script) VideoRecord(prop.Media) (video.Reader, error) {
	c.mu.Lock()
	gone := c.gone
	c.mu.Unlock()
	if c.deaf {
		gone = nil
	}
	return video.ReaderFunc(func() (image.Image, func(), error) {
		select {
		case r := <-c.reads:
			return r.img, func() {}, r.err
		case <-gone:
			return nil, func() {}, io.EOF
		}
	}), nil
}

// plug registers a camera and returns the function that unplugs it.
func plug(t *testing.T, c driver.Adapter, name, label string) (unplug func()) {
	t.Helper()
	m := driver.GetManager()
	require.NoError(t, m.Register(c, driver.Info{Label: label, Name: name, DeviceType: driver.Camera}))
	var id string
	for _, d := range registered() {
		if d.Info().Label == label && d.Info().Name == name {
			id = d.ID()
		}
	}
	unplug = func() { m.Delete(id) }
	t.Cleanup(unplug)
	return unplug
}

func i420(w, h int, shade uint8) *image.YCbCr {
	img := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio420)
	for i := range img.Y {
		img.Y[i] = shade
	}
	return img
}

// start opens a source on a hand clock and closes it after the test.
func start(t *testing.T, name string) (*Source, *handClock) {
	t.Helper()
	clock := newHandClock()
	s, err := Open(Config{Name: name, Pool: frame.NewPool(8 << 20), Clock: clock})
	require.NoError(t, err)
	return s, clock
}

// until steps the clock until the source is in a state.
func until(t *testing.T, s *Source, c *handClock, want State) Event {
	t.Helper()
	stepUntil(t, c, func() bool { return s.State().State == want })
	return s.State()
}

// stepUntil steps the clock until a condition holds.
func stepUntil(t *testing.T, c *handClock, ok func() bool) {
	t.Helper()
	for range 3000 {
		synctest.Wait()
		if ok() {
			return
		}
		c.step(10 * time.Millisecond)
	}
	t.Fatal("it did not happen in 30 s of the clock")
}

// times counts how often the camera was opened.
func (c *script) times() int {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.opened
}

// wasClosed fails unless the camera was closed n times.
func (c *script) wasClosed(t *testing.T, n int) {
	t.Helper()
	count := func() int {
		c.mu.Lock()
		defer c.mu.Unlock()
		return c.closings
	}
	synctest.Wait()
	require.Equal(t, n, count())
}

// nothingLeft fails when a goroutine of a source is still there.
func nothingLeft(t *testing.T) {
	t.Helper()
	buf := make([]byte, 1<<20)
	if waitFor(func() bool { return !strings.Contains(string(buf[:runtime.Stack(buf, true)]), "camera.(*") }) == nil {
		return
	}
	t.Fatal("a goroutine is left behind:\n" + string(buf[:runtime.Stack(buf, true)]))
}

var errUnplugged = errors.New("no such device")

// waitFor yields until a condition holds, for some seconds at most.
func waitFor(ok func() bool) error {
	end := time.Now().Add(5 * time.Second)
	for !ok() {
		if time.Now().After(end) {
			return errors.New("it never happened")
		}
		runtime.Gosched()
	}
	return nil
}

// shut closes a source, moving its clock as long as that takes.
func shut(s *Source, clock *handClock) {
	closed := make(chan struct{})
	go func() { _ = s.Close(); close(closed) }()
	for {
		synctest.Wait()
		select {
		case <-closed:
			return
		default:
		}
		clock.step(100 * time.Millisecond)
	}
}
