package measure

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
	"drillbay/camera/virtual"
)

// What a player does besides is no rep: a waggle, teeing a ball, walking in,
// somebody passing behind the net.
func TestWhatIsDoneBesidesIsNoRep(t *testing.T) {
	cases := []struct {
		name   string
		before []virtual.Interlude
		passer bool
	}{
		{"waggle", []virtual.Interlude{virtual.Waggle}, false},
		{"tee up", []virtual.Interlude{virtual.TeeUp}, false},
		{"walk in", []virtual.Interlude{virtual.WalkIn}, false},
		{"passer-by", nil, true},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			s := virtual.Default()
			s.Width, s.Height, s.Seed = 640, 360, 31
			s.Scene.PasserBy = c.passer
			s.Reps = []virtual.RepSpec{{ShaftLineDeg: 2, Hold: 1.2, Still: 1.2, Before: c.before}, {ShaftLineDeg: 15, Hold: 1.2, Still: 1.2, Before: c.before}}
			b, err := virtual.New(s)
			require.NoError(t, err)
			k, err := bayOf(s, b).Known()
			require.NoError(t, err)
			reps, _, _, err := Reps(&drawn{bay: b, s: s, pool: frame.NewPool(1 << 30)}, k, Catch, nil)
			require.NoError(t, err)
			for _, r := range reps {
				near := math.Inf(1)
				for _, e := range b.Events() {
					near = min(near, math.Abs(r.Rep.Moments.Catch-e.Catch))
				}
				assert.Less(t, near, 0.2, "a rep that was none: %s", line(wanted{}, r.Rep))
			}
			assert.Equal(t, 2, len(reps), "both reps are found")
		})
	}
}
