package card

import (
	"strings"
	"testing"

	"github.com/gen2brain/malgo"
	"github.com/stretchr/testify/require"
)

// Of what ALSA lists only that is a device which sound comes from or goes to.
func TestPlugInsAreNoDevices(t *testing.T) {
	id := func(name string) (id malgo.DeviceID) { copy(id[:], name); return id }
	for _, c := range []struct {
		name        string
		opens, want bool
	}{
		{":0,0", false, true}, // in use by another program
		{"null", true, false},
		{"samplerate", true, false},
		{"upmix", true, false},
		{"pulse", true, false},
		{"default", true, true},
		{"default", false, false},
		{"headset", true, true}, // of the user's own configuration
		{"headset", false, false},
	} {
		require.Equal(t, c.want, isReal(plugin(id(c.name)), func() bool { return c.opens }), "%s, opens: %v", c.name, c.opens)
	}
}

// What is listed can be opened, so that a computer without a sound card lists none.
func TestWhatIsListedOpens(t *testing.T) {
	s, err := Open()
	if err != nil {
		t.Skip("there is no sound system here: ", err)
	}
	defer s.Close()
	if !s.bare {
		t.Skip("a sound server lists its devices")
	}
	for _, kind := range []malgo.DeviceType{malgo.Capture, malgo.Playback} {
		list, err := s.Devices(kind)
		require.NoError(t, err)
		for _, d := range list {
			if strings.HasPrefix(plugin(d.ID), ":") {
				continue // another program may have it
			}
			_, err := s.DeviceInfo(kind, d.ID, malgo.Shared)
			require.NoError(t, err, d.Name())
			require.NotEqual(t, "null", plugin(d.ID))
		}
	}
}
