package book

import (
	"context"
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/drills"
	"drillbay/drills/ledger"
)

// adaPractised is a ledger and its book with one player's set in it.
func adaPractised(t *testing.T) (*ledger.Ledger, *Book, PlayerLine, []ledger.Record) {
	t.Helper()
	l := open(t)
	b := read(t, l, "")
	p, err := b.AddPlayer("Ada", drills.Right, 94)
	require.NoError(t, err)
	practised(t, b, l, p, "lead-arm-catch", 1, 9, 10)
	reps, err := l.Reps(context.Background(), ledger.Which{})
	require.NoError(t, err)
	return l, b, p, reps
}

// What the window writes is there after a restart.
func TestConsentIsNotedAndTakenBack(t *testing.T) {
	l, b, p, reps := adaPractised(t)
	keep := func() error {
		_, err := l.KeepClip(context.Background(), reps[0].ID, drills.NoView, "avi", strings.NewReader("x"))
		return err
	}
	require.ErrorIs(t, keep(), ledger.ErrConsent)
	require.NoError(t, b.Consent(p.Player.ID, GuardianAgrees))
	require.NoError(t, keep())
	require.NoError(t, keep(), "another of the same rep")
	b = read(t, l, "")
	clips := b.Clips(p.Player.ID)
	require.Len(t, clips, 2)
	assert.Equal(t, "Ada-"+reps[0].At.Local().Format("2006-01-02-15.04")+"-rep-1.avi", clips[0].File)
	assert.Equal(t, "Ada-"+reps[0].At.Local().Format("2006-01-02-15.04")+"-rep-1-2.avi", clips[1].File)
	again := read(t, l, "").Players()[0]
	assert.Equal(t, GuardianAgrees, again.Consent)
	assert.Contains(t, again.ConsentAt, "agreed: a guardian")
	require.NoError(t, b.Consent(p.Player.ID, NoConsent))
	require.ErrorIs(t, keep(), ledger.ErrConsent)
	kept, err := b.BestAndTypical(context.Background(), p.Player.ID)
	require.NoError(t, err)
	assert.NotEmpty(t, kept)
	for _, k := range kept {
		assert.Empty(t, k.File, "no picture without consent")
	}
	said, err := b.DeleteClips(context.Background(), p.Player.ID)
	require.NoError(t, err)
	assert.Equal(t, "2 clips of Ada are deleted.", said)
	assert.Empty(t, b.Clips(p.Player.ID))
	assert.Empty(t, read(t, l, "").Clips(p.Player.ID))
	files, err := os.ReadDir(l.ClipFolder())
	require.NoError(t, err)
	assert.Empty(t, files)
	require.Error(t, b.Consent("nobody", PlayerAgrees))
}

// Of two views of a rep a report shows the one that was kept first: the line that
// is drawn in was read there.
func TestAReportShowsTheViewInWhichTheLineWasRead(t *testing.T) {
	ctx := context.Background()
	l, b, p, reps := adaPractised(t)
	require.NoError(t, b.Consent(p.Player.ID, PlayerAgrees))
	first := map[string]string{}
	for _, r := range reps {
		for _, v := range []drills.View{drills.DownTheLine, drills.FaceOn} {
			c, err := l.KeepClip(ctx, r.ID, v, "avi", strings.NewReader("x"))
			require.NoError(t, err)
			if v == drills.DownTheLine {
				first[r.ID] = c.File
			}
		}
	}
	kept, err := b.BestAndTypical(ctx, p.Player.ID)
	require.NoError(t, err)
	require.NotEmpty(t, kept)
	for _, k := range kept {
		assert.Equal(t, first[k.Rep.ID], k.File)
	}
}

