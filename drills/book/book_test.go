package book

import (
	"bytes"
	"context"
	"encoding/json"
	"html"
	"math"
	"path/filepath"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/ledger"
)

func open(t *testing.T) *ledger.Ledger {
	t.Helper()
	l, err := ledger.Open(filepath.Join(t.TempDir(), ledger.FileName))
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, l.Close()) })
	return l
}

func read(t *testing.T, l *ledger.Ledger, leaveOut string) *Book {
	t.Helper()
	b, err := Read(context.Background(), l, leaveOut)
	require.NoError(t, err)
	return b
}

// practised stores a set in which good of n reps count.
func practised(t *testing.T, b *Book, l *ledger.Ledger, p PlayerLine, drill string, day, good, n int) {
	t.Helper()
	session := uuid.NewString()
	for i := range n {
		line := 2.0
		if i >= good {
			line = 15
		}
		r := ledger.Record{ID: uuid.NewString(), Session: session, Set: 1, Player: ledger.Player{ID: p.Player.ID, Name: p.Player.Name},
			Bay: "Bay 1", Drill: drill, Rung: 1, At: time.Date(2025, 10, day, 18, 0, i, 0, time.UTC),
			Rep: drills.Rep{Number: i + 1, Moments: drills.NoMoments(), ShaftLine: drills.Reading{Value: line, Sigma: 1},
				Elevation: drills.None(), Depth: drills.None(), Smoothness: math.NaN(), Tempo: math.NaN(), TempoLow: math.NaN(), TempoHigh: math.NaN(), Manner: drills.Swung}}
		r.Rep.Verdict, r.Rep.Just = drills.Judge(r.Rep.ShaftLine, drills.Band)
		require.NoError(t, l.Save(context.Background(), r))
		b.Note(r)
	}
}

func TestAPlayerIsFoundAgainWithHandAndClub(t *testing.T) {
	l := open(t)
	b := read(t, l, "")
	require.Empty(t, b.Players())
	p, err := b.AddPlayer(" Ada ", drills.Left, 91)
	require.NoError(t, err)
	_, err = b.AddPlayer("ada", drills.Right, 94)
	require.ErrorContains(t, err, "known already")
	_, err = b.AddPlayer("Bo", drills.Right, 200)
	require.ErrorContains(t, err, "rules", "no club is 2 m long (Equipment Rules, Part 2 §1c)")
	for _, book := range []*Book{b, read(t, l, "")} {
		lines := book.Players()
		i := len(lines) - 1
		require.Equal(t, "Ada", lines[i].Player.Name)
		require.Equal(t, drills.Left, lines[i].Player.Hand)
		require.InDelta(t, 0.91, book.ClubOf(p.Player.ID), 1e-12)
	}
}

// 9 of 10 pass a rung, 8 of 10 do not: Wilson's lower bound at 95 % is 0.596
// and 0.490 (computed from Newcombe 1998), and 0.55 is asked for.
func TestARungIsPassedByNineOfTen(t *testing.T) {
	l := open(t)
	b := read(t, l, "")
	p, err := b.AddPlayer("Ada", drills.Right, 94)
	require.NoError(t, err)
	require.True(t, b.Rungs(p.Player.ID)[0].Here, "the first rung comes first")
	practised(t, b, l, p, "lead-arm-catch", 3, 8, 10)
	rungs := b.Rungs(p.Player.ID)
	require.Equal(t, "8 of 10", rungs[0].State)
	require.True(t, rungs[0].Here)
	practised(t, b, l, p, "lead-arm-catch", 5, 9, 10)
	for _, book := range []*Book{b, read(t, l, "")} {
		rungs = book.Rungs(p.Player.ID)
		require.Equal(t, "passed, 9 of 10", rungs[0].State)
		require.False(t, rungs[0].Here)
		require.True(t, rungs[1].Here)
		sheet := book.Progress(p.Player.ID)
		require.Equal(t, "Rung 2 of 8", sheet.Headline)
		require.Len(t, sheet.Sessions, 2)
		require.Equal(t, 9, sheet.Sessions[1].Counted)
		require.InDelta(t, 2, sheet.Sessions[1].Middle, 1e-9)
		require.Contains(t, book.Players()[0].Line, "9 of 10 in the last set")
		require.Contains(t, book.Players()[0].Short, "2 sessions since 3 October")
		require.NotEmpty(t, sheet.Feel)
		require.Contains(t, html.UnescapeString(page(t, book, p.Player.ID)), "Feel: "+sheet.Feel, "the report says what the screen says")
	}
}

