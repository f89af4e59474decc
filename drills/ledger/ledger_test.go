package ledger

import (
	"bufio"
	"context"
	"database/sql"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/drills"
)

func TestARepComesBackAsItWas(t *testing.T) {
	l := fresh(t)
	r := record("Marta", 1)
	r.Coach, r.Note, r.Kept = "outside", "face shut", true
	save(t, l, r)
	got := reps(t, l, Which{Player: id("Marta")})
	require.Len(t, got, 1)
	alike(t, r, got[0])
	var depth, tempo any
	require.NoError(t, l.read.QueryRow("SELECT depth, tempo FROM reps").Scan(&depth, &tempo))
	require.Nil(t, depth, "not measured is NULL")
	require.Nil(t, tempo)
}

func TestARepSavedTwiceIsOneRep(t *testing.T) {
	l := fresh(t)
	r := record("Marta", 1)
	save(t, l, r, r)
	r.Taken, r.Coach = true, "inside"
	save(t, l, r)
	r.Coach = ""
	save(t, l, r)
	got := reps(t, l, Which{})
	require.Len(t, got, 1)
	alike(t, r, got[0])
	require.False(t, got[0].Counts(), "taken back")
}

func TestRepsAreChosen(t *testing.T) {
	l := fresh(t)
	late := record("Marta", 3)
	late.Session, late.Kind, late.Set = id("later"), Retention, 1
	other := record("Ben", 1)
	nobody := record("nobody", 1)
	nobody.Player = Player{}
	save(t, l, record("Marta", 2), record("Marta", 1), late, other, nobody)
	require.Len(t, reps(t, l, Which{}), 5)
	mine := reps(t, l, Which{Player: id("Marta")})
	require.Equal(t, []int{1, 2, 3}, []int{mine[0].Rep.Number, mine[1].Rep.Number, mine[2].Rep.Number}, "oldest first")
	require.Len(t, reps(t, l, Which{Player: id("Marta"), Kind: Retention}), 1)
	require.Len(t, reps(t, l, Which{Session: id("Ben", "session")}), 1)
	require.Empty(t, reps(t, l, Which{Drill: "lead-catch"}))
}

// R&A and USGA, Equipment Rules, Part 2 §1c: 18 to 48 inches.
func TestClubLengths(t *testing.T) {
	l := fresh(t)
	ctx := context.Background()
	who, err := l.PutPlayer(ctx, Player{Name: "Marta"})
	require.NoError(t, err)
	for length, fits := range map[float64]bool{0.4571: false, 0.4572: true, 0.94: true, 1.2192: true, 1.2193: false} {
		_, err := l.PutClub(ctx, Club{Player: who, Name: "club", Length: length})
		require.Equal(t, fits, err == nil, "%v m", length)
		if err != nil {
			require.ErrorContains(t, err, "0.4572 m to 1.2192 m")
		}
	}
	clubs, err := l.Clubs(ctx, who)
	require.NoError(t, err)
	require.Len(t, clubs, 3)
	_, err = l.PutClub(ctx, Club{Player: id("unknown"), Name: "club", Length: 1})
	require.ErrorIs(t, err, ErrUnknown)
}

