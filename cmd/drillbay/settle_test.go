package main

import (
	"bytes"
	"context"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/drills/ledger"
)

// A name that was mended on two laptops is there twice until somebody says which
// one stays; then it stays on both.
func TestWhatTwoLaptopsChangedIsSettled(t *testing.T) {
	ctx, dir := context.Background(), t.TempDir()
	laptops := [2]string{filepath.Join(dir, "here.db"), filepath.Join(dir, "there.db")}
	file := filepath.Join(dir, "export.jsonl")
	open := func(i int) *ledger.Ledger {
		l, err := ledger.Open(laptops[i])
		require.NoError(t, err)
		return l
	}
	name := func(i int, id, name string) string {
		l := open(i)
		defer l.Close()
		id, err := l.PutPlayer(ctx, ledger.Player{ID: id, Name: name, Created: time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC)})
		require.NoError(t, err)
		return id
	}
	take := func(from, to int) string {
		status, _, problems := command("export", file, "--ledger", laptops[from])
		require.Zero(t, status, problems)
		status, out, problems := command("import", file, "--ledger", laptops[to])
		require.Zero(t, status, problems)
		return out
	}
	id := name(0, "", "Marta")
	take(0, 1)
	name(0, id, "Marta King")
	name(1, id, "Marta Klein")
	require.Contains(t, take(1, 0), "drillbay settle")

	status, out, _ := command("settle", "--ledger", laptops[0])
	require.Zero(t, status)
	require.Contains(t, out, "1 of 1: a player was changed on two laptops.")
	require.Contains(t, out, "1  name: Marta Klein\n", "the later one is shown")
	require.Contains(t, out, "2  name: Marta King\n")
	require.Contains(t, out, "run this where it can ask you")

	for _, left := range []string{"\n", "3\n", "x\n"} {
		_, out, _ = answered(left, "settle", "--ledger", laptops[0])
		require.Contains(t, out, "0 settled, 1 left as they are")
	}
	status, out, problems := answered("2\n", "settle", "--ledger", laptops[0])
	require.Zero(t, status, problems)
	require.Contains(t, out, "1 settled, 0 left as they are")
	take(0, 1)
	for i := range laptops {
		_, out, _ = answered("", "settle", "--ledger", laptops[i])
		require.Equal(t, "Nothing was changed on two laptops.\n", out)
		l := open(i)
		players, err := l.Players(ctx)
		require.NoError(t, err)
		require.Len(t, players, 1)
		require.Equal(t, "Marta King", players[0].Name)
		var b bytes.Buffer
		require.NoError(t, l.Export(ctx, &b, ""))
		require.NotContains(t, b.String(), "Klein")
		require.NoError(t, l.Close())
	}
	status, _, problems = command("settle", "--ledger", filepath.Join(dir, "none.db"))
	require.Equal(t, exitClip, status)
	require.Contains(t, problems, "there is no ledger to read")
}
