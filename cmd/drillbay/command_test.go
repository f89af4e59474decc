package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"drillbay/camera/clip"
	"drillbay/drills/ledger"
)

// command runs a command line and returns its exit status and what it wrote.
func command(args ...string) (status int, out, problems string) {
	var o, e bytes.Buffer
	status = run(args, console{out: &o, err: &e})
	return status, o.String(), e.String()
}

// answered is a command with somebody who answers what it asks.
func answered(answers string, args ...string) (status int, out, problems string) {
	var o, e bytes.Buffer
	status = run(args, console{out: &o, err: &e, in: bufio.NewReader(strings.NewReader(answers))})
	return status, o.String(), e.String()
}

// measuredOnce are the tables of our own clip without a flag and with some: each is
// measured once for all tests that look at it, which run one after the other.
var measuredOnce = map[string]string{}

// ownTable is what measure prints of our own clip, and nothing is amiss.
func ownTable(t *testing.T, flags ...string) string {
	t.Helper()
	key := strings.Join(flags, " ")
	out, ok := measuredOnce[key]
	if !ok {
		var status int
		var problems string
		status, out, problems = command(append([]string{"measure", filepath.Join("..", "..", "testdata", "catch.avi")}, flags...)...)
		require.Equal(t, exitDone, status, problems)
		require.Empty(t, problems)
		measuredOnce[key] = out
	}
	return out
}

func TestExitStatuses(t *testing.T) {
	dir := t.TempDir()
	bad := filepath.Join(dir, "bad.avi")
	require.NoError(t, os.WriteFile(bad, []byte("RIFF\x00\x00\x00\x00AVI nothing"), 0o600))
	empty, cut := filepath.Join(dir, "empty.jsonl"), filepath.Join(dir, "cut.avi")
	require.NoError(t, os.WriteFile(empty, nil, 0o600))
	whole, err := os.ReadFile(filepath.Join("..", "..", "testdata", "catch.avi"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(cut, whole[:5000], 0o600))
	for _, c := range []struct {
		name   string
		want   int
		says   string
		args   []string
		screen string
	}{
		{"help", exitDone, "", []string{"--help"}, ""},
		{"no such command", exitUse, "Try", []string{"practise"}, ""},
		{"no clip", exitClip, "nowhere.avi", []string{"measure", filepath.Join(dir, "nowhere.avi")}, ""},
		{"no real clip", exitClip, "bad.avi", []string{"measure", bad}, ""},
		{"no export", exitClip, "line 1", []string{"import", bad, "--ledger", filepath.Join(dir, "m.db")}, ""},
		{"endless export", exitClip, "not a file", []string{"import", os.DevNull, "--ledger", filepath.Join(dir, "m.db")}, ""},
		{"empty export", exitClip, "empty", []string{"import", empty, "--ledger", filepath.Join(dir, "m.db")}, ""},
		{"export to a device", exitClip, "not a file", []string{"export", os.DevNull, "--ledger", filepath.Join(dir, "m.db")}, ""},
		{"endless clip", exitClip, "not a file", []string{"measure", os.DevNull}, ""},
		{"clip without pictures", exitClip, "no pictures", []string{"measure", cut}, ""},
		{"no size", exitUse, "WxH", []string{"window", "--size", "tall"}, ""},
		{"no reps", exitUse, "1 to 200", []string{"demo", "--headless", "--reps", "0", "--out", dir}, ""},
		{"no display", exitDevice, "headless", []string{"window"}, ""},
		{"no such player", exitUse, "Nobody", []string{"export", filepath.Join(dir, "e.jsonl"), "--ledger", filepath.Join(dir, "m.db"), "--player", "Nobody"}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Setenv("DISPLAY", c.screen)
			status, _, problems := command(c.args...)
			require.Equal(t, c.want, status, problems)
			require.Contains(t, problems, c.says)
			require.NotContains(t, problems, "panic")
		})
	}
}

