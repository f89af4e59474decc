package ledger

import (
	"context"
	"io"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestADeletedPlayerIsBroughtBackUntilTheSessionEnds(t *testing.T) {
	ctx := context.Background()
	l := full(t, "Marta", "Ben")
	require.NoError(t, l.PutSetting(ctx, "club of "+id("Marta"), "7-iron"))
	before := exported(t, l, "")
	names := func() (out []string) {
		players, err := l.Players(ctx)
		require.NoError(t, err)
		for _, p := range players {
			out = append(out, p.Name)
		}
		return out
	}
	gone, err := l.Leave(ctx, id("Marta"))
	require.NoError(t, err)
	require.Equal(t, 3, gone.Reps)
	require.Equal(t, []string{"Ben"}, names())
	require.Len(t, reps(t, l, Which{}), 3, "hers are not read")
	require.NotContains(t, exported(t, l, ""), "Marta")
	require.ErrorIs(t, l.Export(ctx, io.Discard, id("Marta")), ErrUnknown)
	require.Positive(t, imported(t, l, before).Forgotten, "nor does an import reach her")
	require.NotEmpty(t, places(t, l, "homework of Marta"), "it is on the disk still")

	require.NoError(t, l.Stay(ctx, id("Marta")))
	require.ElementsMatch(t, []string{"Marta", "Ben"}, names())
	require.Equal(t, before, exported(t, l, ""), "all of it is back")
	require.ErrorIs(t, l.Stay(ctx, id("Marta")), ErrUnknown)
	_, err = l.Leave(ctx, id("nobody"))
	require.ErrorIs(t, err, ErrUnknown)

	_, err = l.Leave(ctx, id("Marta"))
	require.NoError(t, err)
	all, err := l.EraseLeaving(ctx)
	require.NoError(t, err)
	require.Len(t, all, 1)
	require.Contains(t, all[0].String(), "Marta is deleted: 1 session")
	for _, trace := range []string{"Marta", id("Marta"), record("Marta", 1).ID} {
		require.Empty(t, places(t, l, trace), trace)
	}
	left, err := l.Leaving(ctx)
	require.NoError(t, err)
	require.Empty(t, left)
}

func TestALedgerThatWasClosedInBetweenStillErases(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), FileName)
	l := opened(t, path)
	save(t, l, record("Marta", 1))
	_, err := l.Leave(ctx, id("Marta"))
	require.NoError(t, err)
	require.NoError(t, l.Close())
	l = opened(t, path)
	gone, err := l.EraseLeaving(ctx)
	require.NoError(t, err)
	require.Len(t, gone, 1)
	require.Empty(t, places(t, l, "Marta"))
}

func TestABackupBringsADeletedPlayerBackWhenAsked(t *testing.T) {
	ctx := context.Background()
	l := full(t, "Marta", "Ben")
	backup := exported(t, l, "")
	_, err := l.DeletePlayer(ctx, id("Marta"))
	require.NoError(t, err)

	done := imported(t, l, backup)
	require.Equal(t, []string{"Marta"}, done.Deleted)
	require.Contains(t, done.String(), "of players who were deleted here: Marta")
	_, err = l.Import(ctx, reader(backup), "Ben")
	require.ErrorContains(t, err, `"Ben" is not to be brought back from this file: of those who were deleted here it holds Marta`)

	done, err = l.Import(ctx, reader(backup), " marta")
	require.NoError(t, err)
	require.Empty(t, done.Deleted)
	require.Contains(t, done.String(), "Marta is back.")
	require.Equal(t, backup, exported(t, l, ""))
	_, err = l.Import(ctx, reader(backup), "Marta")
	require.ErrorContains(t, err, "it holds none who was deleted here")
}
