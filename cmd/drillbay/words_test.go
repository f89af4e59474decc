package main

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"drillbay/app/perform"
	"drillbay/drills"
	"drillbay/drills/ledger"
	"drillbay/drills/picture"
	"drillbay/drills/table"
)

// What the command line says is for people.
func TestTheCommandLineSpeaksPlainly(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, ledger.FileName)
	l, err := ledger.Open(path)
	require.NoError(t, err)
	for _, name := range []string{"Jo", "Joanna", "Ben"} {
		_, err := l.PutPlayer(context.Background(), ledger.Player{Name: name})
		require.NoError(t, err)
	}
	require.NoError(t, l.Close())
	out := filepath.Join(dir, "r.html")
	status, said, problems := command("report", "jo", "--ledger", path, "--out", out)
	require.Equal(t, exitDone, status, problems)
	require.Contains(t, said, "known of Jo:")
	status, said, _ = command("report", "joa", "--ledger", path, "--out", out)
	require.Equal(t, exitDone, status)
	require.Contains(t, said, "known of Joanna:")
	status, _, problems = command("report", "Zoe", "--ledger", path)
	require.Equal(t, exitUse, status)
	require.True(t, strings.HasPrefix(problems, "drillbay: there is no player named"), problems)
	for _, name := range []string{"Jo", "Joanna", "Ben"} {
		require.Contains(t, problems, name)
	}
	status, said, _ = command("export", filepath.Join(dir, "x.txt"), "--ledger", path)
	require.Equal(t, exitDone, status)
	require.Contains(t, said, "x.txt: the ledger as JSON Lines, to be read by drillbay import.")
	_, said, _ = command("export", filepath.Join(dir, "x.csv"), "--ledger", path)
	require.Contains(t, said, "reps as a table")

	status, _, problems = command("import", filepath.Join(dir, "none.jsonl"), "--ledger", path)
	require.Equal(t, exitClip, status)
	require.Equal(t, "drillbay: the export "+filepath.Join(dir, "none.jsonl")+" cannot be read: no such file or directory\n", problems)

	for text, want := range map[string]string{
		"hello":                        "was the file written by drillbay export?",
		`{"kind": "player"`:            "cut off",
		`{"kind": 7}`:                  `"kind" holds something else`,
		`{"kind": "player", "odd": 1}`: `there is no "odd" in one`,
	} {
		bad := filepath.Join(dir, "bad.jsonl")
		require.NoError(t, os.WriteFile(bad, []byte(text), 0o600))
		status, _, problems = command("import", bad, "--ledger", path)
		require.Equal(t, exitClip, status)
		require.Contains(t, problems, want)
		for _, parser := range []string{"json:", "invalid character", "unmarshal", "EOF"} {
			require.NotContains(t, problems, parser, text)
		}
	}
	status, said, _ = command("--version")
	require.Equal(t, exitDone, status)
	require.True(t, strings.HasPrefix(said, "drillbay "), said)
	_, said, _ = command("measure", "--help")
	require.NotContains(t, said, "FLOAT")
	require.Contains(t, said, "METRES")
	_, said, _ = command("--help")
	require.NotContains(t, said, "FLOAT")
}

func TestTheTableHasALegendAndNoMinusNought(t *testing.T) {
	require.Contains(t, ownTable(t), table.Legend)
	require.Equal(t, "0 cm", table.Depth(drills.Reading{Value: -0.3, Sigma: 1}))
	require.Equal(t, "-1 cm", table.Depth(drills.Reading{Value: -0.7, Sigma: 1}))
}

func TestTheShaftHasTheColourOfItsSide(t *testing.T) {
	require.Equal(t, picture.Trace, picture.ShaftOf(drills.Inside))
	require.Equal(t, picture.Shaft, picture.ShaftOf(drills.Outside))
	require.Equal(t, picture.White, picture.ShaftOf(drills.InLine))
}

// lineUp checks the table of a demo: its columns stand under their heads, and what
// is said of the last rung is what the table has.
func lineUp(t *testing.T, out string) {
	t.Helper()
	at := -1
	for _, line := range strings.Split(out, "\n") {
		if strings.HasPrefix(line, "rung") {
			at = utf8.RuneCountInString(line[:strings.Index(line, "verdict")])
			continue
		}
		if _, ok := announced(line); ok && at > 0 {
			cells := []rune(line)
			require.Equal(t, ' ', cells[at-1], line)
			require.NotEqual(t, ' ', cells[at], line)
		}
	}
	require.Positive(t, at)
	var last, others []float64
	for _, m := range regexp.MustCompile(`(?m)^(\d)\s.*° ± ([\d.]+)°`).FindAllStringSubmatch(out, -1) {
		v, err := strconv.ParseFloat(m[2], 64)
		require.NoError(t, err)
		if m[1] == "3" {
			last = append(last, v)
		} else {
			others = append(others, v)
		}
	}
	require.NotEmpty(t, others)
	require.Contains(t, out, perform.LastRung(last, others))
}

func TestTheLastRungIsComparedAsItIsRead(t *testing.T) {
	for want, v := range map[string][2][]float64{
		"The last rung was read less surely than the others: to ± 2.0° in the middle, the others to ± 1.0°.": {{2, 3, 1}, {1, 1}},
		"The last rung was read more surely than the others: to ± 0.5° in the middle, the others to ± 1.0°.": {{0.5}, {1, 1}},
		"The last rung was read as surely as the others: to ± 1.0° in the middle, the others to ± 1.0°.":     {{1}, {1}},
		"No shaft line could be read on the last rung.":                                                      {nil, {1}},
		"Only on the last rung a shaft line could be read, to ± 1.0° in the middle.":                         {{1}, nil},
	} {
		require.Equal(t, want, perform.LastRung(v[0], v[1]))
	}
}
