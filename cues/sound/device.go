package sound

import (
	"errors"
	"fmt"
	"sync/atomic"

	"github.com/gen2brain/malgo"

	"drillbay/cues"
	"drillbay/cues/card"
)

// device is an output that can be opened again and again: what comes after
// the speaker is lost, since oto opens its device once in a process.
type device struct {
	system  card.System
	device  *malgo.Device
	stopped atomic.Bool
}

var errStopped = errors.New("the sound output stopped")

func openDevice(t *tap) (sink, error) {
	system, err := card.Open()
	if err != nil {
		return nil, err
	}
	d := &device{system: system}
	c := malgo.DefaultDeviceConfig(malgo.Playback)
	c.SampleRate, c.Playback.Format, c.Playback.Channels = cues.Rate, malgo.FormatF32, 2
	c.PeriodSizeInMilliseconds, c.Periods = uint32(period*1000/2), 6
	c.Alsa.NoMMap = 1
	c.Pulse.StreamNamePlayback = "drillbay"
	d.device, err = malgo.InitDevice(system.Context, c, malgo.DeviceCallbacks{
		Data: func(out, _ []byte, _ uint32) { t.Read(out) },
		Stop: func() { d.stopped.Store(true) },
	})
	if err != nil {
		system.Close()
		return nil, fmt.Errorf("the sound output does not open: %w", err)
	}
	if err := d.device.Start(); err != nil {
		d.close()
		return nil, fmt.Errorf("the sound output does not start: %w", err)
	}
	return d, nil
}

func (d *device) err() error {
	if d.stopped.Load() {
		return errStopped
	}
	return nil
}

func (d *device) close() {
	d.device.Uninit()
	d.system.Close()
}
