package ledger

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"drillbay/drills"

	"github.com/stretchr/testify/require"
)

func exported(t *testing.T, l *Ledger, player string) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, l.Export(context.Background(), &b, player))
	return b.String()
}

func imported(t *testing.T, l *Ledger, text string) Imported {
	t.Helper()
	done, err := l.Import(context.Background(), strings.NewReader(text))
	require.NoError(t, err)
	require.NoError(t, l.Check(context.Background()))
	return done
}

// full is a ledger with a row of every kind.
func full(t *testing.T, players ...string) *Ledger {
	t.Helper()
	l := fresh(t)
	ctx := context.Background()
	for _, name := range players {
		_, err := l.PutPlayer(ctx, Player{ID: id(name), Name: name, Consent: "the player", ConsentAt: morning, Created: morning})
		require.NoError(t, err)
		_, err = l.PutClub(ctx, Club{ID: id(name, "club"), Player: id(name), Name: "7-iron", Length: 0.94})
		require.NoError(t, err)
		for n := 1; n <= 3; n++ {
			r := record(name, n)
			if n == 2 {
				r.Coach, r.Note = "inside", "a remark on "+name
			}
			save(t, l, r)
		}
		_, err = l.PutMark(ctx, Mark{ID: id(name, "mark"), Rep: record(name, 1).ID, Kind: ShoulderMark, Value: "words about " + name, Points: NoPoints(), At: morning})
		require.NoError(t, err)
		putNote(t, l, id(name, "note"), id(name), "", "homework of "+name)
		_, err = l.KeepClip(ctx, record(name, 1).ID, drills.NoView, "avi", strings.NewReader("pictures of "+name))
		require.NoError(t, err)
	}
	_, err := l.PutBay(ctx, Bay{ID: id("bay"), Name: "Range, bay 4", Distance: 3.2, Made: morning})
	require.NoError(t, err)
	return l
}

func TestAnExportMakesTheSameLedger(t *testing.T) {
	l := full(t, "Marta", "Ben")
	text := exported(t, l, "")
	twin := fresh(t)
	done := imported(t, twin, text)
	require.Equal(t, done.Rows, done.New)
	require.Equal(t, text, exported(t, twin, ""))
	again := imported(t, twin, text)
	require.Zero(t, again.New+again.Changed)
	require.Empty(t, again.Conflicts)
	require.Equal(t, text, exported(t, twin, ""))
	alike(t, reps(t, l, Which{}), reps(t, twin, Which{}))
	clips, err := twin.Clips(context.Background(), id("Ben"))
	require.NoError(t, err)
	require.True(t, clips[0].Missing, "listed, but its file stayed behind")
}

func TestOnePlayersExport(t *testing.T) {
	l := full(t, "Marta", "Ben")
	text := exported(t, l, id("Marta"))
	require.NotContains(t, text, "Ben")
	twin := fresh(t)
	imported(t, twin, text)
	alike(t, reps(t, l, Which{Player: id("Marta")}), reps(t, twin, Which{}))
	require.ErrorIs(t, l.Export(context.Background(), &bytes.Buffer{}, id("nobody")), ErrUnknown)
}

func TestTwoLaptopsInAnyOrder(t *testing.T) {
	ctx := context.Background()
	base := full(t, "Marta")
	start := exported(t, base, "")
	// Each laptop goes on by itself: own reps, and both touch rep 1.
	laptop := func(coach string, n int) string {
		l := fresh(t)
		l.now = func() time.Time { return morning.Add(time.Duration(n) * time.Hour) }
		imported(t, l, start)
		r := record("Marta", 1)
		r.Note = coach + " wrote this"
		save(t, l, r)
		r.Taken = n > 10
		save(t, l, r, record("Marta", n))
		return exported(t, l, "")
	}
	a, b := laptop("first coach", 4), laptop("second coach", 14)
	var results []string
	for _, order := range [][]string{{a, b}, {b, a}, {start, a, b, a}, {b, b, start, a}} {
		l := fresh(t)
		for _, text := range order {
			imported(t, l, text)
		}
		results = append(results, exported(t, l, ""))
		require.Len(t, reps(t, l, Which{}), 5)
		conflicts, err := l.Conflicts(ctx)
		require.NoError(t, err)
		require.Len(t, conflicts, 1, "the two remarks; taking the rep back is the one side's alone")
		require.Equal(t, "note", conflicts[0].Kind)
		require.Equal(t, []string{"text"}, conflicts[0].Differs)
		later := max(conflicts[0].Shown["text"].(string), conflicts[0].Beside[0]["text"].(string))
		require.Equal(t, later, conflicts[0].Shown["text"], "the one changed last is shown")
		both := conflicts[0].Shown["text"].(string) + conflicts[0].Beside[0]["text"].(string)
		require.Contains(t, both, "first coach wrote this")
		require.Contains(t, both, "second coach wrote this")
	}
	for _, r := range results {
		require.Equal(t, results[0], r)
	}
}

