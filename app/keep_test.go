package app

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestARepIsKeptInTheFormThatIsChosen(t *testing.T) {
	a := martaPractises()
	a.players[0].Consent = PlayerAgrees
	a.tell(done("a", 20))
	a.step()
	a.key(Right) // the lookback stands
	at := a.top().(*practiceScreen).look.player.At(a.now).At
	require.Equal(t, "keep", a.key(Keep).Screen)
	require.Equal(t, []string{"clip", "moving picture", "picture"}, a.keeps.form.Options, "no MP4 without ffmpeg")
	a.key(Right)
	require.True(t, a.key(Right).Says("JPEG, the one that is shown"))
	a.key(Next)
	a.key(Right)
	require.Equal(t, "lookback", a.key(Go).Screen)
	a.worked()
	require.Len(t, a.jobs, 1)
	require.Equal(t, Job{Do: Keep, RepID: "a", As: "jpg", Overlay: true, At: a.jobs[0].At}, a.jobs[0])
	require.InDelta(t, at, a.jobs[0].At, 1e-9)
	require.True(t, a.did().Kept)

	a.d.MP4 = true
	a.key(Keep)
	a.key(Back)
	a.worked()
	require.Len(t, a.jobs, 1, "Escape keeps nothing")
	a.key(Keep)
	a.key(Left)
	a.key(Overlay)
	a.key(Go)
	a.worked()
	require.Equal(t, "mp4", a.jobs[1].As)
	require.False(t, a.jobs[1].Overlay)
}