func TestTheRowOfARungCountsWhatItsSentenceCounts(t *testing.T) {
	l := open(t)
	b := read(t, l, "")
	p, err := b.AddPlayer("Ada", drills.Right, 94)
	require.NoError(t, err)
	practised(t, b, l, p, "lead-arm-catch", 3, 8, 10)
	practised(t, b, l, p, "lead-arm-catch", 4, 2, 3) // a set that is not over
	sheet := b.Progress(p.Player.ID)
	require.Contains(t, sheet.Why, "10 of 13 in line and swung")
	require.Equal(t, "10 of 13", sheet.Rungs[0].State)
}

// The direction is named as soon as it is no accident, while the cause still waits for the
// coach's answers.
func TestTheDirectionIsNamedBeforeItsCause(t *testing.T) {
	l := open(t)
	b := read(t, l, "")
	p, err := b.AddPlayer("Ada", drills.Right, 94)
	require.NoError(t, err)
	practised(t, b, l, p, "lead-arm-catch", 3, 1, 20) // 19 of 20 are 15° inside
	sheet := b.Progress(p.Player.ID)
	require.Empty(t, sheet.Causes)
	require.True(t, sheet.Asked, "the coach is asked")
	require.Contains(t, sheet.Next[0], "Direction: 14° inside on average over 20 readings")
	require.Contains(t, sheet.Next[0], "19 of 20 not in line")
}

func TestRepsOfTheDrawnBayDoNotTellHowAPlayerStands(t *testing.T) {
	l := open(t)
	b := read(t, l, "Bay 1")
	p, err := b.AddPlayer("Ada", drills.Right, 94)
	require.NoError(t, err)
	practised(t, b, l, p, "lead-arm-catch", 3, 10, 10)
	require.Empty(t, b.Rungs(p.Player.ID)[0].State)
	require.Empty(t, b.Progress(p.Player.ID).Sessions)
}

func TestSettingsAndBaysAreRemembered(t *testing.T) {
	l := open(t)
	ctx := context.Background()
	b := read(t, l, "")
	s, err := b.Setup(ctx)
	require.NoError(t, err)
	require.Equal(t, Defaults(), s)
	s.Theme, s.ScreenInch, s.Voice = "indoors", 13.3, false
	require.NoError(t, b.KeepSetup(ctx, s))
	again, err := read(t, l, "").Setup(ctx)
	require.NoError(t, err)
	require.Equal(t, s, again)
	require.NoError(t, l.PutSetting(ctx, setupKey, `{"ScreenInch": -4, "Theme": "mauve"}`))
	again, err = b.Setup(ctx)
	require.NoError(t, err)
	require.InDelta(t, 15.6, again.ScreenInch, 1e-9)
	require.Equal(t, "daylight", again.Theme)
	require.NoError(t, l.PutSetting(ctx, setupKey, `{`))
	_, err = b.Setup(ctx)
	require.ErrorContains(t, err, "settings cannot be read")

	_, ok, err := b.Bay(ctx, "cam")
	require.NoError(t, err)
	require.False(t, ok)
	bay := bay.Bay{Name: "Net 2", Distance: 2.9, Club: 0.94, Grip: 0.09, Width: 1280, Height: 720, Target: drills.Pixel{X: 650, Y: 340}, TargetSd: 3, Set: true,
		Lines: []bay.Segment{{A: drills.Pixel{X: 1, Y: 2}, B: drills.Pixel{X: 3, Y: 4}}}}
	require.NoError(t, b.KeepBay(ctx, "cam", bay))
	bay.Distance = 3.1
	require.NoError(t, b.KeepBay(ctx, "cam", bay))
	got, ok, err := b.Bay(ctx, "cam")
	require.NoError(t, err)
	require.True(t, ok)
	require.Equal(t, bay, got)
	bays := exportedBays(t, l)
	require.Len(t, bays, 1, "kept again is still one")
	require.InDelta(t, 650, bays[0]["target_x"], 1e-9)
	require.Equal(t, ledger.DownTheLine, bays[0]["view"])
	bay.FaceOn = true
	require.NoError(t, b.KeepBay(ctx, "cam", bay))
	got, _, err = b.Bay(ctx, "cam")
	require.NoError(t, err)
	require.True(t, got.FaceOn, "which view it is, is remembered")
	require.Equal(t, ledger.FaceOn, exportedBays(t, l)[0]["view"])
	bay.Target, bay.TargetSd = drills.Pixel{X: math.NaN(), Y: math.NaN()}, math.NaN()
	require.NoError(t, b.KeepBay(ctx, "cam", bay))
	got, _, err = b.Bay(ctx, "cam")
	require.NoError(t, err)
	require.True(t, math.IsNaN(got.Target.X))
}