func TestAConflictIsToldOnceAndSettled(t *testing.T) {
	ctx := context.Background()
	here := full(t, "Marta")
	there := fresh(t)
	imported(t, there, exported(t, here, ""))
	rename := func(l *Ledger, name string) {
		_, err := l.PutPlayer(ctx, Player{ID: id("Marta"), Name: name, Created: morning})
		require.NoError(t, err)
	}
	rename(here, "Marta K")
	done := imported(t, there, exported(t, here, ""))
	require.Empty(t, done.Conflicts, "one side went on")
	require.Equal(t, 1, done.Changed)
	rename(here, "Marta King")
	rename(there, "Marta Klein")
	text := exported(t, there, "")
	done = imported(t, here, text)
	require.Len(t, done.Conflicts, 1)
	require.Contains(t, done.String(), "1 was changed on both sides: both are kept")
	require.Equal(t, "player "+id("Marta")+": name changed on both sides", done.Conflicts[0].String())
	require.Empty(t, imported(t, here, text).Conflicts)
	require.NoError(t, here.Settle(ctx, "player", id("Marta"), 1))
	require.ErrorIs(t, here.Settle(ctx, "player", id("Marta"), 1), ErrUnknown)
	conflicts, err := here.Conflicts(ctx)
	require.NoError(t, err)
	require.Empty(t, conflicts)
	imported(t, there, exported(t, here, ""))
	require.Equal(t, exported(t, here, ""), exported(t, there, ""), "settled there too")
	imported(t, here, text)
	require.Equal(t, exported(t, here, ""), exported(t, there, ""), "the old export changes nothing")
}

func TestABadImportChangesNothing(t *testing.T) {
	l := full(t, "Marta")
	before := exported(t, l, "")
	good := strings.Split(strings.TrimSpace(exported(t, full(t, "Ben"), "")), "\n")
	find := func(kind string) string {
		for _, s := range good {
			if strings.HasPrefix(s, `{"kind":"`+kind+`"`) {
				return s
			}
		}
		t.Fatal(kind)
		return ""
	}
	head, player, club, set, rep, clip := good[0], find("player"), find("club"), find("set"), find("rep"), find("clip")
	for name, c := range map[string]struct{ text, want string }{
		"no JSON":         {head + "\nhello", "line 2 of the file"},
		"newer":           {`{"kind":"drillbay ledger","schema":99}`, "newer drillbay"},
		"unknown kind":    {`{"kind":"swing"}`, `"swing" is no kind of row`},
		"unknown value":   {strings.Replace(player, `"row":{`, `"row":{"shoe":1,`, 1), `there is no "shoe"`},
		"missing value":   {strings.Replace(player, `,"name":"Ben"`, "", 1), `"name" is missing`},
		"wrong type":      {strings.Replace(player, `"name":"Ben"`, `"name":5`, 1), `"name" cannot be 5`},
		"hand":            {strings.Replace(player, `"hand":"right"`, `"hand":"both"`, 1), `"both" is not one of`},
		"club":            {player + "\n" + strings.Replace(club, `0.94`, `1.94`, 1), "line 2 of the file: club: a club of 1.94 m is outside the rules"},
		"set of nothing":  {set, "the session of this set is not in the ledger"},
		"huge number":     {strings.Replace(rep, `"line":1.2`, `"line":1e999`, 1), "line 1"},
		"verdict":         {strings.Replace(rep, `"verdict":"in line"`, `"verdict":"fine"`, 1), `verdict "fine"`},
		"path of a clip":  {strings.Replace(clip, `"file":"`, `"file":"../../`, 1), "is not the name of a kept clip"},
		"id":              {strings.Replace(player, id("Ben"), "1; DROP TABLE players", 1), "is not an id"},
		"version":         {strings.Replace(player, `"version":"`, `"version":"x`, 1), "is not the name of a version"},
		"time":            {strings.Replace(player, `"created":"2026`, `"created":"yesterday`, 1), "is not a time"},
		"very long line":  {strings.Repeat("x", 4<<20+1), "too long"},
		"array":           {"[]", "not a line of an export"},
		"no row":          {`{"kind":"player","id":"` + id("x") + `"}`, "player"},
		"two on a line":   {player + " " + club, "line 1 of the file: there is more on it than one row"},
		"rest of a line":  {head + "garbage{", "more on it than one row"},
		"no such tables":  {`{"kind":"drillbay ledger","schema":-9}`, "no tables of version -9"},
		"tables of none":  {`{"kind":"drillbay ledger","schema":0}`, "no tables of version 0"},
		"no name":         {strings.Replace(player, `"name":"Ben"`, `"name":" "`, 1), "a player needs a name"},
		"line round":      {strings.Replace(rep, `"line":1.2`, `"line":1e8`, 1), `"line": 1e+08 cannot be`},
		"negative sigma":  {strings.Replace(rep, `"line_sigma":`, `"line_sigma":-`, 1), `"line_sigma": -`},
		"negative number": {strings.Replace(rep, `"number":`, `"number":-`, 1), `"number": -`},
		"year 9999":       {strings.Replace(player, `"created":"2026`, `"created":"9999`, 1), "is not a time"},
		"empty":           {" \n", "the file is empty"},
		"works a screen":  {strings.Replace(player, `"name":"Ben"`, `"name":"\u001b[2J"`, 1), `"name": it holds a character that does not show (U+001B)`},
		"turned round":    {strings.Replace(player, `"name":"Ben"`, `"name":"\u202eneB"`, 1), "does not show (U+202E)"},
		"two lines":       {strings.Replace(player, `"name":"Ben"`, `"name":"Ben\nMarta"`, 1), "does not show (U+000A)"},
		"a book":          {strings.Replace(player, `"name":"Ben"`, `"name":"`+strings.Repeat("x", longestText+1)+`"`, 1), "too many for a text"},
		"null everywhere": {`{"kind":null,"row":null}`, "no kind"},
	} {
		_, err := l.Import(context.Background(), strings.NewReader(c.text))
		require.ErrorContains(t, err, "nothing is imported", name)
		require.ErrorContains(t, err, c.want, name)
	}
	require.Equal(t, before, exported(t, l, ""))
	done := imported(t, l, "\ufeff"+strings.Join(good, "\r\n")+"\n\n")
	require.NotZero(t, done.New, "a byte order mark and empty lines do no harm")
}

