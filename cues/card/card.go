// Package card reaches the system's sound devices, for output and microphone
// alike.
package card

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"github.com/gen2brain/malgo"
)

// servers are the systems that list real devices only. The one that plays to nowhere
// and hears nothing, which always opens, is not among them.
func servers() []malgo.Backend {
	return []malgo.Backend{malgo.BackendWasapi, malgo.BackendDsound, malgo.BackendWinmm, malgo.BackendCoreaudio, malgo.BackendPulseaudio}
}

// System is the system's sound, as long as it is open.
type System struct {
	*malgo.AllocatedContext
	bare bool // ALSA without a sound server, which lists its plug-ins as devices too
}

// Open reaches the system's sound.
func Open() (System, error) {
	if c, err := malgo.InitContext(servers(), malgo.ContextConfig{}, nil); err == nil {
		return System{c, false}, nil
	}
	c, err := malgo.InitContext([]malgo.Backend{malgo.BackendAlsa}, malgo.ContextConfig{}, nil)
	if err != nil {
		return System{}, fmt.Errorf("no sound system answers: %w", err)
	}
	return System{c, true}, nil
}

// Devices are the devices of a kind that can be played to or recorded from.
func (s System) Devices(kind malgo.DeviceType) ([]malgo.DeviceInfo, error) {
	all, err := s.AllocatedContext.Devices(kind)
	if err != nil || !s.bare {
		return all, err
	}
	return slices.DeleteFunc(all, func(d malgo.DeviceInfo) bool {
		return !isReal(plugin(d.ID), func() bool {
			_, err := s.DeviceInfo(kind, d.ID, malgo.Shared)
			return err == nil
		})
	}), nil
}

// plugin is the name by which ALSA knows a device: ":0,0" for a card's, else that of a
// plug-in.
func plugin(id malgo.DeviceID) string {
	name, _, _ := bytes.Cut(id[:], []byte{0})
	return string(name)
}

// notDevices are ALSA's plug-ins that only stand before another device, or before a
// server that would have been reached by itself.
var notDevices = []string{"null", "lavrate", "samplerate", "speexrate", "speex", "upmix", "vdownmix", "a52", "jack", "oss", "pulse", "pipewire"}

// isReal reports whether sound comes from, or goes to, what ALSA lists under a name. A card's
// device does; "default" and what a user has set up do if they open.
func isReal(name string, opens func() bool) bool {
	switch {
	case strings.HasPrefix(name, ":"):
		return true
	case slices.Contains(notDevices, name):
		return false
	}
	return opens()
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