// What is written never takes the place of the ledger, nor is one made where a
// name is mistyped.
func TestTheLedgerIsNotWrittenOver(t *testing.T) {
	dir := t.TempDir()
	at := filepath.Join(dir, "l.db")
	l, err := ledger.Open(at)
	require.NoError(t, err)
	_, err = l.PutPlayer(context.Background(), ledger.Player{ID: uuid.NewString(), Name: "Ada", Created: time.Now()})
	require.NoError(t, err)
	require.NoError(t, l.Close())
	before, err := os.ReadFile(at)
	require.NoError(t, err)
	link := filepath.Join(dir, "link.html")
	require.NoError(t, os.Symlink(at, link))
	for _, args := range [][]string{{"export", at}, {"export", link}, {"report", "Ada", "--out", at}, {"report", "Ada", "--out", link}} {
		status, _, problems := command(append(args, "--ledger", at)...)
		require.NotEqual(t, exitDone, status, args)
		require.Contains(t, problems, "a file of the ledger itself")
	}
	after, err := os.ReadFile(at)
	require.NoError(t, err)
	require.Equal(t, before, after)

	mistyped := filepath.Join(dir, "no", "such.db")
	status, _, problems := command("export", filepath.Join(dir, "e.jsonl"), "--ledger", mistyped)
	require.Equal(t, exitClip, status)
	require.Contains(t, problems, "no ledger to read")
	require.NoFileExists(t, mistyped)

	table := filepath.Join(dir, "reps.csv")
	status, _, problems = command("export", table, "--ledger", at)
	require.Equal(t, exitDone, status, problems)
	text, err := os.ReadFile(table)
	require.NoError(t, err)
	require.True(t, strings.HasPrefix(string(text), "id,time,player,"), string(text))
}

// What is there of a clip is read, and that it is not all is told.
func TestAClipThatIsCutOffIsTold(t *testing.T) {
	whole, err := os.ReadFile(filepath.Join("..", "..", "testdata", "catch.avi"))
	require.NoError(t, err)
	cut := filepath.Join(t.TempDir(), "cut.avi")
	require.NoError(t, os.WriteFile(cut, whole[:200_000], 0o600))
	status, out, problems := command("measure", cut)
	require.Equal(t, exitDone, status, problems)
	require.Contains(t, out, "No rep")
	require.Equal(t, "drillbay: cut.avi is cut off: only what is there was read.\n", problems)
}

func TestWhatTheEyeSeesIsWrittenForEachFrame(t *testing.T) {
	dir := t.TempDir()
	clip := filepath.Join("..", "..", "testdata", "catch.avi")
	to := filepath.Join(dir, "points.jsonl")
	status, out, problems := command("measure", clip, "--points", to)
	require.Equal(t, exitDone, status, problems)
	require.Equal(t, ownTable(t), out, "the reading is the same")
	b, err := os.ReadFile(to)
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSpace(string(b)), "\n")
	require.Contains(t, out, fmt.Sprintf(" %d frames,", len(lines)))
	for i, line := range lines {
		require.True(t, strings.HasPrefix(line, fmt.Sprintf(`{"frame": %d, "t": `, i)), line)
	}

	nowhere := filepath.Join(dir, "none", "points.jsonl")
	status, _, problems = command("measure", clip, "--points", nowhere)
	require.Equal(t, exitClip, status)
	require.Contains(t, problems, nowhere)
}

func TestNoDisplay(t *testing.T) {
	env := func(display string) func(string) string {
		return func(name string) string { return map[string]string{"DISPLAY": display}[name] }
	}
	require.True(t, noDisplay("linux", env("")))
	require.False(t, noDisplay("linux", env(":0")))
	require.False(t, noDisplay("darwin", env("")))
	require.False(t, noDisplay("windows", env("")))
}

