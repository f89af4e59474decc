package app

import (
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills/runner"
)

func TestAClubIsAddedAndTaken(t *testing.T) {
	a := martaPractises()
	a.clubs = []ClubLine{{Name: "wedge", Cm: 89, Used: true, Line: "rung 2 of 8"}}
	a.key(Progress)
	require.Equal(t, "clubs", a.key(Club).Screen)
	require.True(t, a.step().Says("wedge") && a.step().Says("in use"))
	a.key(More)
	a.typed("9-iron")
	a.key(Next)
	a.key(Left)
	a.key(Go)
	require.Equal(t, ClubLine{Name: "9-iron", Cm: 93.5}, a.clubs[1])
	a.key(Down)
	require.Equal(t, "progress", a.key(Go).Screen)
	require.True(t, a.clubs[1].Used)
	require.Equal(t, runner.Change, a.did().Do, "a set has one club")
	a.key(Club)
	a.key(More)
	require.Equal(t, "clubs", a.key(Back).Screen)
	require.Equal(t, "progress", a.key(Back).Screen)
}