func TestMarksComeBackAndCount(t *testing.T) {
	l, b, p, reps := adaPractised(t)
	face := []drills.Pixel{{X: 200, Y: 300}, {X: 190, Y: 250}, {X: 100, Y: 300}, {X: 160, Y: 200}}
	for _, r := range reps {
		require.NoError(t, b.KeepMarks(p.Player.ID, r.ID, Marks{Face: face, FaceWord: "open", Lead: []drills.Pixel{{X: 50, Y: 60}}, Under: 6.5, Frame: 1.25}))
	}
	b = read(t, l, "")
	m := b.Marks(reps[0].ID)
	assert.Equal(t, Marks{Face: face, FaceWord: "open", Lead: []drills.Pixel{{X: 50, Y: 60}}, Under: 6.5, Frame: 1.25}, m)
	e := b.View(p.Player.ID).Pattern.Evidence
	assert.Equal(t, len(reps), e.Faces[drills.Open])
	assert.InDelta(t, 6.5, e.Shoulder.Value, 1e-9)

	require.NoError(t, b.KeepMarks(p.Player.ID, reps[0].ID, Marks{Under: math.NaN()}), "rubbed out")
	b = read(t, l, "")
	assert.Empty(t, b.Marks(reps[0].ID).Face)
	e = b.View(p.Player.ID).Pattern.Evidence
	assert.Equal(t, len(reps)-1, e.Faces[drills.Open])
	assert.Equal(t, len(reps)-1, e.Shoulder.N)
}

func TestAnAnswerIsKeptForTheSession(t *testing.T) {
	l := open(t)
	b := read(t, l, "")
	p, err := b.AddPlayer("Ada", drills.Right, 94)
	require.NoError(t, err)
	require.Error(t, b.Answer(p.Player.ID, "open", ""), "about no session")
	practised(t, b, l, p, "lead-arm-catch", 1, 9, 10)
	require.NoError(t, b.Answer(p.Player.ID, "open", "late"))
	require.NoError(t, b.Answer(p.Player.ID, "shut", "late"))
	s := read(t, l, "").Progress(p.Player.ID)
	assert.Equal(t, []any{"shut", "late", true}, []any{s.Face, s.Rise, s.Asked})
	marks, err := l.MarksOf(context.Background(), p.Player.ID)
	require.NoError(t, err)
	assert.Len(t, marks, 3, "what did not change is not kept again")
}

func TestADeletedPlayerIsGone(t *testing.T) {
	ctx, l := context.Background(), open(t)
	b := read(t, l, "")
	p, err := b.AddPlayer("Ada", drills.Right, 94)
	require.NoError(t, err)
	practised(t, b, l, p, "lead-arm-catch", 1, 9, 10)
	_, err = b.ClinicBegin("Ada\nBo", Turns{Reps: 5}, []string{""})
	require.NoError(t, err)
	said, err := b.Delete(ctx, p.Player.ID)
	require.NoError(t, err)
	assert.Contains(t, said, "10 reps")
	for _, b := range []*Book{b, read(t, l, "")} {
		require.Len(t, b.Players(), 1)
		assert.Equal(t, "Bo", b.Players()[0].Player.Name)
		sheet, ok := b.Clinic()
		require.True(t, ok)
		assert.Equal(t, "Bo", sheet.Up)
		assert.Equal(t, "deleted", sheet.Players[0].Name)
	}
	_, err = b.Delete(ctx, p.Player.ID)
	require.Error(t, err)
	_, err = b.AddPlayer("Ada", drills.Right, 94)
	require.ErrorContains(t, err, "bring Ada back")
	require.ErrorContains(t, b.JoinClinic(ctx, "Ada"), "bring Ada back")

	said, err = b.Undelete(ctx, p.Player.ID)
	require.NoError(t, err)
	assert.Contains(t, said, "Ada is back")
	for _, b := range []*Book{b, read(t, l, "")} {
		require.Len(t, b.Players(), 2)
		assert.Empty(t, b.Deleted())
		assert.Equal(t, "passed, 9 of 10", b.Rungs(p.Player.ID)[0].State)
		sheet, _ := b.Clinic()
		assert.Equal(t, "Ada", sheet.Players[0].Name)
	}
	_, err = b.Undelete(ctx, p.Player.ID)
	require.Error(t, err)
}