func TestPlayersBaysMarksNotesAndSettings(t *testing.T) {
	l := fresh(t)
	ctx := context.Background()
	p := Player{ID: id("Marta"), Name: "Marta", Hand: drills.Left, Stature: 1.7, Minor: true, Consent: "a guardian", ConsentAt: morning, Created: morning}
	_, err := l.PutPlayer(ctx, p)
	require.NoError(t, err)
	_, err = l.PutPlayer(ctx, Player{Name: "  "})
	require.ErrorContains(t, err, "name or initials")
	players, err := l.Players(ctx)
	require.NoError(t, err)
	alike(t, []Player{p}, players)

	b := Bay{ID: id("bay"), Name: "Range, bay 4", Camera: "webcam", Distance: 3.2, Focal: math.NaN(), FOV: 70, Width: 1280, Height: 720,
		TargetX: 640.5, TargetY: 351, TargetSigma: 2, Roll: -0.5, Flipped: true, Made: morning}
	_, err = l.PutBay(ctx, b)
	require.NoError(t, err)
	alike(t, []Bay{b}, bays(t, l))

	r := record("Marta", 1)
	save(t, l, r)
	m := Mark{ID: id("mark"), Rep: r.ID, Kind: FaceMark, Value: "open", Frame: 1.93, Points: NoPoints(), At: morning}
	m.Points[0], m.Points[1] = [2]float64{600, 300}, [2]float64{610, 330}
	_, err = l.PutMark(ctx, m)
	require.NoError(t, err)
	marks, err := l.Marks(ctx, r.ID)
	require.NoError(t, err)
	alike(t, []Mark{m}, marks)
	marks, err = l.MarksOf(ctx, p.ID)
	require.NoError(t, err)
	alike(t, []Mark{m}, marks)
	_, err = l.PutMark(ctx, Mark{Rep: r.ID, Kind: "smile", Points: NoPoints()})
	require.Error(t, err)

	putNote(t, l, id("note"), p.ID, "", "grip softer")
	require.Contains(t, exported(t, l, p.ID), `"grip softer"`)

	v, err := l.Setting(ctx, "voice")
	require.NoError(t, err)
	require.Empty(t, v)
	require.NoError(t, l.PutSetting(ctx, "voice", "on"))
	require.NoError(t, l.PutSetting(ctx, "voice", "off"))
	v, err = l.Setting(ctx, "voice")
	require.NoError(t, err)
	require.Equal(t, "off", v)
}

func TestWhatIsSavedIsStillThereTomorrow(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a ledger? 100% #1", FileName)
	l, err := Open(path)
	require.NoError(t, err)
	save(t, l, record("Marta", 1))
	require.NoError(t, l.Close())
	require.NoError(t, l.Close(), "closed already")
	require.ErrorIs(t, l.Save(context.Background(), record("Marta", 2)), ErrClosed)
	l = opened(t, path)
	require.Len(t, reps(t, l, Which{}), 1)
	require.NoError(t, l.Check(context.Background()))
}

// TestHelperWrites is no test: it is the process that the next one kills.
func TestHelperWrites(t *testing.T) {
	path := os.Getenv("DRILLBAY_TEST_LEDGER")
	if path == "" {
		t.Skip("a helper of TestWhatWasAnnouncedSurvivesAKill")
	}
	l, err := Open(path)
	require.NoError(t, err)
	for n := 1; ; n++ {
		save(t, l, record("Marta", n))
		fmt.Printf("announced %d\n", n)
	}
}

func TestWhatWasAnnouncedSurvivesAKill(t *testing.T) {
	path := filepath.Join(t.TempDir(), FileName)
	helper := exec.Command(os.Args[0], "-test.run=^TestHelperWrites$")
	helper.Env = append(os.Environ(), "DRILLBAY_TEST_LEDGER="+path)
	out, err := helper.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, helper.Start())
	announced := 0
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		if _, err := fmt.Sscanf(lines.Text(), "announced %d", &announced); err == nil && announced == 25 {
			require.NoError(t, helper.Process.Kill())
		}
	}
	require.Error(t, helper.Wait(), "it was killed")
	require.GreaterOrEqual(t, announced, 25)
	l := opened(t, path)
	require.NoError(t, l.Check(context.Background()))
	got := reps(t, l, Which{})
	require.GreaterOrEqual(t, len(got), announced)
	require.LessOrEqual(t, len(got), announced+1, "at most the one that was being announced")
}

// A power cut loses nothing announced either: SQLite's documentation asks for
// WAL with synchronous FULL (2) for that.
func TestTheFileIsWrittenThrough(t *testing.T) {
	l := fresh(t)
	for pragma, want := range map[string]string{"journal_mode": "wal", "synchronous": "2", "secure_delete": "1", "foreign_keys": "1"} {
		var have string
		require.NoError(t, l.write.QueryRow("PRAGMA "+pragma).Scan(&have))
		require.Equal(t, want, have, pragma)
	}
}

