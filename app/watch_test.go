package app

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills"
)

// Two things at most are watched in a drill; each has a band that a coach widens
// or narrows. Enter keeps it, Esc changes nothing.
func TestWhatADrillWatchesIsChosen(t *testing.T) {
	a := marta()
	a.watched = []drills.Watch{drills.UsualWatch(drills.HandsUnder)}
	a.key(Drills)
	require.Equal(t, "watched", a.key(Pencil).Screen)
	a.key(Down)
	a.key(More)
	a.key(Hold) // spine tilt, a degree wider
	a.key(Down)
	v := a.key(Hold) // a third
	said := strings.Join(v.Texts(), " ")
	require.Contains(t, said, "Two are watched already")
	require.Contains(t, said, "medical advice", "the caution stands there")
	require.Equal(t, "drills", a.key(Back).Screen)
	require.Len(t, a.watched, 1, "Esc changes nothing")
	a.key(Pencil)
	a.key(Down)
	a.key(More)
	a.key(Hold)
	require.Equal(t, "drills", a.key(Go).Screen)
	require.Equal(t, []drills.Watch{drills.UsualWatch(drills.HandsUnder), {Part: drills.SpineTilt, Low: -6, High: 6}}, a.watched)
	a.key(Pencil)
	a.key(Hold)
	a.key(Go)
	require.Equal(t, []drills.Watch{{Part: drills.SpineTilt, Low: -6, High: 6}}, a.watched, "one is taken out again")
}
