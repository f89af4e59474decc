package sound

import (
	"errors"
	"fmt"
	"sync/atomic"

	"github.com/gen2brain/malgo"

	"drillbay/cues"
)

// device is an output that can be opened again and again: what comes after
// the speaker is lost, since oto opens its device once in a process.
type device struct {
	context *malgo.AllocatedContext
	device  *malgo.Device
	stopped atomic.Bool
}

var errStopped = errors.New("the sound output stopped")

// backends are the systems' real outputs: without the one that plays to
// nowhere, which always opens.
func backends() []malgo.Backend {
	return []malgo.Backend{malgo.BackendWasapi, malgo.BackendDsound, malgo.BackendWinmm, malgo.BackendCoreaudio, malgo.BackendPulseaudio, malgo.BackendAlsa}
}

func openDevice(t *tap) (sink, error) {
	context, err := malgo.InitContext(backends(), malgo.ContextConfig{}, nil)
	if err != nil {
		return nil, fmt.Errorf("no sound system answers: %w", err)
	}
	d := &device{context: context}
	c := malgo.DefaultDeviceConfig(malgo.Playback)
	c.SampleRate, c.Playback.Format, c.Playback.Channels = cues.Rate, malgo.FormatF32, 2
	c.PeriodSizeInMilliseconds, c.Periods = uint32(period*1000/2), 6
	c.Alsa.NoMMap = 1
	c.Pulse.StreamNamePlayback = "drillbay"
	d.device, err = malgo.InitDevice(context.Context, c, malgo.DeviceCallbacks{
		Data: func(out, _ []byte, _ uint32) { t.Read(out) },
		Stop: func() { d.stopped.Store(true) },
	})
	if err != nil {
		d.release()
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
	d.release()
}

func (d *device) release() {
	d.context.Uninit()
	d.context.Free()
}
