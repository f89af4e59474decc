package app

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// The mat's screen goes on with what the player needs, whatever the coach looks at,
// at a size of its own, and changes nothing.
func TestTheMatSeesPracticeWhileTheCoachLooksElsewhere(t *testing.T) {
	a := clinicOf("Ada\nBo\nCy\n")
	a.key(PageOn)
	m := a.Mat()
	defer m.Release()
	see := func() *View { return m.View(1920, 1080, 2203, a.now) }
	require.Equal(t, "turn", see().Screen, "nobody practises yet")
	require.True(t, see().Says("Ada, step in"))
	a.key(Go)
	require.Equal(t, "caution", see().Screen)
	a.check = []string{"Grip: light.", "Aim: at the mark."}
	a.key(Go)
	require.Equal(t, "check", see().Screen)
	a.key(Go)
	a.key(Go)
	require.Equal(t, "practice", see().Screen)
	orders, turns := len(a.orders), len(a.turns)
	for _, d := range []Do{Clinic, Settings, Progress, Drills, Lens} {
		v := a.key(d)
		if d == Clinic {
			require.Equal(t, "clinic", v.Screen, "the coach")
		}
		mat := see()
		require.Equal(t, "practice", mat.Screen)
		require.Equal(t, []float64{1920, 1080}, []float64{mat.Width, mat.Height})
		require.Equal(t, 1280.0, a.step().Width)
		require.False(t, slices.Contains(mat.Texts(), "Space"), "no keys where there are none")
		for a.top().name() != "practice" {
			a.key(Back)
		}
	}
	require.Equal(t, []int{orders, turns}, []int{len(a.orders), len(a.turns)}, "nothing was asked of session and book")
}

// The key asks for the window, and says where there is none.
func TestTheKeyForASecondWindow(t *testing.T) {
	a := marta()
	require.True(t, a.key(Second).Says("There is no second window here."))
	asked := 0
	a.d.Second = func() (string, error) { asked++; return "It is open.", nil }
	require.True(t, a.key(Second).Says("It is open."))
	require.Equal(t, 1, asked)
}
