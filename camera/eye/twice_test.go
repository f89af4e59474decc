package eye

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Two looks that agree have a mean; of two that exclude each other the surer
// one stays, with a smaller chance, and no place between them is told where
// nothing is.
func TestTwoLooksAreJoinedOrTheSurerStays(t *testing.T) {
	a := Place{U: 100, V: 50, UU: 4, VV: 4, Here: 0.8, Seen: 0.9}
	near := Place{U: 103, V: 50, UU: 4, VV: 4, Here: 0.8, Seen: 0.7}
	x := joined(a, near)
	assert.InDelta(t, 101.5, x.U, 1e-9)
	assert.InDelta(t, 4+1.5*1.5, x.UU, 1e-9, "as unsure as they differ")
	assert.InDelta(t, 0.8, x.Here, 1e-9)

	vague := Place{U: 140, V: 20, UU: 100, VV: 100, Here: 0.8, Seen: 0.9}
	for _, x := range []Place{joined(a, vague), joined(vague, a)} {
		assert.Equal(t, a.U, x.U)
		assert.Equal(t, a.UU, x.UU)
		assert.InDelta(t, 0.8*25/26, x.Here, 1e-9, "it outweighs the other 25 to 1")
	}
	assert.Equal(t, a, joined(a, Place{}))
}
