package virtual

import (
	"fmt"
	"image"
	"io"
	"sync"
	"time"

	"github.com/pion/mediadevices/pkg/driver"
	mediaframe "github.com/pion/mediadevices/pkg/frame"
	"github.com/pion/mediadevices/pkg/io/video"
	"github.com/pion/mediadevices/pkg/prop"

	"drillbay/camera/frame"
)

// Label is the label under which the virtual bay is registered as a driver.
const Label = "virtual-bay"

// Pace waits until frame i of a stream at fps is due and returns the frame
// that is due then, which is later than i when the reader was slow. It returns
// early when closed closes.
type Pace func(i int, fps float64, closed <-chan struct{}) int

// AsRead is the pace of a stream that runs as fast as it is read.
func AsRead(i int, _ float64, _ <-chan struct{}) int { return i }

// Sleep waits by the system's clock, and no longer than until closed closes.
func Sleep(d time.Duration, closed <-chan struct{}) {
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-t.C:
	case <-closed:
	}
}

// Device is a virtual bay as a mediadevices camera. Like a camera it lends the
// planes of an image only until the next read.
type Device struct {
	setup Setup
	pace  Pace

	mu     sync.Mutex
	closed chan struct{}
	bay    *Bay
}

// NewDevice makes a camera of a setup.
func NewDevice(s Setup, p Pace) (*Device, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	if p == nil {
		p = AsRead
	}
	return &Device{setup: s, pace: p}, nil
}

// Register makes the device known to mediadevices under the setup's name.
// The function it returns takes it back.
func Register(d *Device) (remove func(), err error) {
	m := driver.GetManager()
	before := map[string]bool{}
	for _, k := range m.Query(driver.FilterVideoRecorder()) {
		before[k.ID()] = true
	}
	err = m.Register(d, driver.Info{Label: Label, Name: d.setup.Name, DeviceType: driver.Camera, Priority: driver.PriorityLow})
	if err != nil {
		return nil, fmt.Errorf("virtual bay: cannot be registered: %w", err)
	}
	var id string
	for _, k := range m.Query(driver.FilterVideoRecorder()) {
		if i := k.Info(); !before[k.ID()] && i.Label == Label && i.Name == d.setup.Name {
			id = k.ID()
		}
	}
	return func() { m.Delete(id) }, nil
}

// Open draws the still scene.
func (d *Device) Open() error {
	b, err := New(d.setup)
	if err != nil {
		return err
	}
	b.prepare() // now, not when the first frame is due
	d.mu.Lock()
	defer d.mu.Unlock()
	d.bay, d.closed = b, make(chan struct{})
	return nil
}

// Close ends the stream; it may be called more than once.
func (d *Device) Close() error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.bay != nil {
		close(d.closed)
		d.bay = nil
	}
	return nil
}

// Properties is the one mode of the bay.
func (d *Device) Properties() []prop.Media {
	return []prop.Media{{Video: prop.Video{
		Width: d.setup.Width, Height: d.setup.Height,
		FrameRate: float32(d.setup.FPS), FrameFormat: mediaframe.FormatI420,
	}}}
}

// VideoRecord starts the stream at frame 0. A bay that does not loop ends
// with io.EOF.
func (d *Device) VideoRecord(p prop.Media) (video.Reader, error) {
	d.mu.Lock()
	b, closed := d.bay, d.closed
	d.mu.Unlock()
	if b == nil {
		return nil, fmt.Errorf("virtual bay: is not open")
	}
	if p.Width != d.setup.Width || p.Height != d.setup.Height {
		return nil, fmt.Errorf("virtual bay: has no mode of %d × %d", p.Width, p.Height)
	}
	pic := frame.New(d.setup.Width, d.setup.Height, frame.Sub420)
	img := pic.Image()
	next := 0
	return video.ReaderFunc(func() (image.Image, func(), error) {
		i := d.pace(next, d.setup.FPS, closed)
		select {
		case <-closed:
			return nil, func() {}, io.EOF
		default:
		}
		if !d.setup.Loop && i >= b.Frames() {
			return nil, func() {}, io.EOF
		}
		if err := b.Draw(i, pic); err != nil {
			return nil, func() {}, err
		}
		next = i + 1
		return img, func() {}, nil
	}), nil
}
