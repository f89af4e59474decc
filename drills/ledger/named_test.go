package ledger

import (
	"bytes"
	"context"
	"encoding/csv"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills"
)

// A player is found as written, else in any letters, else by how the name begins; a
// name of several or of nobody is refused in words.
func TestAPlayerIsFoundByName(t *testing.T) {
	l := fresh(t)
	ctx := context.Background()
	_, err := l.PlayerNamed(ctx, "Jo")
	require.EqualError(t, err, `there is no player named "Jo": the ledger holds none yet`)
	for _, name := range []string{"Jo", "Joanna", "Ben", "jo", "Benedict"} {
		_, err := l.PutPlayer(ctx, Player{Name: name})
		require.NoError(t, err)
	}
	for name, want := range map[string]string{"Jo": "Jo", "jo": "jo", "joa": "Joanna", " BEN ": "Ben", "bene": "Benedict"} {
		p, err := l.PlayerNamed(ctx, name)
		require.NoError(t, err, name)
		require.Equal(t, want, p.Name)
	}
	for _, name := range []string{"JO", "b"} {
		_, err = l.PlayerNamed(ctx, name)
		require.ErrorAs(t, err, &NameError{})
		require.ErrorContains(t, err, "more than one player")
	}
	_, err = l.PlayerNamed(ctx, "Zoe")
	require.ErrorAs(t, err, &NameError{})
	for _, name := range []string{"Jo", "Joanna", "Ben"} {
		require.ErrorContains(t, err, name)
	}
}

// What the coach's joints make of the body is the latest of its marks, and stands in the
// table to a tenth.
func TestTheCoachsReadingsOfTheBody(t *testing.T) {
	mark := func(kind string, part drills.BodyPart, value, sigma float64) Mark {
		return Mark{Kind: kind, Value: part.Key(), Points: [4][2]float64{{value, sigma}}}
	}
	b := Coached([]Mark{mark(ReadingMark, drills.SpineTilt, 9, 9), mark(ReadingMark, drills.HeadUp, -2, 0.96),
		mark(ReadingMark, drills.SpineTilt, 3.24, 1.12), mark(JointMark, drills.HipsOut, 5, 1), mark(ReadingMark, drills.HandsUnder, math.NaN(), 1)})
	require.Equal(t, drills.Reading{Value: 3.24, Sigma: 1.12}, b[drills.SpineTilt])
	require.Equal(t, drills.Reading{Value: -2, Sigma: 0.96}, b[drills.HeadUp])
	require.False(t, b[drills.HipsOut].Known(), "a joint is no reading")
	r := record("Marta", 1)
	r.Coached = b
	var out bytes.Buffer
	require.NoError(t, WriteCSV(&out, []Record{r}))
	rows, err := csv.NewReader(&out).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 2)
	require.Contains(t, rows[1], drills.SpineTilt.Key()+" 3.2 ± 1.1; "+drills.HeadUp.Key()+" -2 ± 1")
}
