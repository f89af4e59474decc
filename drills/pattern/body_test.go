package pattern

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/drills"
)

// bodies are n reps of a session, a part of whose body goes up and down about a
// mean by so much.
func bodies(session string, n int, p drills.BodyPart, mean, by float64) (out []Rep) {
	for i, r := range reps(n, look{manner: drills.Swung}) {
		r.Session, r.At = session, r.At.AddDate(0, 0, len(session))
		r.Body[p] = drills.Reading{Value: mean + by*float64(1-2*(i%2)), Sigma: 2}
		out = append(out, r)
	}
	return out
}

// A part is named when 95 % of the interval of its mean lies beyond its band,
// with its numbers, what else it could be, and what to feel.
func TestWhatIsNotKeptOfTheBodyIsNamedForCertainOnly(t *testing.T) {
	of := func(n int, mean, by float64, bands map[drills.BodyPart]drills.Watch) []Lapse {
		return Of(bodies("s", n, drills.SpineTilt, mean, by), Beside{Bands: bands}).Lapses
	}
	got := of(12, -9, 3, nil)
	require.Len(t, got, 1)
	assert.Equal(t, drills.Loss{Part: drills.SpineTilt, Side: -1}, got[0].Loss)
	assert.Contains(t, got[0].Evidence, "spine 9° more upright (12 readings, 95 % between 7° and 11°)")
	assert.NotEmpty(t, got[0].Else)
	assert.NotEmpty(t, got[0].Feel)
	assert.Empty(t, of(12, -6, 6, nil), "the band's edge lies within the interval")
	assert.Empty(t, of(12, 6, 6, nil), "on either side")
	assert.Equal(t, 1, of(12, 9, 3, nil)[0].Side)
	assert.Empty(t, of(7, -9, 3, nil), "too few")
	assert.Empty(t, of(12, -3, 1, nil), "kept")
	narrow := map[drills.BodyPart]drills.Watch{drills.SpineTilt: {Part: drills.SpineTilt, Low: -2, High: 2}}
	assert.Len(t, of(12, -3.5, 1, narrow), 1, "the drill's own band")
	for p := range drills.BodyPart(drills.BodyParts) {
		for _, side := range []int{-1, 1} {
			other, feel := lapseWords(drills.Loss{Part: p, Side: side})
			assert.NotEmpty(t, other, p)
			assert.NotEmpty(t, feel, p)
		}
	}
}

// The hands under the shoulder are read; a coach's mark comes first.
func TestHandsUnderTheShoulderAreReadInsteadOfMarked(t *testing.T) {
	list := bodies("s", 12, drills.HandsUnder, -7, 1)
	assert.InDelta(t, 7, Of(list, Beside{}).Evidence.Shoulder.Value, 1e-9, "inside of it")
	for i := range list {
		list[i].Shoulder = drills.Reading{Value: 2, Sigma: 1}
	}
	assert.InDelta(t, 2, Of(list, Beside{}).Evidence.Shoulder.Value, 1e-9)
}

// When the hands gain height is not asked for where earlier swings have shown it.
func TestHeightIsMeasuredInsteadOfAsked(t *testing.T) {
	catches := reps(12, look{line: 13, depth: 13, height: 14, face: drills.Neutral, manner: drills.Swung})
	asked := Of(catches, Beside{})
	require.NotEmpty(t, asked.Ask)
	assert.Contains(t, fmt.Sprint(asked.Ask), "gain height")
	swings := reps(10, look{line: 13, depth: 13, height: 14, rise: 15, late: true, face: drills.Neutral, ordinary: true, back: 0.8, ratio: 3})
	told := Of(catches, Beside{Earlier: swings})
	assert.Equal(t, []drills.Cause{drills.TurnAlone}, causes(told))
	assert.NotContains(t, fmt.Sprint(told.Ask), "gain height")
	assert.True(t, told.HeightRead)
	assert.False(t, asked.HeightRead)
	// What was read counts, whatever is answered; an answer does not stand for a reading.
	for _, r := range []Rise{RisesSoon, RisesLate} {
		assert.Equal(t, []drills.Cause{drills.TurnAlone}, causes(Of(catches, Beside{Earlier: swings, Rise: r})), "%d", r)
	}
	assert.False(t, Of(catches, Beside{Rise: RisesLate}).HeightRead)
	assert.Equal(t, []drills.Cause{drills.TurnAlone}, causes(Of(catches, Beside{Rise: NeverHigh})))
}

// A trend of the body is shown where there is evidence for one, and only there.
func TestATrendOfTheBodyNeedsEvidence(t *testing.T) {
	over := func(n int, each func(i int) float64) (all []Rep) {
		for i := range n {
			list := bodies(fmt.Sprintf("session %02d", i), 10, drills.HeadUp, each(i), 1)
			for k := range list {
				list[k].At = time.Date(2026, 3, 2+2*i, 18, 0, k, 0, time.UTC)
			}
			all = append(all, list...)
		}
		return all
	}
	falls := ProgressOf(over(10, func(i int) float64 { return 9 - 0.8*float64(i) })).Body
	require.Len(t, falls, 1)
	assert.Contains(t, falls[0].String(), "Head height: down by about 0.8 cm a session")
	assert.Empty(t, ProgressOf(over(10, func(i int) float64 { return 4 + 2*math.Sin(3*float64(i)) })).Body)
	assert.Empty(t, ProgressOf(over(3, func(i int) float64 { return 9 - 3*float64(i) })).Body)
}

// Rep by rep a part is lost as the screen says it, also where the mean lies within the band.
func TestRepsThatLoseAPartAreCountedBesideTheMean(t *testing.T) {
	p := Of(bodies("s", 10, drills.HandsUnder, -5, 4.5), Beside{})
	assert.Empty(t, p.Lapses, "on average at the band's edge")
	assert.Equal(t, "Rep by rep, plainly out of its band: hands pulled in (5 of 10 reps).", p.Evidence.RepByRep())
	wide := map[drills.BodyPart]drills.Watch{drills.HandsUnder: {Part: drills.HandsUnder, Low: -10, High: 10}}
	assert.Empty(t, Of(bodies("s", 10, drills.HandsUnder, -5, 4.5), Beside{Bands: wide}).Evidence.RepByRep(), "the drill's own band")
}
