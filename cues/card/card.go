// Package card reaches the system's sound devices, for output and microphone
// alike.
package card

import (
	"fmt"

	"github.com/gen2brain/malgo"
)

// backends are the systems' real devices: without the one that plays to
// nowhere and hears nothing, which always opens.
func backends() []malgo.Backend {
	return []malgo.Backend{malgo.BackendWasapi, malgo.BackendDsound, malgo.BackendWinmm, malgo.BackendCoreaudio, malgo.BackendPulseaudio, malgo.BackendAlsa}
}

// System is the system's sound, as long as it is open.
type System struct{ *malgo.AllocatedContext }

// Open reaches the system's sound.
func Open() (System, error) {
	c, err := malgo.InitContext(backends(), malgo.ContextConfig{}, nil)
	if err != nil {
		return System{}, fmt.Errorf("no sound system answers: %w", err)
	}
	return System{c}, nil
}

// Close lets go of it.
func (s System) Close() {
	_ = s.Uninit()
	s.Free()
}

// Names are the names of all devices of a kind, the system's own choice first.
func Names(kind malgo.DeviceType) ([]string, error) {
	s, err := Open()
	if err != nil {
		return nil, err
	}
	defer s.Close()
	all, err := s.Devices(kind)
	if err != nil {
		return nil, err
	}
	var first, rest []string
	for _, info := range all {
		if info.IsDefault != 0 {
			first = append(first, info.Name())
		} else {
			rest = append(rest, info.Name())
		}
	}
	return append(first, rest...), nil
}