func TestAChangeByHandIsAChange(t *testing.T) {
	l := full(t, "Marta")
	text := strings.ReplaceAll(exported(t, l, ""), `"hand":"right"`, `"hand":"left"`)
	done := imported(t, l, text)
	require.Equal(t, 1, done.Changed)
	require.Empty(t, done.Conflicts)
	require.Zero(t, imported(t, l, text).Changed)
}

func TestDeletingAPlayerLeavesNothing(t *testing.T) {
	ctx := context.Background()
	l := full(t, "Marta", "Ben")
	twin := fresh(t)
	imported(t, twin, exported(t, l, ""))
	putNote(t, twin, id("Marta", "note"), id("Marta"), "", "other homework of Marta")
	putNote(t, l, id("Marta", "note"), id("Marta"), "", "more homework of Marta")
	both := exported(t, twin, "")
	require.Len(t, imported(t, l, both).Conflicts, 1)
	require.NoError(t, l.putAside(ctx, 1), "an older copy")
	require.NotEmpty(t, places(t, l, "Marta"))

	gone, err := l.DeletePlayer(ctx, id("Marta"))
	require.NoError(t, err)
	require.Equal(t, "Marta is deleted: 1 session, 1 set, 3 reps, 1 club, 1 mark, 1 verdict of the coach, 2 notes, 1 clip, 1 older copy of the whole ledger.", gone.String())
	for _, trace := range []string{"Marta", id("Marta"), record("Marta", 1).ID, "homework of Marta"} {
		require.Empty(t, places(t, l, trace), trace)
	}
	require.NotEmpty(t, places(t, l, "Ben"))
	require.NoError(t, l.Check(ctx))
	require.Len(t, reps(t, l, Which{}), 3)

	_, err = l.DeletePlayer(ctx, id("Marta"))
	require.ErrorIs(t, err, ErrUnknown)
	done := imported(t, l, both)
	require.Positive(t, done.Forgotten)
	require.Contains(t, done.String(), "of players who were deleted here")
	require.Empty(t, places(t, l, "Marta"), "an import does not bring the player back")
	gone, err = l.DeletePlayer(ctx, id("Ben"))
	require.NoError(t, err)
	require.Equal(t, 1, gone.Clips)
}

// places are the files in the ledger's folder that contain some text.
func places(t *testing.T, l *Ledger, text string) (found []string) {
	t.Helper()
	require.NoError(t, filepath.WalkDir(filepath.Dir(l.Path()), func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		b, err := os.ReadFile(path)
		if bytes.Contains(b, []byte(text)) || strings.Contains(path, text) {
			found = append(found, path)
		}
		return err
	}))
	return found
}

