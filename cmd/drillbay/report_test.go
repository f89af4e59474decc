package main

import (
	"bytes"
	"context"
	"encoding/base64"
	"html"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"drillbay/camera/clip"
	"drillbay/camera/frame"
	"drillbay/drills"
	"drillbay/drills/book"
	"drillbay/drills/clinic"
	"drillbay/drills/ledger"
)

// practice is a ledger with a set of a player who agreed that clips are kept.
func practice(t *testing.T) (l *ledger.Ledger, player string, reps []string) {
	t.Helper()
	l, err := ledger.Open(filepath.Join(t.TempDir(), ledger.FileName))
	require.NoError(t, err)
	t.Cleanup(func() { l.Close() })
	ctx := context.Background()
	player, err = l.PutPlayer(ctx, ledger.Player{Name: "<b>Ada</b>", Consent: "the player", ConsentAt: time.Now()})
	require.NoError(t, err)
	session := uuid.NewString()
	for i := range 10 {
		m := drills.NoMoments()
		m.BackStart, m.Level, m.Catch = 1, 1.5, 1.55
		r := ledger.Record{ID: uuid.NewString(), Session: session, Set: 1, Player: ledger.Player{ID: player}, Bay: "Net", Drill: "lead-arm-catch", Rung: 1, Band: 8,
			At: time.Date(2026, 3, 2, 18, i, 0, 0, time.UTC), Rep: drills.Rep{Number: i + 1, Moments: m, Verdict: drills.InLine, Manner: drills.Swung,
				ShaftLine: drills.Reading{Value: float64(i) - 3, Sigma: 1}, Elevation: drills.None(), Depth: drills.None(), Smoothness: math.NaN(),
				Tempo: math.NaN(), TempoLow: math.NaN(), TempoHigh: math.NaN()}}
		require.NoError(t, l.Save(ctx, r))
		reps = append(reps, r.ID)
	}
	return l, player, reps
}

// keep keeps a clip of a rep, grey and brighter with each picture.
func keep(t *testing.T, l *ledger.Ledger, rep string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "clip.avi")
	w, err := clip.NewWriter(path, 64, 48, 30)
	require.NoError(t, err)
	for i := range 30 {
		p := frame.New(64, 48, frame.Sub420)
		p.At = time.Duration(i) * time.Second / 30
		for k := range p.Y {
			p.Y[k] = byte(40 + 6*i)
		}
		for k := range p.Cb {
			p.Cb[k], p.Cr[k] = 128, 128
		}
		require.NoError(t, w.Add(p))
	}
	require.NoError(t, w.Close())
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	_, err = l.KeepClip(context.Background(), rep, drills.NoView, "avi", f)
	require.NoError(t, err)
}