func TestManyWritersAtOnce(t *testing.T) {
	l := fresh(t)
	errs := make(chan error)
	for n := range 40 {
		go func() { errs <- l.Save(context.Background(), record("Marta", n)) }()
	}
	for range 40 {
		require.NoError(t, <-errs)
	}
	require.Len(t, reps(t, l, Which{}), 40)
}

func TestOnlyTheOwnerMayRead(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("file modes are not kept by this system")
	}
	l := fresh(t)
	ctx := context.Background()
	r := record("Marta", 1)
	r.Player.Consent = "the player"
	save(t, l, r)
	c, err := l.KeepClip(ctx, r.ID, drills.NoView, "avi", strings.NewReader("pictures"))
	require.NoError(t, err)
	mode := func(path string) os.FileMode {
		info, err := os.Stat(path)
		require.NoError(t, err)
		return info.Mode().Perm()
	}
	for _, file := range []string{l.Path(), l.Path() + "-wal", l.Path() + "-shm", filepath.Join(l.ClipFolder(), c.File)} {
		require.Equal(t, os.FileMode(0o600), mode(file), file)
	}
	for _, folder := range []string{filepath.Dir(l.Path()), l.ClipFolder()} {
		require.Equal(t, os.FileMode(0o700), mode(folder), folder)
	}
}

func TestEveryOlderVersionOpens(t *testing.T) {
	for version := 1; version < Schema; version++ {
		t.Run(fmt.Sprint(version), func(t *testing.T) {
			path := filepath.Join(t.TempDir(), FileName)
			text, err := os.ReadFile(fmt.Sprintf("testdata/version-%d.sql", version))
			require.NoError(t, err)
			db, err := sql.Open("sqlite", path)
			require.NoError(t, err)
			_, err = db.Exec(string(text))
			require.NoError(t, err)
			require.NoError(t, db.Close())
			l := opened(t, path)
			ctx := context.Background()
			require.NoError(t, l.Check(ctx))
			got := reps(t, l, Which{})
			require.Len(t, got, 1)
			require.Equal(t, "Marta", got[0].Player.Name)
			require.Equal(t, drills.Reading{Value: 11.5, Sigma: 0.9}, got[0].Rep.ShaftLine)
			require.False(t, got[0].Rep.Height.Known(), "not measured then")
			require.Equal(t, drills.Body{}, got[0].Rep.Body, "nor the body")
			require.False(t, got[0].Rep.Views.Two(), "there was one camera")
			if version >= 2 {
				marks, err := l.Marks(ctx, got[0].ID)
				require.NoError(t, err)
				require.Len(t, marks, 1)
				require.Equal(t, "open", marks[0].Value)
				require.Equal(t, "elbow", got[0].Note)
				players, err := l.Players(ctx)
				require.NoError(t, err)
				require.Equal(t, "a guardian", players[0].Consent)
				require.True(t, players[0].Minor)
			}
			// What it holds now is what a new ledger makes of its export.
			other := fresh(t)
			imported(t, other, exported(t, l, ""))
			require.Equal(t, exported(t, l, ""), exported(t, other, ""))
			putNote(t, l, "", "", got[0].ID, "on the new tables")

			copies, err := l.copies()
			require.NoError(t, err)
			require.Len(t, copies, 1, "a copy was put aside")
			info, err := os.Stat(copies[0])
			require.NoError(t, err)
			require.Equal(t, os.FileMode(0o600), info.Mode().Perm())
			aside, err := sql.Open("sqlite", copies[0])
			require.NoError(t, err)
			defer aside.Close()
			var have, count int
			require.NoError(t, aside.QueryRow("PRAGMA user_version").Scan(&have))
			require.NoError(t, aside.QueryRow("SELECT count(*) FROM reps").Scan(&count))
			require.Equal(t, version, have)
			require.Equal(t, 1, count)
		})
	}
}