// exportedBays gives what another laptop would get of the ledger's bays.
func exportedBays(t *testing.T, l *ledger.Ledger) (out []map[string]any) {
	t.Helper()
	var text bytes.Buffer
	require.NoError(t, l.Export(context.Background(), &text, ""))
	for lines := json.NewDecoder(&text); lines.More(); {
		var x struct {
			Kind string
			Row  map[string]any
		}
		require.NoError(t, lines.Decode(&x))
		if x.Kind == "bay" {
			out = append(out, x.Row)
		}
	}
	return out
}

// A mixed set is evidence for each of its drills, and as a whole for the rung
// of mixed practice.
func TestAMixedSetCountsForItsDrillsAndAsAWhole(t *testing.T) {
	_, b, p, reps := adaPractised(t)
	session := uuid.NewString()
	order := b.Rungs(p.Player.ID)[7].Order
	require.Len(t, order, 10)
	drilled := map[string]int{}
	for i, d := range order {
		require.Equal(t, "mixed-practice", d.Mixed)
		require.Equal(t, 10, d.Reps)
		if i > 0 {
			require.NotEqual(t, order[i-1].ID, d.ID, "never the same twice running")
		}
		drilled[d.ID]++
		r := reps[0]
		r.ID, r.Session, r.Drill, r.Rung, r.Kind = uuid.NewString(), session, d.ID, d.Rung, drills.Mixed
		r.At, r.Rep.Number = r.At.Add(time.Duration(i+60)*time.Second), i+1
		require.NoError(t, b.ledger.Save(context.Background(), r))
		b.Note(r)
	}
	require.Equal(t, map[string]int{"lead-arm-catch": 5, "lead-arm-strike": 5}, drilled, "the rung that is passed and the one due")
	for _, b := range []*Book{b, read(t, b.ledger, "")} {
		s := b.View(p.Player.ID).Standing
		require.Equal(t, drills.Share{Good: 10, Of: 10}, s.Rungs[7].Last)
		require.True(t, s.Rungs[7].Passed)
		require.Equal(t, drills.Share{Good: 5, Of: 5}, s.Rungs[1].Last)
		require.False(t, s.Rungs[1].Passed, "five reps are too few")
		require.Contains(t, b.Players()[0].Line, "Mixed practice. 10 of 10 in the last set")
	}
}

// A set that was not finished is said to be so, and a rung without a set names the one that
// there was.
func TestASetThatWasNotFinishedIsSaidToBeSo(t *testing.T) {
	l := open(t)
	b := read(t, l, "")
	p, err := b.AddPlayer("Dan", drills.Right, 94)
	require.NoError(t, err)
	require.Equal(t, "No set of this rung yet; a set has 10 reps.", b.Progress(p.Player.ID).Why)
	practised(t, b, l, p, "both-hands-catch", 3, 1, 3)
	require.Equal(t, "Rung 3: Both hands, swing and catch. 1 of 3 in the last set, which was not finished.", b.Players()[0].Line)
	sheet := b.Progress(p.Player.ID)
	require.Equal(t, "Rung 1 of 8", sheet.Headline)
	require.Equal(t, "No set of this rung yet; a set has 10 reps. The last set was of another: Rung 3: Both hands, swing and catch.", sheet.Why)
	practised(t, b, l, p, "both-hands-catch", 4, 4, 10)
	require.Equal(t, "Rung 3: Both hands, swing and catch. 4 of 10 in the last set.", b.Players()[0].Line)
}

// What to feel fits the player's own misses where a cause is open.
func TestTheFeelFitsTheMisses(t *testing.T) {
	l := open(t)
	b := read(t, l, "")
	p, err := b.AddPlayer("Ada", drills.Right, 94)
	require.NoError(t, err)
	practised(t, b, l, p, "lead-arm-catch", 3, 10, 10)
	level := b.Progress(p.Player.ID)
	require.Equal(t, b.Rungs(p.Player.ID)[1].Feel, level.Feel, "in line: what the rung is about")
	require.Contains(t, level.Unnamed, "lean plainly to neither side")
	practised(t, b, l, p, "lead-arm-catch", 5, 0, 10)
	inside := b.Progress(p.Player.ID)
	require.Equal(t, b.View(p.Player.ID).Pattern.Possible[0].Feel, inside.Feel)
	require.NotEqual(t, level.Feel, inside.Feel)
	require.Contains(t, inside.Unnamed, "No cause is named yet. It may be: ")
	written, _, err := b.Page(context.Background(), p.Player.ID, time.Date(2026, 4, 14, 19, 0, 0, 0, time.UTC))
	require.NoError(t, err)
	require.Equal(t, []string{inside.Unnamed, "Feel: " + inside.Feel}, written.Next)
	require.Equal(t, inside.Feel, written.Feel)
}
