package app

import (
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills/runner"
)

// A condition that lasts is a small mark; its sentence is there when the mark is pressed,
// and moves nothing, and on the page of keys.
func TestALastingConditionIsAMark(t *testing.T) {
	const says = "No sound can be played."
	for _, screen := range []string{"start", "practice"} {
		a := marta()
		if screen == "practice" {
			a = martaPractises()
			for range 4 {
				a.key(PageOn)
			}
		}
		a.snap.Notices = []runner.Notice{{Key: "sound", Text: says, To: "Connect a loudspeaker.", Since: a.now}}
		require.Equal(t, screen, a.step().Screen)
		require.False(t, a.step().Says(says), "not when it begins either")
		require.True(t, a.step().Says("no sound"))
		quiet := texts(a.step())
		v, ok := a.click(Tell)
		require.True(t, ok)
		require.True(t, v.Says(says), "on demand")
		require.True(t, v.Says("Connect a loudspeaker."))
		require.Equal(t, quiet, texts(v)[:len(quiet)], "nothing gives way to it")
		v, _ = a.click(Tell)
		require.False(t, v.Says(says), "pressed again")
		a.click(Tell)
		a.now += tellFor + 1
		require.False(t, a.step().Says(says), "after a while")
		a.click(Tell)
		require.True(t, a.key(Keys).Says("no sound"))
		require.True(t, a.step().Says(says+" Connect a loudspeaker."), "by the key")
		require.Equal(t, screen, a.key(Back).Screen)
		require.False(t, a.step().Says(says), "another key takes it away")
		a.snap.Notices = []runner.Notice{{Key: "save", Text: "Rep 8 is not saved.", Since: 0}}
		require.True(t, a.step().Says("Rep 8 is not saved."), "what has to be seen to stays")
	}
}

// texts are the texts of a view, in their places.
func texts(v *View) (out []Item) {
	for _, i := range v.Items {
		if i.Shape == Text {
			out = append(out, i)
		}
	}
	return out
}

// What was in use and has just gone is told, and is a mark then.
func TestWhatHasJustGoneIsTold(t *testing.T) {
	for _, key := range []string{"sound lost", "ear", "other view", "first view"} {
		a := marta()
		a.snap.Notices = []runner.Notice{{Key: key, Text: "It is gone.", Since: a.now}}
		require.True(t, a.step().Says("It is gone."), key)
		a.now += tellFor + 1
		require.False(t, a.step().Says("It is gone."), key)
		v, ok := a.click(Tell)
		require.True(t, ok)
		require.True(t, v.Says("It is gone."), key)
	}
}
