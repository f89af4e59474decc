package app

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills/book"
	"drillbay/drills/runner"
)

func TestAClubIsAddedAndTaken(t *testing.T) {
	a := martaPractises()
	a.clubs = []book.ClubLine{{Name: "wedge", Cm: 89, Used: true, Line: "rung 2 of 8"}}
	a.key(Progress)
	require.Equal(t, "clubs", a.key(Club).Screen)
	require.True(t, a.step().Says("wedge") && a.step().Says("in use"))
	a.key(More)
	a.typed("9-iron")
	a.key(Next)
	a.key(Left)
	a.key(Go)
	require.Equal(t, book.ClubLine{Name: "9-iron", Cm: 93.5}, a.clubs[1])
	a.key(Down)
	require.Equal(t, "progress", a.key(Go).Screen)
	require.True(t, a.clubs[1].Used)
	require.Equal(t, runner.Change, a.did().Do, "a set has one club")
	a.key(Club)
	a.key(More)
	require.Equal(t, "clubs", a.key(Back).Screen)
	require.Equal(t, "progress", a.key(Back).Screen)
}

// A club's length has one unit on every screen.
func TestAClubIsMeasuredInCentimetresEverywhere(t *testing.T) {
	a := marta()
	a.bay.Club = 0.94
	a.clubs = []book.ClubLine{{Name: "7-iron", Cm: 94}}
	for name, open := range map[string]func() *View{
		"new player": func() *View { return a.key(NewPlayer) },
		"lens":       func() *View { return a.key(Lens) },
		"clubs":      func() *View { a.key(Progress); return a.key(Club) },
	} {
		v := open()
		require.Equal(t, name, v.Screen)
		found := false
		for _, i := range v.Items {
			found = found || strings.HasSuffix(i.Text, "94 cm")
			require.NotContains(t, i.Text, "0.94", name)
		}
		require.True(t, found, name)
		for a.step().Screen != "start" {
			a.key(Back)
		}
	}
}
