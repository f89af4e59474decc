package book

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/drills"
	"drillbay/drills/clinic"
	"drillbay/drills/ledger"
)

// made stores reps of who is up at the first station.
func made(t *testing.T, b *Book, n int, v drills.Verdict) {
	t.Helper()
	c, ok := b.Group()
	require.True(t, ok)
	p := c.Players[c.Stations[0].Up-1]
	session := uuid.NewString()
	for i := range n {
		r := ledger.Record{ID: uuid.NewString(), Session: session, Set: 1, Player: ledger.Player{ID: p.ID, Name: p.Name}, Bay: "Net", Drill: p.Drill, Rung: p.Rung, At: b.now(),
			Rep: drills.Rep{Number: i + 1, Moments: drills.NoMoments(), Verdict: v, Manner: drills.Swung, ShaftLine: drills.None(), Elevation: drills.None(), Depth: drills.None(),
				Smoothness: math.NaN(), Tempo: math.NaN(), TempoLow: math.NaN(), TempoHigh: math.NaN()}}
		require.NoError(t, b.ledger.Save(context.Background(), r))
		b.Note(r)
	}
}

// A clinic from a pasted list: turns, a restart half-way, someone late,
// someone stuck, someone deleted.
func TestAClinicGoesOnWhereItWas(t *testing.T) {
	ctx, l := context.Background(), open(t)
	now := time.Date(2026, 3, 7, 10, 0, 0, 0, time.UTC)
	clock := func() time.Time { now = now.Add(10 * time.Second); return now }
	start := func() *Book {
		b := read(t, l, "")
		b.now = clock
		return b
	}
	b := start()
	_, ok := b.Clinic()
	require.False(t, ok)
	known, err := b.AddPlayer("Ada", drills.Left, 91)
	require.NoError(t, err)
	practised(t, b, l, known, "lead-arm-catch", 3, 9, 10)
	doubles, err := b.BeginClinic(ctx, "1. Ada\n2. Bo\n3. Cy (L)\n4. Bo", []string{""}, clinic.Rule{Reps: 5})
	require.NoError(t, err)
	assert.Equal(t, []string{"Bo"}, doubles)

	sheet, ok := b.Clinic()
	require.True(t, ok)
	assert.Equal(t, "Ada", sheet.Up)
	assert.Equal(t, "Bo", sheet.Then)
	assert.Equal(t, "Rung 2", sheet.UpLine, "each on the rung that is theirs")
	assert.Equal(t, 1, sheet.Players[1].Rung)
	assert.Equal(t, drills.Left, sheet.Players[2].Hand)

	made(t, b, 5, drills.InLine)
	c, _ := b.Group()
	assert.True(t, c.Over(0, now))
	b.ClinicDo(NextUp, 0)
	made(t, b, 2, drills.Inside)
	before, _ := b.Clinic()
	b = start()
	after, ok := b.Clinic()
	require.True(t, ok, "a laptop that was started again goes on")
	assert.Equal(t, "Bo", after.Up)
	assert.Equal(t, before.UpReps, after.UpReps)
	assert.Equal(t, "2 of 5 reps", after.UpReps)

	require.NoError(t, b.JoinClinic(ctx, "Dee"))
	b.ClinicDo(Leaves, 3)
	made(t, b, 8, drills.Inside)
	sheet, _ = b.Clinic()
	assert.Len(t, sheet.Players, 4)
	assert.Equal(t, "left", sheet.Players[2].Waits)
	assert.Contains(t, sheet.Players[1].Needs, "0 of 10 counted")
	assert.Len(t, sheet.Players[1].Reps, 10)
	b.ClinicDo(CallUp, 4)
	sheet, _ = b.Clinic()
	assert.Equal(t, "Dee", sheet.Up)

	text, err := l.Setting(ctx, clinicKey)
	require.NoError(t, err)
	for _, name := range []string{"Ada", "Bo", "Dee"} {
		assert.NotContains(t, text, fmt.Sprintf("%q", name), "names are the players' own")
	}
	players, err := l.Players(ctx)
	require.NoError(t, err)
	for _, p := range players {
		if p.Name == "Dee" {
			_, err = l.DeletePlayer(ctx, p.ID)
			require.NoError(t, err)
		}
	}
	sheet, _ = start().Clinic()
	assert.Equal(t, "deleted", sheet.Players[3].Name)
	assert.NotEqual(t, "deleted", sheet.Up)

	require.NoError(t, b.EndClinic(ctx))
	_, ok = start().Clinic()
	assert.False(t, ok)
	_, err = b.BeginClinic(ctx, " \n;", []string{""}, clinic.Rule{Reps: 5})
	assert.ErrorContains(t, err, "no name")
	require.NoError(t, l.PutSetting(ctx, clinicKey, "{"))
	b = start()
	require.Len(t, b.Faults(), 1)
	assert.True(t, strings.Contains(b.Faults()[0].Error(), "begin it again"))
}

