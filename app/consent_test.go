package app

import (
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills/book"
	"drillbay/drills/runner"
)

func TestConsentThatIsTakenBackAsksForTheClips(t *testing.T) {
	open := func() *trial {
		a := newTrial()
		a.players = []book.PlayerLine{{Player: runner.Player{ID: "m", Name: "Marta"}, Consent: book.PlayerAgrees}}
		a.agreed["m"] = book.PlayerAgrees
		a.clips = []book.ClipLine{{File: "Marta-2026-11-27-10.15-rep-2.avi"}, {File: "Marta-2026-11-28-09.00-rep-7.gif"}}
		a.key(Progress)
		a.key(Agree)
		a.key(Up)
		v := a.key(Go)
		require.Equal(t, "consent taken back", v.Screen)
		require.True(t, v.Says("Keep or delete these 2 clips?"))
		require.True(t, v.Says("Marta-2026-11-28-09.00-rep-7.gif"))
		return a
	}
	a := open()
	require.Equal(t, "consent taken back", a.key(Go).Screen, "neither is chosen yet")
	require.Equal(t, "progress", a.key(Back).Screen)
	require.Equal(t, book.PlayerAgrees, a.agreed["m"], "Escape changes nothing")

	a = open()
	a.typed("1")
	require.Equal(t, "progress", a.key(Go).Screen)
	require.Equal(t, book.NoConsent, a.agreed["m"])
	require.Empty(t, a.jobs)

	a = open()
	a.key(Down)
	a.key(Go)
	a.worked()
	require.Equal(t, book.NoConsent, a.agreed["m"])
	require.Equal(t, []Job{{Do: Erase, Player: "m"}}, a.jobs)
}
