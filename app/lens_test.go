package app

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills"
	"drillbay/drills/bay"
)

func TestFoundLinesAreOffered(t *testing.T) {
	a := newTrial()
	var found []bay.Segment
	a.d.Lens.Find = func() []bay.Segment { return found }
	a.key(Lens)
	v := a.step()
	require.Contains(t, strings.Join(v.Texts(), " "), "No clear lines found yet.")
	a.key(PageOn)
	a.key(PageOn)
	a.hands, a.offset = drills.Pixel{X: 30, Y: 20}, bay.Offset{UpCm: 12}
	v = a.step()
	require.False(t, v.Says("raise"), "no lines, no correction")
	a.key(Lines)
	found = []bay.Segment{{A: drills.Pixel{X: 1, Y: 2}, B: drills.Pixel{X: 3, Y: 4}, Sd: 0.6}, {A: drills.Pixel{X: 9, Y: 8}, B: drills.Pixel{X: 7, Y: 6}, Sd: 0.7}, {A: drills.Pixel{X: 5, Y: 8}, B: drills.Pixel{X: 6, Y: 6}, Sd: 0.7}}
	v = a.step()
	require.Contains(t, strings.Join(v.Texts(), " "), "These lines were found.")
	require.Len(t, a.Bay().Lines, 3)
	found = nil
	a.key(Left)
	require.Zero(t, a.Bay().Lines[0].Sd, "put there by hand")
	require.InDelta(t, 0.7, a.Bay().Lines[1].Sd, 1e-9)
	found = []bay.Segment{{A: drills.Pixel{X: 11, Y: 2}, B: drills.Pixel{X: 3, Y: 4}}, {A: drills.Pixel{X: 9, Y: 8}, B: drills.Pixel{X: 7, Y: 6}}}
	a.step()
	require.InDelta(t, 0, a.Bay().Lines[0].A.X, 1e-9, "what was put by hand stays")
	a.key(SayAgain)
	a.step()
	require.InDelta(t, 11, a.Bay().Lines[0].A.X, 1e-9, "until lines are asked for again")
}

func TestTheHungClubGivesTheRoll(t *testing.T) {
	a := newTrial()
	roll, sigma, err := 0.0, 0.0, errors.New("no club is seen hanging")
	a.d.Lens.Roll = func(bay.Bay) (float64, float64, error) { return roll, sigma, err }
	a.key(Lens)
	v := a.key(PageOn)
	require.True(t, v.Says("No club is seen hanging."))
	require.Zero(t, a.Bay().RollSd, "not measured")
	roll, sigma, err = -1.84, 0.31, nil
	require.Contains(t, strings.Join(a.step().Texts(), " "), "The camera is tilted 2° left, true to about 1°.")
	err = errors.New("the club still swings")
	require.Contains(t, strings.Join(a.step().Texts(), " "), "The camera is tilted 2° left, true to about 1°.", "what was measured stays")
	require.InDelta(t, -1.84, a.Bay().Roll, 1e-9)
	require.InDelta(t, 0.31, a.Bay().RollSd, 1e-9)
}