func TestFaultsAreTold(t *testing.T) {
	ctx := context.Background()
	other := func(t *testing.T, path string, statements ...string) *sql.DB {
		t.Helper()
		db, err := sql.Open("sqlite", path)
		require.NoError(t, err)
		db.SetMaxOpenConns(1)
		t.Cleanup(func() { db.Close() })
		for _, s := range statements {
			_, err := db.Exec(s)
			require.NoError(t, err)
		}
		return db
	}
	brief := settings{busy: time.Millisecond, now: time.Now}
	t.Run("held by another program", func(t *testing.T) {
		l := fresh(t)
		db := other(t, l.Path(), "BEGIN EXCLUSIVE")
		err := l.Save(ctx, record("Marta", 1))
		require.ErrorIs(t, err, ErrInUse)
		require.ErrorContains(t, err, "close the other drillbay")
		_, err = db.Exec("ROLLBACK")
		require.NoError(t, err)
		save(t, l, record("Marta", 1))
	})
	t.Run("disk full", func(t *testing.T) {
		l := fresh(t)
		_, err := l.write.Exec("PRAGMA max_page_count = 1") // as small as the file is now
		require.NoError(t, err)
		for n := 1; err == nil; n++ {
			require.Less(t, n, 1000)
			err = l.Save(ctx, record("Marta", n))
		}
		require.ErrorIs(t, err, ErrFull)
		require.ErrorContains(t, err, "make room")
		_, err = l.write.Exec("PRAGMA max_page_count = 100000")
		require.NoError(t, err)
		save(t, l, record("Ben", 1))
		require.NoError(t, l.Check(ctx))
	})
	t.Run("read-only", func(t *testing.T) {
		l := fresh(t)
		_, err := l.write.Exec("PRAGMA query_only = 1")
		require.NoError(t, err)
		require.ErrorIs(t, l.Save(ctx, record("Marta", 1)), ErrReadOnly)
	})
	t.Run("newer", func(t *testing.T) {
		path := filepath.Join(t.TempDir(), FileName)
		other(t, path, "PRAGMA user_version = 99", "CREATE TABLE players (x)", "CREATE TABLE reps (y)").Close()
		_, err := open(path, brief)
		require.ErrorIs(t, err, ErrNewer)
		require.ErrorContains(t, err, "start the newer drillbay")
	})
	t.Run("not a ledger", func(t *testing.T) {
		path := filepath.Join(t.TempDir(), FileName)
		require.NoError(t, os.WriteFile(path, []byte(strings.Repeat("no ledger at all ", 100)), 0o600))
		_, err := open(path, brief)
		require.ErrorIs(t, err, ErrDamaged)
	})
	t.Run("another program's", func(t *testing.T) {
		path := filepath.Join(t.TempDir(), FileName)
		other(t, path, "CREATE TABLE x (y)").Close()
		_, err := open(path, brief)
		require.ErrorIs(t, err, ErrDamaged)
		for v := 1; v <= Schema; v++ { // its tables may have a number too
			path = filepath.Join(t.TempDir(), FileName)
			other(t, path, "CREATE TABLE x (y)", fmt.Sprintf("PRAGMA user_version = %d", v)).Close()
			_, err = open(path, brief)
			require.ErrorContains(t, err, "another program")
		}
		require.NoError(t, os.Chmod(path, 0o644))
		before, err := os.ReadFile(path)
		require.NoError(t, err)
		_, err = open(path, brief)
		require.ErrorIs(t, err, ErrDamaged)
		after, err := os.ReadFile(path)
		require.NoError(t, err)
		require.Equal(t, before, after, "nothing is changed in it")
		st, err := os.Stat(path)
		require.NoError(t, err)
		if runtime.GOOS != "windows" {
			require.Equal(t, os.FileMode(0o644), st.Mode().Perm())
		}
	})
	t.Run("a folder", func(t *testing.T) {
		_, err := open(t.TempDir(), brief)
		require.ErrorIs(t, err, ErrReadOnly)
	})
	t.Run("ids", func(t *testing.T) {
		l := fresh(t)
		for _, bad := range []string{"", "1", strings.ToUpper(id("a")), "{" + id("a") + "}"} {
			r := record("Marta", 1)
			r.ID = bad
			require.ErrorContains(t, l.Save(ctx, r), "not an id", "%q", bad)
		}
		require.Empty(t, reps(t, l, Which{}), "all or nothing")
	})
	t.Run("given up", func(t *testing.T) {
		l := fresh(t)
		gone, cancel := context.WithCancel(ctx)
		cancel()
		require.ErrorIs(t, l.Save(gone, record("Marta", 1)), context.Canceled)
	})
}

