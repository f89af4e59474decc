package book

import (
	"context"
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/drills"
	"drillbay/drills/ledger"
)

// Reps that were seen from the front have no shaft line: they speak neither for a
// rung nor against it, and what they show of the body stands in the report beside
// that of the shaft.
func TestRepsSeenFaceOnTellOfTheBodyAlone(t *testing.T) {
	l, b, p, _ := adaPractised(t)
	before := b.View(p.Player.ID).Standing
	assert.NotContains(t, page(t, b, p.Player.ID), drills.SideFaceOn)
	session := uuid.NewString()
	for i := range 10 {
		r := drills.Rep{Number: i + 1, Moments: drills.NoMoments(), Verdict: drills.NoReading, Why: drills.SeenFaceOn, Manner: drills.Swung, ShaftLine: drills.None(),
			Elevation: drills.None(), Depth: drills.None(), Smoothness: math.NaN(), Tempo: math.NaN(), TempoLow: math.NaN(), TempoHigh: math.NaN(),
			Body: drills.Body{drills.HipsBack: {Value: 10 + float64(i%2), Sigma: 1.5}}}
		rec := ledger.Record{ID: uuid.NewString(), Session: session, Set: 1, Player: ledger.Player{ID: p.Player.ID, Name: "Ada"}, Bay: "Bay 1", Drill: "lead-arm-catch", Rung: 1,
			At: time.Date(2025, 10, 9, 18, 0, i, 0, time.UTC), Rep: r}
		require.NoError(t, l.Save(context.Background(), rec))
		b.Note(rec)
	}
	v := read(t, l, "").View(p.Player.ID)
	assert.Equal(t, fmt.Sprintf("%+v", before), fmt.Sprintf("%+v", v.Standing), "the ladder does not move")
	require.Len(t, v.Pattern.Lapses, 1)
	assert.Equal(t, drills.Loss{Part: drills.HipsBack, Side: 1}, v.Pattern.Lapses[0].Loss)
	assert.Equal(t, 10, v.Pattern.Evidence.Line.N, "and the shaft line is that of the session before")
	text := page(t, b, p.Player.ID)
	assert.Contains(t, text, "hips slid back")
	assert.Contains(t, text, drills.SideFaceOn)
	assert.Contains(t, text, drills.NoAdvice)
}