// A whole short session without a window: three rungs, and all that it
// promises to leave.
func TestTheDemoWithoutAWindow(t *testing.T) {
	dir := t.TempDir()
	status, out, problems := command("demo", "--headless", "--reps", "3", "--size", "640x360", "--out", dir)
	require.Equal(t, exitDone, status, problems)
	require.Contains(t, out, "decide nothing")
	require.Contains(t, out, dir)
	lineUp(t, out)
	l, err := ledger.Open(filepath.Join(dir, ledger.FileName))
	require.NoError(t, err)
	defer l.Close()
	ctx := context.Background()
	require.NoError(t, l.Check(ctx))
	reps, err := l.Reps(ctx, ledger.Which{})
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(reps), 7)
	require.LessOrEqual(t, len(reps), 9, "no more than were drawn")
	rungs := map[int]int{}
	for _, r := range reps {
		rungs[r.Rung]++
	}
	require.Len(t, rungs, 3)
	r, err := clip.Open(filepath.Join(dir, "rep.avi"), 0, nil)
	require.NoError(t, err)
	require.Greater(t, r.Info().Frames, 20)
	require.NoError(t, r.Close())
	pictures, err := filepath.Glob(filepath.Join(dir, "pictures", "*.jpg"))
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(pictures), 7)

	// Its ledger goes to another laptop, and twice is as good as once.
	file, other := filepath.Join(dir, "all.jsonl"), filepath.Join(dir, "other", "ledger.db")
	status, _, problems = command("export", file, "--ledger", l.Path())
	require.Equal(t, exitDone, status, problems)
	for range 2 {
		status, _, problems = command("import", file, "--ledger", other)
		require.Equal(t, exitDone, status, problems)
	}
	m, err := ledger.Open(other)
	require.NoError(t, err)
	defer m.Close()
	again, err := m.Reps(ctx, ledger.Which{})
	require.NoError(t, err)
	require.Len(t, again, len(reps))
}

func TestABackupAsksForThoseWhoWereDeleted(t *testing.T) {
	dir := t.TempDir()
	path, backup := filepath.Join(dir, ledger.FileName), filepath.Join(dir, "all of it.jsonl")
	l, err := ledger.Open(path)
	require.NoError(t, err)
	ctx := context.Background()
	var ids []string
	for _, name := range []string{"Jo", "Ada Q"} {
		id, err := l.PutPlayer(ctx, ledger.Player{Name: name})
		require.NoError(t, err)
		ids = append(ids, id)
	}
	require.NoError(t, l.Close())
	status, _, problems := command("export", backup, "--ledger", path)
	require.Equal(t, exitDone, status, problems)
	remove := func() {
		l, err := ledger.Open(path)
		require.NoError(t, err)
		for _, id := range ids {
			_, err = l.DeletePlayer(ctx, id)
			require.NoError(t, err)
		}
		require.NoError(t, l.Close())
	}
	names := func() (out []string) {
		l, err := ledger.Open(path)
		require.NoError(t, err)
		defer l.Close()
		players, err := l.Players(ctx)
		require.NoError(t, err)
		for _, p := range players {
			out = append(out, p.Name)
		}
		return out
	}
	remove()
	status, out, _ := command("import", backup, "--ledger", path)
	require.Equal(t, exitDone, status)
	require.Contains(t, out, fmt.Sprintf("To bring Ada Q back: drillbay import %q --restore \"Ada Q\"\n", backup))
	require.Empty(t, names())
	status, out, _ = command("import", backup, "--ledger", path, "--restore", "Ada Q")
	require.Equal(t, exitDone, status)
	require.Contains(t, out, "Ada Q is back.")
	require.Equal(t, []string{"Ada Q"}, names())
	status, _, problems = command("import", backup, "--ledger", path, "--restore", "Bo")
	require.Equal(t, exitUse, status)
	require.Contains(t, problems, "of those who were deleted here it holds Jo")

	ids = ids[1:] // she is there, he is not
	remove()
	status, out, _ = answered("yes\nno\n", "import", backup, "--ledger", path)
	require.Equal(t, exitDone, status)
	require.Contains(t, out, " was deleted here. Bring ")
	require.Len(t, names(), 1, "one of the two")
}
