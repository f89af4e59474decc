package drills

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestJudgeSaysTheSidePlainlyOrJust(t *testing.T) {
	cases := []struct {
		name        string
		line, sigma float64
		verdict     Verdict
		just        bool
	}{
		{"well in line", 1, 1, InLine, false},
		{"in line, just", 7, 1, InLine, true},
		{"just inside", 9, 1, Inside, true},
		{"inside", 14, 1.5, Inside, false},
		{"outside", -14, 1.5, Outside, false},
		{"just outside", -9, 2, Outside, true},
		{"at the band's edge", 8, 0.5, InLine, true},
		{"at the band's other edge", -8, 0.5, InLine, true},
		{"past the band's edge", 8.001, 0.5, Inside, true},
		{"sure to four degrees", 20, 4, Inside, false},
		{"not sure enough", 0, 4.01, NoReading, false},
		{"not measured", math.NaN(), math.NaN(), NoReading, false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			v, just := Judge(Reading{c.line, c.sigma}, Band)
			assert.Equal(t, c.verdict, v)
			assert.Equal(t, c.just, just)
		})
	}
	// One-sided 95 % of the normal distribution is 1.645 sigma (value from memory).
	_, just := Judge(Reading{Band + 1.65, 1}, Band)
	assert.False(t, just)
	_, just = Judge(Reading{Band + 1.64, 1}, Band)
	assert.True(t, just)
}

func TestOnlyInLineAndSwungCounts(t *testing.T) {
	for v := NoReading; v <= Short; v++ {
		for m := Unsure; m <= Placed; m++ {
			assert.Equal(t, v == InLine && m == Swung, Rep{Verdict: v, Manner: m}.Counts(), "%s, %s", v, m)
		}
	}
}

func TestNamesGoBothWays(t *testing.T) {
	for v := NoReading; v <= Short; v++ {
		got, err := ParseVerdict(v.String())
		require.NoError(t, err)
		assert.Equal(t, v, got)
	}
	for m := Unsure; m <= Placed; m++ {
		got, err := ParseManner(m.String())
		require.NoError(t, err)
		assert.Equal(t, m, got)
	}
	_, err := ParseHand("both")
	assert.ErrorContains(t, err, `"both"`)
}
