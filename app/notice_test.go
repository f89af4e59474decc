package app

import (
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills/runner"
)

// A condition that lasts is a small mark; its sentence is there when it begins,
// and when the mark is pressed.
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
		require.True(t, a.step().Says(says), "when it begins")
		a.now += tellFor + 1
		require.False(t, a.step().Says(says))
		require.True(t, a.step().Says("no sound"))
		v, ok := a.click(Tell)
		require.True(t, ok)
		require.True(t, v.Says(says), "on demand")
		a.now += tellFor + 1
		require.False(t, a.step().Says(says))
		a.snap.Notices = []runner.Notice{{Key: "save", Text: "Rep 8 is not saved.", Since: 0}}
		require.True(t, a.step().Says("Rep 8 is not saved."), "what has to be seen to stays")
	}
}
