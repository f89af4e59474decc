package ledger

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

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

// TestHelperDeletes deletes a player and brings her back, again and again, and at
// last erases her and restores her from a backup.
func TestHelperDeletes(t *testing.T) {
	path := os.Getenv("DRILLBAY_TEST_DELETES")
	if path == "" {
		t.Skip("a helper of TestAKillWhileTheLedgerDeletesOrRestores")
	}
	ctx := context.Background()
	l, err := Open(path)
	require.NoError(t, err)
	for {
		var backup strings.Builder
		require.NoError(t, l.Export(ctx, &backup, ""))
		for range 3 {
			_, err = l.Leave(ctx, id("Marta"))
			require.NoError(t, err)
			fmt.Println("did leave")
			require.NoError(t, l.Stay(ctx, id("Marta")))
			fmt.Println("did stay")
		}
		_, err = l.Leave(ctx, id("Marta"))
		require.NoError(t, err)
		fmt.Println("did leave")
		_, err = l.EraseLeaving(ctx)
		require.NoError(t, err)
		fmt.Println("did erase")
		_, err = l.Import(ctx, reader(backup.String()), "Marta")
		require.NoError(t, err)
		fmt.Println("did restore")
	}
}

// A kill at any moment of it leaves a sound ledger in which she is whole, or
// deleted as was told, and nobody else is touched.
func TestAKillWhileTheLedgerDeletesOrRestores(t *testing.T) {
	kills := 4
	if n, err := strconv.Atoi(os.Getenv("DRILLBAY_KILLS")); err == nil {
		kills = n / 5
	}
	ctx := context.Background()
	for seed := range uint64(kills) {
		random := rand.New(rand.NewPCG(seed, 21))
		path := filepath.Join(t.TempDir(), FileName)
		l := opened(t, path)
		for n := 1; n <= 30; n++ {
			save(t, l, record("Marta", n), record("Ben", n))
		}
		require.NoError(t, l.Close())
		helper := exec.Command(os.Args[0], "-test.run=^TestHelperDeletes$")
		helper.Env = append(os.Environ(), "DRILLBAY_TEST_DELETES="+path)
		out, err := helper.StdoutPipe()
		require.NoError(t, err)
		require.NoError(t, helper.Start())
		last, after := "", 1+random.IntN(14)
		for lines, n := bufio.NewScanner(out), 0; lines.Scan(); {
			if did, ok := strings.CutPrefix(lines.Text(), "did "); ok {
				last = did
				if n++; n == after {
					time.AfterFunc(time.Duration(random.IntN(12_000))*time.Microsecond, func() { _ = helper.Process.Kill() })
				}
			}
		}
		require.Error(t, helper.Wait(), "it was killed")
		l = opened(t, path)
		require.NoError(t, l.Check(ctx))
		require.Len(t, reps(t, l, Which{Player: id("Ben")}), 30, "seed %d", seed)
		leaving, err := l.Leaving(ctx)
		require.NoError(t, err)
		hers := len(reps(t, l, Which{Player: id("Marta")}))
		t.Logf("seed %d: killed after %q: %d reps of hers, leaving %d", seed, last, hers, len(leaving))
		switch {
		case len(leaving) == 1:
			require.Zero(t, hers, "she is hidden")
			require.NoError(t, l.Stay(ctx, id("Marta")))
			require.Len(t, reps(t, l, Which{Player: id("Marta")}), 30, "and all of her comes back")
		case hers == 0:
			require.Contains(t, []string{"leave", "erase"}, last, "seed %d", seed)
			require.Empty(t, places(t, l, id("Marta")), "nothing of her is left in the file, seed %d", seed)
		default:
			require.Equal(t, 30, hers, "all of her or nothing")
		}
	}
}

// A disk that refuses an undo loses nothing: it is told, and can be done later.
func TestAnUndoThatTheDiskRefuses(t *testing.T) {
	ctx := context.Background()
	l := full(t, "Marta")
	before := exported(t, l, "")
	_, err := l.Leave(ctx, id("Marta"))
	require.NoError(t, err)
	_, err = l.write.Exec("PRAGMA query_only = 1")
	require.NoError(t, err)
	require.ErrorIs(t, l.Stay(ctx, id("Marta")), ErrReadOnly)
	_, err = l.write.Exec("PRAGMA query_only = 0")
	require.NoError(t, err)
	require.NoError(t, l.Stay(ctx, id("Marta")))
	require.Equal(t, before, exported(t, l, ""))
}
