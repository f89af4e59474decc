package drills

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A part is lost when 95 % of its interval (one-sided) lies beyond the band.
func TestAPartIsLostOnlyPlainly(t *testing.T) {
	w := UsualWatch(HandsUnder) // within 5 cm, common practice
	for _, c := range []struct {
		value, sigma float64
		want         int
	}{
		{8.5, 2, 1}, {8.2, 2, 0}, {-8.5, 2, -1}, {3, 2, 0}, {8.5, 4, 0}, {30, 0, 0}, {math.NaN(), 2, 0},
	} {
		assert.Equal(t, c.want, w.Side(Body{HandsUnder: {c.value, c.sigma}}), "%v ± %v cm", c.value, c.sigma)
	}
	elbow := UsualWatch(TrailElbow) // open below
	assert.Zero(t, elbow.Side(Body{TrailElbow: {-60, 2}}))
	assert.Equal(t, 1, elbow.Side(Body{TrailElbow: {9, 2}}))
	both := WatchedOf([]Watch{elbow, w})
	assert.Equal(t, Loss{HandsUnder, 1}, both.Loss(Body{HandsUnder: {12, 2}, TrailElbow: {-20, 2}}))
	assert.Equal(t, TrailElbow, both.Loss(Body{HandsUnder: {12, 2}, TrailElbow: {20, 2}}).Part, "one, the first")
	assert.Equal(t, Loss{}, both.Loss(Body{}))
	assert.Equal(t, Loss{}, Watched{}.Loss(Body{HandsUnder: {12, 2}}), "nothing is watched")
}

func with(p BodyPart, value float64) (b Body) {
	b[p] = Reading{value, 1}
	return b
}

func TestEveryPartHasItsWords(t *testing.T) {
	keys := map[string]bool{}
	for p := range BodyPart(BodyParts) {
		back, err := ParseBodyPart(p.String())
		require.NoError(t, err)
		assert.Equal(t, p, back)
		assert.False(t, keys[p.Key()], "%s: key %s twice", p, p.Key())
		keys[p.Key()] = true
		w := UsualWatch(p)
		require.NoError(t, w.Check())
		w.Low = -5
		for _, side := range [2]int{-1, 1} {
			assert.Equal(t, side, w.Side(with(p, 1e3*float64(side))), p)
			words := Loss{p, side}.String()
			assert.NotEmpty(t, words, p)
			assert.LessOrEqual(t, len(words), 26, "%s is read from the mat", words)
		}
		var b Body
		assert.Empty(t, b.Say(p))
		b[p] = Reading{-7.4, 1}
		less := b.Say(p)
		b[p] = Reading{7.4, 1}
		assert.Contains(t, b.Say(p), "7")
		if p != ArmBend && p != ArmBack && p != BallPlace {
			assert.NotEqual(t, less, b.Say(p), "%s: the side is said", p)
		}
	}
}

func TestADrillWatchesTwoThingsAtMost(t *testing.T) {
	read := func(watched string) (Drill, error) {
		return ParseDrill("gate.yaml", []byte(plainDrill+"watched: "+watched+"\n"), nil)
	}
	d, err := read("[spine tilt, {part: head height, within: 4}]")
	require.NoError(t, err)
	assert.Equal(t, []Watch{UsualWatch(SpineTilt), {HeadUp, -4, 4}}, d.Watched)
	d, err = read("[{part: trail elbow, to: -5}]")
	require.NoError(t, err)
	assert.Equal(t, []Watch{{TrailElbow, math.Inf(-1), -5}}, d.Watched)
	for text, says := range map[string]string{
		"[spine tilt, head height, trail elbow]":       "2 at most",
		"[spine tilt, spine tilt]":                     "stands there twice",
		"[left knee]":                                  `part "left knee" is not one of`,
		"[{part: head height, within: -3}]":            "from less to more",
		"[{part: head height, within: 3, from: 1}]":    "give within, or from and to",
		"[{part: head height, within: 500}]":           "to 60 at most",
		"[{part: head height, within: .nan}]":          "from less to more",
		"[{part: head height, from: -.inf, to: .inf}]": "a band has an end",
		"spine tilt": "a list is expected",
	} {
		_, err := read(text)
		assert.ErrorContains(t, err, says, text)
		assert.ErrorContains(t, err, "gate.yaml: line 12", text)
	}
}