func TestTheFolderOfTheSystem(t *testing.T) {
	env := func(pairs ...string) func(string) string {
		return func(key string) string {
			for i := 0; i < len(pairs); i += 2 {
				if pairs[i] == key {
					return pairs[i+1]
				}
			}
			return ""
		}
	}
	for _, c := range []struct {
		system, home, want string
		env                func(string) string
	}{
		// XDG Base Directory Specification 0.8.
		{"linux", "/home/m", "/home/m/.local/share/drillbay", env()},
		{"linux", "/home/m", "/data/drillbay", env("XDG_DATA_HOME", "/data")},
		{"linux", "/home/m", "/home/m/.local/share/drillbay", env("XDG_DATA_HOME", "relative")},
		{"darwin", "/Users/m", "/Users/m/Library/Application Support/drillbay", env()},
		{"windows", "/u/m", "/local/drillbay", env("LOCALAPPDATA", "/local")},
		{"linux", "", "", env()},
		{"windows", "", "", env()},
	} {
		got, err := Folder(c.system, c.env, c.home)
		require.Equal(t, c.want == "", err != nil)
		require.Equal(t, filepath.FromSlash(c.want), got)
	}
}

func TestHandsHeightsAreKept(t *testing.T) {
	l := fresh(t)
	r := record("Marta", 1)
	r.Kind = Mixed
	r.Rep.TopHeight = drills.Reading{Value: 61, Sigma: 4}
	save(t, l, r)
	alike(t, r, reps(t, l, Which{Kind: Mixed})[0])
	unset := record("Marta", 2)
	unset.Rep.Height, unset.Rep.TopHeight = drills.Reading{}, drills.Reading{}
	save(t, l, unset)
	var height any
	require.NoError(t, l.read.QueryRow("SELECT height FROM reps WHERE id = ?", unset.ID).Scan(&height))
	require.Nil(t, height, "a height that was never set is none")
}

func TestTheRepsOfAMixedSetKeepTheirDrills(t *testing.T) {
	l := fresh(t)
	var want []Record
	for n, drill := range []string{"both-catch", "ordinary", "both-catch", "ordinary"} {
		r := record("Marta", n+1)
		r.Kind, r.Drill, r.Rung = Mixed, drill, n%2+3
		save(t, l, r)
		want = append(want, r)
	}
	got := reps(t, l, Which{Kind: Mixed})
	require.Len(t, got, 4)
	for i, r := range got {
		alike(t, want[i], r)
	}
	require.Len(t, reps(t, l, Which{Drill: "ordinary"}), 2)
}

// Of a list of players with one that cannot be stored, none is.
func TestPlayersAreStoredTogetherOrNot(t *testing.T) {
	l, err := Open(filepath.Join(t.TempDir(), FileName))
	require.NoError(t, err)
	defer l.Close()
	ctx := context.Background()
	var list []Player
	for i := range 40 {
		list = append(list, Player{ID: id(fmt.Sprintf("p%d", i)), Name: fmt.Sprintf("Player %d", i+1)})
	}
	list[30].Name = "  "
	require.ErrorContains(t, l.PutPlayers(ctx, list), "needs a name")
	stored, err := l.Players(ctx)
	require.NoError(t, err)
	require.Empty(t, stored)
	list[30].Name = "Somebody"
	require.NoError(t, l.PutPlayers(ctx, list))
	stored, err = l.Players(ctx)
	require.NoError(t, err)
	require.Len(t, stored, 40)
}
