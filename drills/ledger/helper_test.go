package ledger

import (
	"context"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"drillbay/drills"
)

// morning is when the sessions of these tests begin.
var morning = time.Date(2026, 3, 1, 10, 0, 0, 0, time.UTC)

// id is a UUID that is the same in every run.
func id(name string, n ...any) string {
	return uuid.NewSHA1(uuid.NameSpaceURL, []byte(fmt.Sprint(append([]any{name}, n...)...))).String()
}

// fresh opens a new ledger in a folder of its own; its clock is morning and
// goes on by a second at each look.
func fresh(t *testing.T) *Ledger {
	t.Helper()
	return opened(t, filepath.Join(t.TempDir(), "book", FileName))
}

func opened(t *testing.T, path string) *Ledger {
	t.Helper()
	ticks := 0
	l, err := open(path, settings{busy: 20 * time.Millisecond, now: func() time.Time { ticks++; return morning.Add(time.Duration(ticks) * time.Second) }})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, l.Close()) })
	return l
}

// record is rep n of a player's session.
func record(player string, n int) Record {
	m := drills.NoMoments()
	m.Start, m.BackStart, m.Level, m.Catch, m.End = 0.8, 1.35, 1.93, 1.95, 2.95
	return Record{
		ID: id(player, "rep", n), Session: id(player, "session"), Set: 1, Bay: "Range, bay 4", Drill: "both-catch", Rung: 3, Club: "7-iron", ClubLong: 0.94, Band: 8,
		Kind: Practice, Player: Player{ID: id(player), Name: player, Hand: drills.Left}, At: morning.Add(time.Duration(n) * 15 * time.Second),
		Rep: drills.Rep{Number: n, Moments: m, Verdict: drills.InLine, Just: true, Why: "hands hidden in part", Manner: drills.Swung,
			ShaftLine: drills.Reading{Value: 1.2, Sigma: 0.8}, Elevation: drills.Reading{Value: -0.4, Sigma: 0.5}, Depth: drills.None(), Height: drills.Reading{Value: 12, Sigma: 2}, TopHeight: drills.None(),
			Body: drills.Body{drills.HandsUnder: {Value: 7.5, Sigma: 1.5}, drills.HeadBack: {Value: -2, Sigma: 1}}, BodyWhy: "neck not seen",
			Views:      drills.Views{Line: drills.DownTheLine, Body: [drills.BodyParts]drills.View{drills.HandsUnder: drills.DownTheLine, drills.HeadBack: drills.FaceOn}},
			Smoothness: -1.5, Tempo: math.NaN(), TempoLow: math.NaN(), TempoHigh: math.NaN()},
	}
}

// bays are all bays, the newest first.
func bays(t *testing.T, l *Ledger) []Bay {
	t.Helper()
	out, err := list(context.Background(), l, "bay", "ORDER BY made DESC, name", nil, func(r row) Bay {
		c := r.content
		w, _ := c["width"].(int64)
		h, _ := c["height"].(int64)
		return Bay{ID: r.id, Name: word(c["name"]), Camera: word(c["camera"]), Distance: float(c["distance"]), Focal: float(c["focal"]), FOV: float(c["fov"]),
			Width: int(w), Height: int(h), TargetX: float(c["target_x"]), TargetY: float(c["target_y"]), TargetSigma: float(c["target_sigma"]),
			Roll: float(c["roll"]), Flipped: c["flipped"].(bool), View: word(c["view"]), Made: moment(c["made"])}
	})
	require.NoError(t, err)
	return out
}

// putNote stores a remark on a player or on a rep.
func putNote(t *testing.T, l *Ledger, id, player, rep, text string) {
	t.Helper()
	_, err := l.putOne(context.Background(), "note", id, content{"player": orText(player), "rep": orText(rep), "text": text, "at": millis(morning)})
	require.NoError(t, err)
}

func save(t *testing.T, l *Ledger, r ...Record) {
	t.Helper()
	for _, r := range r {
		require.NoError(t, l.Save(context.Background(), r))
	}
}

func reps(t *testing.T, l *Ledger, w Which) []Record {
	t.Helper()
	got, err := l.Reps(context.Background(), w)
	require.NoError(t, err)
	return got
}

// alike compares reps with NaN equal to NaN.
func alike(t *testing.T, want, got any) {
	t.Helper()
	require.Equal(t, fmt.Sprintf("%+v", want), fmt.Sprintf("%+v", got))
}

func reader(text string) io.Reader { return strings.NewReader(text) }
