package drills

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func twoReadings() (line, front Rep) {
	nan := math.NaN()
	line = Rep{Number: 4, Moments: Moments{1, 1.5, 2, 2.1, nan, nan, nan}, Verdict: Inside, ShaftLine: Reading{12, 1}, Depth: Reading{9, 1}, Elevation: None(), Manner: Swung, Smoothness: -2, Tempo: nan, BodyWhy: "trail hip not seen"}
	front = Rep{Moments: Moments{1.1, 1.6, 2.1, 2.2, nan, nan, 3.1}, Verdict: NoReading, Why: SeenFaceOn, ShaftLine: None(), Depth: None(), Elevation: Reading{-3, 0.8}, Manner: Placed, Smoothness: -4, Tempo: nan}
	line.Body[HandsUnder], line.Body[ArmBend] = Reading{2, 1.5}, Reading{12, 9}
	front.Body[HeadBack], front.Body[ArmBend] = Reading{3, 0.7}, Reading{8, 4}
	return line, front
}

func TestEachReadingIsThatOfTheViewThatSeesItBest(t *testing.T) {
	line, front := twoReadings()
	r := Together(line, front, 0.1)
	assert.Equal(t, Reading{12, 1}, r.ShaftLine)
	assert.Equal(t, Inside, r.Verdict)
	assert.Equal(t, Swung, r.Manner, "down the line it was sure")
	assert.Equal(t, 4, r.Number)
	assert.Equal(t, Reading{8, 4}, r.Body[ArmBend], "face-on it is surer")
	assert.Equal(t, Reading{2, 1.5}, r.Body[HandsUnder])
	assert.Equal(t, Reading{3, 0.7}, r.Body[HeadBack])
	assert.Equal(t, FaceOn, r.Views.Body[ArmBend])
	assert.Equal(t, DownTheLine, r.Views.Body[HandsUnder])
	assert.Equal(t, NoView, r.Views.Body[SpineTilt], "nobody read it")
	assert.Equal(t, "down the line: trail hip not seen", r.BodyWhy)
	assert.False(t, r.FaceOn())
	assert.Equal(t, 2.1, r.Moments.Catch)
	assert.InDelta(t, 3.0, r.Moments.End, 1e-9, "on the first camera's clock")
	assert.Equal(t, Reading{-3, 0.8}, r.Elevation)

	line.Body[ArmBend].Sigma = 3
	assert.Equal(t, DownTheLine, Together(line, front, 0).Views.Body[ArmBend])

	// The camera that decides looks face-on: the shaft line is the other's.
	r = Together(front, line, -0.1)
	assert.Equal(t, Inside, r.Verdict)
	assert.InDelta(t, 2.2, r.Moments.Catch, 1e-9)
	assert.True(t, r.Views.Two())
}

func TestOneViewHelpsWhereTheOtherDoesNotSee(t *testing.T) {
	line, front := twoReadings()
	line.Manner, line.Verdict, line.ShaftLine, line.Why = Unsure, NoReading, None(), "the club was hidden"
	front.Verdict, front.Just, front.Elevation, front.Why = Short, true, Reading{-15, 2}, "stopped 15° before level; "+SeenFaceOn
	r := Together(line, front, 0)
	assert.Equal(t, Placed, r.Manner)
	assert.Equal(t, Short, r.Verdict)
	assert.Equal(t, "stopped 15° before level", r.Why)
	assert.False(t, r.FaceOn())
	assert.False(t, Together(line, line, 0.2).Views.Two(), "two from one side")
}

func TestViewsAreWrittenAndRead(t *testing.T) {
	line, front := twoReadings()
	v := Together(line, front, 0).Views
	assert.Equal(t, "down the line: line, hands_under; face-on: lead_arm, head_back", v.String())
	back, err := ParseViews(v.String())
	require.NoError(t, err)
	assert.Equal(t, v, back)
	assert.Empty(t, Views{}.String())
	for _, bad := range []string{"x", "above: line", "face-on: nose", "face-on: head_back", "face-on"} {
		_, err := ParseViews(bad)
		assert.Error(t, err, bad)
	}
	none, err := ParseViews("")
	require.NoError(t, err)
	assert.False(t, none.Two())
}
