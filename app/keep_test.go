package app

import (
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills/book"
)

func TestARepIsKeptInTheFormThatIsChosen(t *testing.T) {
	a := martaPractises()
	a.players[0].Consent = book.PlayerAgrees
	a.tell(done("a", 20))
	a.step()
	a.key(Right) // the lookback stands
	at := a.top().(*practiceScreen).look.player.At(a.now).At
	require.Equal(t, "keep", a.key(Keep).Screen)
	require.Equal(t, []string{"clip", "moving picture", "picture"}, a.keeps.form.Options, "no MP4 without ffmpeg")
	a.key(Right)
	require.True(t, a.key(Right).Says("The one that is shown (JPEG)"))
	a.key(Next)
	a.key(Right)
	require.Equal(t, "lookback", a.key(Go).Screen)
	a.worked()
	require.Len(t, a.jobs, 1)
	job := a.jobs[0]
	require.Equal(t, []any{Keep, "a", "jpg", true, "a"}, []any{job.Do, job.RepID, job.As, job.Overlay, job.Rep.ID})
	require.NotEmpty(t, job.Loop.Frames(), "it holds its pictures")
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

func TestARepThatIsBeingKeptDoesNotGiveWayToTheNext(t *testing.T) {
	a := martaPractises()
	a.tell(done("a", 20))
	a.step()
	require.Equal(t, "consent", a.key(Keep).Screen)
	a.next("b")
	require.Equal(t, "consent", a.step().Screen)
	a.key(Down)
	require.Equal(t, "keep", a.key(Go).Screen)
	a.next("c")
	a.key(Go)
	a.worked()
	require.Equal(t, "a", a.jobs[0].RepID)
	require.NotEmpty(t, a.jobs[0].Loop.Frames())
	require.Equal(t, "c", a.top().(*practiceScreen).look.id, "then the newest is shown")
}