func TestASessionOfTheWindow(t *testing.T) {
	l := open(t)
	b := read(t, l, "")
	p, err := b.AddPlayer("Ada", drills.Right, 94)
	require.NoError(t, err)
	lines := b.Session(p.Player.ID, 30)
	require.NotEmpty(t, lines)
	sets := 0
	for _, x := range lines {
		assert.False(t, x.Drill.Later, "the first session is told")
		if x.Drill.ID != "" {
			sets++
			assert.Positive(t, x.Drill.Reps)
		}
		assert.NotEmpty(t, x.Line)
	}
	assert.Greater(t, sets, 1)
	assert.Empty(t, b.Session(p.Player.ID, 3), "too short to plan")
	assert.Len(t, b.Check(), 4)
}

// Standings are kept per club; a rung passed with a short iron offers the next
// longer one of the player's own list, with its reason.
func TestTheNextLongerClubIsOffered(t *testing.T) {
	l, b, p, _ := adaPractised(t) // nameless reps; the only club is meant
	id := p.Player.ID
	require.NoError(t, b.AddClub(id, "wedge", 89))
	require.NoError(t, b.AddClub(id, "9-iron", 91.5))
	require.ErrorContains(t, b.AddClub(id, "Wedge", 88), "already")
	require.ErrorContains(t, b.AddClub(id, "other", 91.4), "as long")
	require.Error(t, b.UseClub(id, "putter"))
	require.NoError(t, b.UseClub(id, "wedge"))
	require.InDelta(t, 0.89, b.ClubOf(id), 1e-9)
	require.Equal(t, "9-iron", b.ClubNamed(id, 0.915))
	require.Equal(t, "Rung 1 of 8", b.Progress(id).Headline, "nothing was passed with the wedge")
	session := uuid.NewString()
	for i := range 10 {
		r := b.reps[id][0]
		r.ID, r.Session, r.ClubLong, r.At, r.Rep.Number = uuid.NewString(), session, 0.89, r.At.AddDate(0, 0, 1).Add(time.Duration(i)*time.Minute), i+1
		r.Club = b.ClubNamed(id, r.ClubLong)
		require.NoError(t, l.Save(context.Background(), r))
		b.Note(r)
	}
	for _, b := range []*Book{b, read(t, l, "")} {
		sheet := b.Progress(id)
		require.Equal(t, "wedge", sheet.Club)
		require.Equal(t, "Rung 2 of 8", sheet.Headline)
		require.Contains(t, sheet.Next[len(sheet.Next)-1], "The next longer club of the list is 9-iron, 92 cm: it begins on rung 1.")
		clubs := b.Clubs(id)
		require.Equal(t, []bool{true, false, false}, []bool{clubs[0].Used, clubs[1].Used, clubs[2].Used})
		require.Equal(t, []bool{false, true, false}, []bool{clubs[0].Offered, clubs[1].Offered, clubs[2].Offered})
		require.Contains(t, clubs[0].Line, "rung 2 of 8")
		require.Equal(t, "no set yet", clubs[1].Line)
	}
}

// The clips of one player stand together, those of whom was filmed last first.
func TestKeptClipsAreListedByPlayer(t *testing.T) {
	ctx := context.Background()
	l, b, ada, reps := adaPractised(t)
	bo, err := b.AddPlayer("Bo", drills.Right, 94)
	require.NoError(t, err)
	practised(t, b, l, bo, "both-catch", 1, 3, 3)
	of := map[string][]ledger.Record{ada.Player.ID: reps, bo.Player.ID: b.reps[bo.Player.ID]}
	for i, p := range []PlayerLine{ada, bo, ada} {
		require.NoError(t, b.Consent(p.Player.ID, PlayerAgrees))
		c, err := l.KeepClip(ctx, of[p.Player.ID][i].ID, drills.NoView, "avi", strings.NewReader("x"))
		require.NoError(t, err)
		c.At = c.At.Add(time.Duration(i) * time.Minute)
		b.NoteClip(p.Player.ID, c)
	}
	var who []string
	for _, c := range b.Kept() {
		who = append(who, c.Who)
	}
	require.Equal(t, []string{"Ada", "Ada", "Bo"}, who)
}