// Three stations: only what the camera sees counts, all move on together, and a
// laptop that is started again goes on.
func TestStationsOfAClinic(t *testing.T) {
	ctx, l := context.Background(), open(t)
	b := read(t, l, "")
	_, err := b.ClinicBegin("Ada\nBo\nCy\nDee", Turns{Reps: 2}, []string{"net", "mirror", "mat"})
	require.NoError(t, err)
	sheet, _ := b.Clinic()
	require.Equal(t, []StationLine{{Name: "net", Who: "Ada", Camera: true}, {Name: "mirror", Who: "Bo"}, {Name: "mat", Who: "Cy"}}, sheet.Stations)
	require.Equal(t, "Dee", sheet.Then, "who waits longest")
	require.True(t, sheet.Players[0].Up)
	require.False(t, sheet.Players[1].Up)
	require.Equal(t, "mirror", sheet.Players[1].Waits)
	made(t, b, 2, drills.InLine)
	sheet, _ = b.Clinic()
	require.True(t, sheet.Over)
	require.NoError(t, b.ClinicDo(NextUp, 0))
	b = read(t, l, "")
	sheet, ok := b.Clinic()
	require.True(t, ok)
	require.Equal(t, "Dee", sheet.Up)
	require.Equal(t, []string{"Dee", "Ada", "Bo"}, []string{sheet.Stations[0].Who, sheet.Stations[1].Who, sheet.Stations[2].Who})
	require.NoError(t, b.ClinicDo(CallUp, 1))
	sheet, _ = b.Clinic()
	require.Equal(t, []string{"Ada", "Dee"}, []string{sheet.Up, sheet.Stations[1].Who}, "they change places")
	require.NoError(t, b.EndClinic(ctx))
}

// A part of the body that is what to work on is marked as one on the clinic's page, so
// that the caution stands there.
func TestTheClinicsPageTellsOfTheBody(t *testing.T) {
	for _, out := range []float64{0, 12} { // cm, the hips' way to the ball
		ctx, l := context.Background(), open(t)
		b := read(t, l, "")
		now := time.Date(2026, 3, 7, 10, 0, 0, 0, time.UTC)
		b.now = func() time.Time { now = now.Add(10 * time.Second); return now }
		_, err := b.BeginClinic(ctx, "Ada", []string{""}, clinic.Rule{Reps: 20})
		require.NoError(t, err)
		c, _ := b.Group()
		p, session := c.Players[0], uuid.NewString()
		for i := range 10 {
			r := ledger.Record{ID: uuid.NewString(), Session: session, Set: 1, Player: ledger.Player{ID: p.ID, Name: p.Name}, Bay: "Net", Drill: p.Drill, Rung: p.Rung, At: b.now(),
				Rep: drills.Rep{Number: i + 1, Moments: drills.NoMoments(), Verdict: drills.InLine, Manner: drills.Swung, ShaftLine: drills.Reading{Value: float64(i%3) - 1, Sigma: 1}, Elevation: drills.None(), Depth: drills.None(),
					Smoothness: math.NaN(), Tempo: math.NaN(), TempoLow: math.NaN(), TempoHigh: math.NaN(), Body: drills.Body{drills.HipsOut: {Value: out + float64(i%2), Sigma: 1}}}}
			require.NoError(t, l.Save(ctx, r))
			b.Note(r)
		}
		page, err := b.GroupPage(ctx, b.now())
		require.NoError(t, err)
		require.Len(t, page.Members, 1)
		assert.Equal(t, out > 0, page.Members[0].Body, "%+v", page.Members[0])
		assert.Equal(t, out > 0, strings.Contains(page.Members[0].Work, "ips toward the ball"), page.Members[0].Work)
	}
}