func TestTheReportOfAPlayer(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	l, player, reps := practice(t)
	keep(t, l, reps[3]) // 0°: the best
	keep(t, l, reps[6]) // 3°
	b, err := book.Read(context.Background(), l, "")
	require.NoError(t, err)
	// Where the shaft was read at level: the report draws it over the clip.
	require.NoError(t, b.KeepLine(context.Background(), player, reps[3], book.LineMark{Hands: drills.Pixel{X: 20, Y: 20}, Head: drills.Pixel{X: 50, Y: 20}, Target: drills.Pixel{X: 20, Y: 8}, At: 16.0 / 30}))
	file := filepath.Join(t.TempDir(), "ada.html")
	status, out, problems := command("report", "<b>Ada</b>", "--ledger", l.Path(), "--out", file)
	require.Equal(t, exitDone, status, problems)
	require.Contains(t, out, "ada.html")
	page, err := os.ReadFile(file)
	require.NoError(t, err)
	text := string(page)
	pictures := regexp.MustCompile(`data:image/jpeg;base64,([^"]*)"`).FindAllStringSubmatch(html.UnescapeString(text), -1)
	require.Len(t, pictures, 2)
	light := func(i, x, y int) uint32 {
		raw, err := base64.StdEncoding.DecodeString(pictures[i][1])
		require.NoError(t, err)
		img, err := jpeg.Decode(bytes.NewReader(raw))
		require.NoError(t, err)
		r, _, _, _ := img.At(x, y).RGBA()
		return r >> 8
	}
	require.Greater(t, light(0, 30, 20), light(0, 30, 40)+40, "the shaft, on the picture of the best, about the hands")
	require.InDelta(t, 40+6*16, light(0, 30, 40), 25, "of the picture that was at level")
	require.InDelta(t, light(1, 36, 20), light(1, 36, 40), 12, "of the other nothing was kept to draw")
	require.Contains(t, text, "&lt;b&gt;Ada&lt;/b&gt;")
	require.NotContains(t, text, "<b>Ada</b>")
	require.Contains(t, text, "passed, 10 of 10")
	require.Contains(t, text, "<b>Best</b> in line, 0°, 2 March<")
	require.Contains(t, text, "<b>Typical</b> in line, 3° to the inside, 2 March; near the middle of 10 readings<", "a degree and a half from the middle, as the nearest is within half, and kept")
	require.Contains(t, text, "Rung 1 was passed on 2 March: 10 of 10 counted.")
	require.Contains(t, text, "<animate ", "the drill moves")
	require.Contains(t, text, "data:image/jpeg;base64,")
	info, err := os.Stat(file)
	require.NoError(t, err)
	require.Equal(t, os.FileMode(0o600), info.Mode().Perm())

	// Consent that was taken back ends it.
	_, err = l.PutPlayer(context.Background(), ledger.Player{ID: player, Name: "Ada"})
	require.NoError(t, err)
	status, _, problems = command("report", "Ada", "--ledger", l.Path(), "--out", file)
	require.Equal(t, exitDone, status, problems)
	page, err = os.ReadFile(file)
	require.NoError(t, err)
	require.NotContains(t, string(page), "data:image")
	require.Contains(t, string(page), "Drawn from above")

	status, _, problems = command("report", "Nobody", "--ledger", l.Path())
	require.Equal(t, exitUse, status)
	require.Contains(t, problems, "no player named")
	status, _, problems = command("report", "Ada", "--ledger", l.Path(), "--out", filepath.Join(t.TempDir(), "none", "x.html"))
	require.NotEqual(t, exitDone, status)
	require.Contains(t, problems, "cannot be written")
}

// A clinic's page has what the ledger holds of its players, and says who needs the
// coach.
func TestTheReportOfAClinic(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	l, _, _ := practice(t)
	file := filepath.Join(t.TempDir(), "clinic.html")
	status, _, problems := command("report", "--group", "--ledger", l.Path(), "--out", file)
	require.NotEqual(t, exitDone, status)
	require.Contains(t, problems, "there is no clinic")
	ctx := context.Background()
	b, err := book.Read(ctx, l, "")
	require.NoError(t, err)
	_, err = b.BeginClinic(ctx, "Bo\nCleo, left\n<i>Dan</i>", []string{"Bay 1"}, clinic.Rule{Reps: 5})
	require.NoError(t, err)
	group, ok := b.Group()
	require.True(t, ok)
	session := uuid.NewString()
	for i := range 9 {
		m := drills.NoMoments()
		m.BackStart, m.Level, m.Catch = 1, 1.5, 1.55
		r := ledger.Record{ID: uuid.NewString(), Session: session, Set: 1, Player: ledger.Player{ID: group.Players[0].ID}, Bay: "Net", Drill: "lead-arm-catch", Rung: 1, Band: 8,
			At: time.Now().Add(time.Duration(i) * time.Second), Rep: drills.Rep{Number: i + 1, Moments: m, Verdict: drills.Inside, Manner: drills.Swung,
				ShaftLine: drills.Reading{Value: 12 + float64(i), Sigma: 1}, Elevation: drills.None(), Depth: drills.None(), Smoothness: math.NaN(),
				Tempo: math.NaN(), TempoLow: math.NaN(), TempoHigh: math.NaN()}}
		require.NoError(t, l.Save(ctx, r))
	}
	status, out, problems := command("report", "--group", "--ledger", l.Path(), "--out", file)
	require.Equal(t, exitDone, status, problems)
	require.Contains(t, out, "give it to nobody else")
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	for _, want := range []string{">Bo<", ">0 of 9<", ">16° inside<", ">Cleo, left<", ">no reps<", "&lt;i&gt;Dan", "3 players, 9 reps, 0 of them", group.Players[2].ID, "One player, marked !, needs you"} {
		require.Contains(t, string(text), want)
	}
	status, _, problems = command("report", "--ledger", l.Path())
	require.Equal(t, exitUse, status)
	require.Contains(t, problems, "whose report")
	status, _, _ = command("report", "Ada", "--group", "--ledger", l.Path())
	require.Equal(t, exitUse, status)
}