func TestAKeptClipIsRenamedAndDeleted(t *testing.T) {
	ctx := context.Background()
	l, b, p, reps := adaPractised(t)
	require.NoError(t, b.Consent(p.Player.ID, PlayerAgrees))
	for _, r := range reps[:2] {
		c, err := l.KeepClip(ctx, r.ID, drills.NoView, "avi", strings.NewReader("x"))
		require.NoError(t, err)
		b.NoteClip(p.Player.ID, c)
	}
	all := b.Kept()
	require.Len(t, all, 2)
	require.Equal(t, []string{"Ada", p.Player.ID}, []string{all[0].Who, all[0].Player})
	require.Equal(t, reps[1].ID, all[0].Rep, "the newest first")
	require.Zero(t, all[0].Level)
	none := drills.Pixel{X: math.NaN(), Y: math.NaN()}
	require.NoError(t, b.KeepLine(ctx, p.Player.ID, reps[1].ID, LineMark{none, none, none, 0.6}))
	require.InDelta(t, 0.6, b.Kept()[0].Level, 1e-9, "also of a rep whose line is not known")
	require.InDelta(t, 0.6, read(t, l, "").Kept()[0].Level, 1e-9)
	said, err := b.RenameClip(ctx, p.Player.ID, all[1].ID, "the first one")
	require.NoError(t, err)
	require.Contains(t, said, "the first one.avi")
	require.Equal(t, "the first one.avi", b.Kept()[1].File)
	_, err = b.DeleteClip(ctx, p.Player.ID, all[0].ID)
	require.NoError(t, err)
	require.Equal(t, b.Kept(), read(t, l, "").Kept(), "as after a restart")
	require.Len(t, b.Kept(), 1)
	_, err = b.Delete(ctx, p.Player.ID)
	require.NoError(t, err)
	require.Empty(t, b.Kept())
}

// A player is renamed, and is the same player: also after the program was ended.
func TestAPlayerIsRenamed(t *testing.T) {
	l := open(t)
	b := read(t, l, "")
	ada, err := b.AddPlayer("Ada", drills.Right, 94)
	require.NoError(t, err)
	_, err = b.AddPlayer("Bo", drills.Right, 94)
	require.NoError(t, err)
	require.ErrorContains(t, b.Rename(ada.Player.ID, "bo"), "add an initial")
	require.NoError(t, b.Rename(ada.Player.ID, " Ada  K "))
	name := func(b *Book) string {
		for _, p := range b.Players() {
			if p.Player.ID == ada.Player.ID {
				return p.Player.Name
			}
		}
		return ""
	}
	require.Equal(t, "Ada K", name(b))
	require.Equal(t, "Ada K", name(read(t, l, "")))
	require.NoError(t, b.Rename(ada.Player.ID, "ADA K"), "the same in capitals")
	require.Error(t, b.Rename("nobody", "Cy"))
}

// The typical rep is of the manner that most have, and nearest the middle of all that were read.
func TestTheTypicalRepIsLikeMost(t *testing.T) {
	ctx := context.Background()
	l := open(t)
	b := read(t, l, "")
	p, err := b.AddPlayer("Ada", drills.Right, 94)
	require.NoError(t, err)
	practised(t, b, l, p, "lead-arm-catch", 1, 0, 7) // all inside, 15°, swung
	reps, err := l.Reps(ctx, ledger.Which{})
	require.NoError(t, err)
	for i, line := range []float64{14, 2, 2, 1, 1, 30, 31} {
		r := reps[i]
		r.Rep.ShaftLine.Value = line
		r.Rep.Verdict, r.Rep.Just = drills.Judge(r.Rep.ShaftLine, drills.Band)
		if i != 0 && i != 1 && i != 5 && i != 6 {
			r.Rep.Manner = drills.Placed
		}
		require.NoError(t, l.Save(ctx, r))
	}
	b = read(t, l, "")
	kept, err := b.BestAndTypical(ctx, p.Player.ID)
	require.NoError(t, err)
	require.Len(t, kept, 2)
	assert.Equal(t, "Best", kept[0].Word)
	assert.InDelta(t, 2, kept[0].Rep.Rep.ShaftLine.Value, 1e-9)
	assert.InDelta(t, 14, kept[1].Rep.Rep.ShaftLine.Value, 1e-9, "most are swung; 2° is the middle, and the one there that was swung is the best")
	assert.Equal(t, 7, kept[1].Of)
}
