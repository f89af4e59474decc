package eye

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
)

// Between two sights the body is on the way from the one to the other, and the
// closer window holds what both held there.
func TestBetweenTwoSights(t *testing.T) {
	a := Sight{Whole: Window{500, 300, 400}, Close: Window{400, 350, 180}}
	b := Sight{Whole: Window{500, 300, 440}, Close: Window{480, 310, 200}}
	a.Places[Neck] = Place{U: 500, V: 200, UU: 1, VV: 2, Here: 0.9, Seen: 0.8}
	b.Places[Neck] = Place{U: 504, V: 208, UU: 3, VV: 2, Here: 0.7, Seen: 0.6}
	s := between(a, b, 0.25)
	assert.Equal(t, Window{500, 300, 440}, s.Whole)
	assert.Equal(t, Window{420, 340, 240}, s.Close)
	n := s.Places[Neck]
	assert.InDeltaSlice(t, []float64{501, 202, 1.5, 2, 0.7, 0.75}, []float64{n.U, n.V, n.UU, n.VV, n.Here, n.Seen}, 1e-9)
	assert.Zero(t, s.Places[Head], "the club is not where it would be if it went straight")

	a.Close = Window{}
	assert.Equal(t, Sight{Whole: a.Whole}, between(a, b, 0.25), "where one did not look closely")
}

// Where hands and club are not in the window that is expected, the whole player
// is looked at; where there is none, nobody is seen.
func TestBetweenSightsOfNobody(t *testing.T) {
	e := net(t).NewEye()
	blank := frame.New(640, 360, frame.Sub420)
	a := Sight{Whole: Window{320, 180, 300}, Close: Window{320, 180, 140}}
	_, ok := e.Between(a, a, 0.5, blank, blank, nil, false)
	require.False(t, ok)
}
