package sight

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
	"drillbay/camera/lens"
	"drillbay/camera/virtual"
)

// drawnRep is a rep of a bay with its truth.
type drawnRep struct {
	bay   *virtual.Bay
	set   Setting
	event virtual.Event
}

func drawnRepOf(t *testing.T, s virtual.Setup) drawnRep {
	t.Helper()
	b, err := virtual.New(s)
	require.NoError(t, err)
	x, y := b.TargetPoint()
	v, err := lens.NewView(lens.Camera{Width: s.Width, Height: s.Height, Focal: b.Focal(), Target: lens.Point{U: x, V: y},
		Roll: s.Camera.RollDeg, Left: s.Player.Hand == virtual.LeftHand})
	require.NoError(t, err)
	return drawnRep{b, Setting{View: v, Distance: s.Camera.Distance, Reach: b.HandsToHead()}, b.Events()[0]}
}

// pics are n pictures from a to b seconds.
func (d drawnRep) pics(t *testing.T, a, b float64, n int) (out []*frame.Picture) {
	t.Helper()
	s := d.bay.Setup()
	for i := range n {
		p := frame.New(s.Width, s.Height, frame.Sub420)
		k := int((a + (b-a)*float64(i)/float64(n)) * s.FPS)
		require.NoError(t, d.bay.Draw(k, p))
		out = append(out, p)
	}
	return out
}

// start is when the player leaves address.
func (d drawnRep) start() float64 {
	if !math.IsNaN(d.event.ForwardStart) {
		return d.event.ForwardStart
	}
	return d.event.BackStart
}

func (d drawnRep) seen(px [2]float64) lens.Point {
	return d.set.View.Mirror(lens.Point{U: px[0], V: px[1]})
}

func (d drawnRep) stance() Stance {
	tr := d.bay.Truth(d.start() - 0.1)
	return Stance{Hands: d.seen(tr.HandsPX), Head: d.seen(tr.HeadPX)}
}

// catches are bays in which the club is caught at level.
func catches(seed uint64, n int) (out []virtual.Setup) {
	for _, s := range virtual.Spread(seed, 3*n) {
		if s.Drill == virtual.Catch && s.Reps[0].ElevationDeg == 0 && len(out) < n {
			out = append(out, s)
		}
	}
	return out
}

// Tape near the head is found at address by its colour, and nothing is taken
// for it where there is none; in the hold one of its places is the true one,
// and the club that follows from it is.
func TestTapeIsFoundByItsColour(t *testing.T) {
	const n = 5
	found, held := 0, 0
	for i, s := range catches(21, n) {
		s.Club.Tape = nil
		bare := drawnRepOf(t, s)
		_, ok := bare.set.findTape(bare.pics(t, bare.start()-0.4, bare.start()-0.1, 4), bare.stance())
		assert.False(t, ok, "bay %d has no tape", i)

		s.Club.Tape = &[]virtual.Colour{{0.95, 0.3, 0.02}, {0.1, 0.75, 0.15}, {0.9, 0.1, 0.5}}[i%3]
		d := drawnRepOf(t, s)
		still := d.pics(t, d.start()-0.4, d.start()-0.1, 4)
		tp, ok := d.set.findTape(still, d.stance())
		if !ok {
			continue
		}
		found++
		// The band is drawn from 15 to 9 cm before the end of the shaft.
		assert.InDelta(t, d.set.Reach-0.12, tp.along, 0.02, "bay %d, m from the hands", i)
		hold := d.pics(t, d.event.Catch+0.1, d.event.Catch+0.4, 4)
		before := d.pics(t, d.start(), d.event.Catch-0.25, 6)
		tr := d.bay.Truth(d.event.Catch + 0.2)
		hands := d.seen(tr.HandsPX)
		fwd := d.set.Distance - 0.33
		for _, p := range tp.find(hold, before, hands, d.set.perMetre(fwd), d.set.View.Left) {
			if g, ok := d.set.tapeGuess(tp, p, hands, fwd); ok && math.Abs(g.Line-tr.ShaftLineDeg) < 3 && math.Abs(g.Lift-tr.ElevationDeg) < 6 {
				held++
				break
			}
		}
	}
	t.Logf("%d of %d found at address, %d in the hold", found, n, held)
	assert.GreaterOrEqual(t, found, n-1)
	assert.GreaterOrEqual(t, held, found-2)
}
