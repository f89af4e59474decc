package sight

import (
	"math"
	"math/rand/v2"
	"testing"

	"drillbay/camera/lens"

	"github.com/stretchr/testify/assert"
)

// places are n places of the head about a point, as unsure as they scatter.
func places(r *rand.Rand, n int, at lens.Point, sigma float64) (out []sighted) {
	for range n {
		var q sighted
		q.looks = 1
		q.of[headAt] = spread{at: lens.Point{U: at.U + sigma*r.NormFloat64(), V: at.V + sigma*r.NormFloat64()},
			uu: sigma * sigma, vv: sigma * sigma, ok: true}
		out = append(out, q)
	}
	return out
}

// A head that the eye sees sharply in some looks, and more often does not see
// and puts vaguely elsewhere, is where it is seen sharply; less surely than if
// all looks agreed.
func TestTheSureLooksOfARestCountNotTheMostFrequent(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	var b buffers
	there, elsewhere := lens.Point{U: 420, V: 300}, lens.Point{U: 465, V: 270}
	for range 50 {
		sure := places(r, 12, there, 3)
		agreed := b.together(sure).of[headAt]
		mixed := append(sure, places(r, 18, elsewhere, 10)...)
		r.Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
		x := b.together(mixed).of[headAt]
		assert.Less(t, apart(x.at, there), 6.0, "px")
		assert.Greater(t, x.sigma(), 1.3*agreed.sigma(), "three looks of five disagree")
	}
}

// One look that is far too sure of itself does not decide against many.
func TestOneSureLookDoesNotDecideAlone(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	var b buffers
	there := lens.Point{U: 420, V: 300}
	all := append(places(r, 20, there, 3), places(r, 1, lens.Point{U: 465, V: 270}, 0.3)...)
	assert.Less(t, apart(b.together(all).of[headAt].at, there), 2.5, "px")
}

// Looks that agree are joined as their errors say: their common part lasts,
// the rest goes with their number. The mean itself is the weighted one of least
// variance (Aitken 1935).
func TestLooksThatAgreeAreWeightedByTheirCovariance(t *testing.T) {
	var b buffers
	two := make([]sighted, 2)
	two[0].of[headAt] = spread{at: lens.Point{U: 100, V: 50}, uu: 4, vv: 4, ok: true}
	two[1].of[headAt] = spread{at: lens.Point{U: 103, V: 50}, uu: 8, vv: 8, ok: true}
	x := b.together(two).of[headAt]
	assert.InDelta(t, 101, x.at.U, 0.1, "(100/4 + 103/8) / (1/4 + 1/8)")
	same := places(rand.New(rand.NewPCG(5, 6)), 100, lens.Point{U: 10, V: 10}, 2)
	assert.InDelta(t, 2*math.Sqrt(lasts), b.together(same).of[headAt].sigma(), 0.1, "px, of 100 looks")
}
