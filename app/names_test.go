package app

import (
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills/book"
	"drillbay/drills/runner"
)

// A long name stands in full wherever there is room for it.
func TestALongNameIsCutOnlyWhereThereIsNoRoom(t *testing.T) {
	const long = "Maximiliane von Hohenstein"
	a := clinicOf("Ada\n" + long + "\nCy\n")
	require.True(t, a.step().Says(long), "the list of a new clinic")
	a.key(PageOn)
	v := a.step()
	require.Equal(t, "clinic", v.Screen)
	require.True(t, v.Says(long), "the clinic's list")

	const longer = "Maximiliane von Hohenstein-Weiss"
	b := newTrial()
	for _, n := range []string{longer, "Bo"} {
		b.players = append(b.players, book.PlayerLine{Player: runner.Player{ID: n, Name: n}, ConsentAt: "noted on 3 March 2026"})
	}
	require.True(t, b.step().Says(longer), "the start screen")
	v = b.key(Progress)
	require.Equal(t, "progress", v.Screen)
	require.True(t, v.Says(longer), "the head of Progress, with its many keys")

	// On the mat, in a clinic, beside picture and verdict.
	for _, size := range [][2]float64{{1024, 600}, {1280, 720}, {2560, 1600}} {
		m := clinicOf(longer + "\nBo\n")
		m.key(PageOn)
		m.step(Action{Kind: Size, X: size[0], Y: size[1], N: 1469})
		m.key(Go)
		m.key(Go)
		v = m.step()
		require.Equal(t, "practice", v.Screen)
		require.True(t, v.Says(longer), "%v: %q", size, v.Texts())
	}
}