func TestNoClipWithoutConsent(t *testing.T) {
	l := fresh(t)
	ctx := context.Background()
	r := record("Marta", 1)
	save(t, l, r)
	keep := func() error {
		_, err := l.KeepClip(ctx, r.ID, drills.NoView, "avi", strings.NewReader("pictures"))
		return err
	}
	require.ErrorIs(t, keep(), ErrConsent)
	_, err := l.PutPlayer(ctx, Player{ID: id("Marta"), Name: "Marta", Minor: true, Created: morning})
	require.NoError(t, err)
	require.ErrorContains(t, keep(), "a guardian's consent")
	_, err = l.PutPlayer(ctx, Player{ID: id("Marta"), Name: "Marta", Minor: true, Consent: ByPlayer, ConsentAt: morning, Created: morning})
	require.NoError(t, err)
	require.ErrorContains(t, keep(), "a guardian's consent", "a minor cannot agree alone")
	_, err = os.Stat(l.ClipFolder())
	require.ErrorIs(t, err, os.ErrNotExist)
	_, err = l.PutPlayer(ctx, Player{ID: id("Marta"), Name: "Marta", Minor: true, Consent: "a guardian", ConsentAt: morning, Created: morning})
	require.NoError(t, err)
	require.NoError(t, keep())
	clips, err := l.Clips(ctx, id("Marta"))
	require.NoError(t, err)
	require.Equal(t, int64(len("pictures")), clips[0].Bytes)
	require.False(t, clips[0].Missing)
	_, err = l.KeepClip(ctx, r.ID, drills.NoView, "../avi", strings.NewReader(""))
	require.Error(t, err)
	_, err = l.KeepClip(ctx, id("unknown"), drills.NoView, "avi", strings.NewReader(""))
	require.ErrorIs(t, err, ErrUnknown)
}

// An export of any tables that there were is taken, from the first on.
func TestAnExportOfTheFirstTablesIsTaken(t *testing.T) {
	l := fresh(t)
	for version := 1; version <= Schema; version++ {
		_, err := l.Import(context.Background(), strings.NewReader(fmt.Sprintf(`{"kind":"drillbay ledger","schema":%d}`, version)))
		require.NoError(t, err, "version %d", version)
	}
}

// Cells a spreadsheet takes for formulas: OWASP, "CSV Injection".
func TestTheTableForASpreadsheet(t *testing.T) {
	r := record("=HYPERLINK(1)", 1)
	r.Rep.ShaftLine.Value = -5.5
	r.Note, r.Coach = "@home, \"softer\"\nand wider", ""
	var b bytes.Buffer
	require.NoError(t, WriteCSV(&b, []Record{r}))
	rows, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	cell := map[string]string{}
	for i, name := range rows[0] {
		cell[name] = rows[1][i]
	}
	require.Equal(t, "'=HYPERLINK(1)", cell["player"])
	require.Equal(t, "'@home, \"softer\"\nand wider", cell["note"])
	require.Equal(t, "-5.5", cell["shaft_line_deg"], "a number stays one")
	require.Equal(t, "", cell["depth_cm"])
	require.Equal(t, "2026-03-01T10:00:15.000Z", cell["time"])
	require.Equal(t, "true", cell["counts"])
	for _, start := range []string{"=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠"} {
		require.Equal(t, "'"+start+"1", safe(start+"1"))
	}
	require.Equal(t, "Marta-Lou", safe("Marta-Lou"))
}

// A clip that was half written when the program was killed goes with its player,
// or else after an hour.
func TestAHalfClipIsNotLeft(t *testing.T) {
	l := full(t, "Marta", "Ben")
	ctx := context.Background()
	halves := func() (names []string) {
		entries, err := os.ReadDir(l.ClipFolder())
		require.NoError(t, err)
		for _, e := range entries {
			if strings.HasSuffix(e.Name(), part) {
				names = append(names, e.Name())
			}
		}
		return names
	}
	for _, name := range []string{"Marta", "Ben"} {
		var killed watched = func() { // as a kill at this moment leaves it
			for _, early := range halves() {
				if path := filepath.Join(l.ClipFolder(), early); !strings.HasSuffix(early, "-"+part) {
					require.NoError(t, os.Rename(path, strings.TrimSuffix(path, part)+"-"+part))
				}
			}
		}
		_, err := l.KeepClip(ctx, record(name, 1).ID, drills.NoView, "avi", io.MultiReader(strings.NewReader("half"), killed))
		require.Error(t, err)
	}
	require.Len(t, halves(), 2)
	_, err := l.DeletePlayer(ctx, id("Marta"))
	require.NoError(t, err)
	left := halves()
	require.Len(t, left, 1)
	require.True(t, strings.HasPrefix(left[0], record("Ben", 1).ID), "another's stays: it may be written now")
	l.sweep()
	require.Len(t, halves(), 1)
	l.now = func() time.Time { return time.Now().Add(2 * time.Hour) }
	l.sweep()
	require.Empty(t, halves())
}

// watched is an empty reader that does something when it is read.
type watched func()

func (w watched) Read([]byte) (int, error) {
	w()
	return 0, io.EOF
}
