package eye

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
)

// stage-managed looks: a player of 1.8 m at a place of the picture, seen by a
// look that holds him and is neither too far nor too near.
type someone struct {
	u, v, metre float64 // hips, and px a metre
	gone        bool
	left        bool // the club, when gone
	looks       []Window
}

// points are the player's, m from the hips, v down.
func (s *someone) points() [Points][2]float64 {
	return [Points][2]float64{{0.32, 0}, {0.3, 0.1}, {0.6, 0.75}, {0.63, 0.8}, {0.35, -0.8}, {0.2, -0.6},
		{0.1, -0.5}, {0.15, -0.5}, {0.2, -0.2}, {0.25, -0.2}, {0.3, 0.08}, {0.3, 0.1},
		{0, 0}, {0, 0}, {0.1, 0.45}, {0.1, 0.45}, {0, 0.9}, {0, 0.9}, {2.5, 0.9}}
}

func (s *someone) look(w Window) Look {
	s.looks = append(s.looks, w)
	l := Look{Window: w}
	for p, at := range s.points() {
		u, v := s.u+at[0]*s.metre, s.v+at[1]*s.metre
		sigma := w.Side / 128
		q := Place{U: u, V: v, UU: sigma * sigma, VV: sigma * sigma, Here: 0.02, Seen: 0.9}
		if (!s.gone || s.left && Point(p) <= Head && Point(p) != Hands) && math.Abs(u-w.U) < w.Side/2 && math.Abs(v-w.V) < w.Side/2 {
			q.Here = 0.97
		}
		l.Places[p] = q
	}
	return l
}

func TestThePlayerIsFoundAndFollowed(t *testing.T) {
	s := &someone{u: 500, v: 350, metre: 230}
	var f Finder
	seen, ok := f.follow(s.look, 1280, 720)
	require.True(t, ok)
	require.Len(t, s.looks, 3, "the whole picture, the player, hands and club")
	assert.Equal(t, Window{640, 360, 1280}, s.looks[0])
	assert.InDelta(t, 2.2*230, s.looks[1].Side, 40, "about 2.2 m")
	assert.InDelta(t, 230, s.looks[2].Side, 25, "about 1 m")
	assert.Equal(t, s.looks[2], seen.Close)
	assert.Less(t, seen.Places[Head].UU, seen.Places[Crown].UU, "the club is seen closely, the body is not")

	for range 40 { // walks 2 m to the right and 1 m nearer
		s.looks = nil
		s.u, s.metre = s.u+11, s.metre*1.005
		seen, ok = f.follow(s.look, 1280, 720)
		require.True(t, ok)
		require.Len(t, s.looks, 2, "no look at the whole picture while he is followed")
		require.InDelta(t, s.u+0.63*s.metre, seen.Places[Head].U, 0.01)
	}
}

// A window that cuts the legs, as when somebody was first seen at the picture's
// edge, comes to hold feet and club.
func TestAWindowThatCutsTheLegsGrows(t *testing.T) {
	s := &someone{u: 500, v: 350, metre: 230}
	f := Finder{window: Window{U: 540, V: 290, Side: 230}}
	var seen Sight
	for range 12 {
		var ok bool
		seen, ok = f.follow(s.look, 1280, 720)
		require.True(t, ok)
	}
	assert.Greater(t, seen.Places[LeftAnkle].Here, 0.5)
	assert.Greater(t, seen.Places[Head].Here, 0.5)
}

func TestThePlayerIsLostAndFoundAgain(t *testing.T) {
	s := &someone{u: 500, v: 350, metre: 230}
	var f Finder
	_, ok := f.follow(s.look, 1280, 720)
	require.True(t, ok)
	s.gone = true
	for range 3 {
		seen, ok := f.follow(s.look, 1280, 720)
		require.False(t, ok)
		require.Equal(t, Sight{}, seen)
	}
	s.looks, s.gone, s.u = nil, false, 900
	_, ok = f.follow(s.look, 1280, 720)
	require.True(t, ok)
	require.Len(t, s.looks, 3)
	s.looks, s.u = nil, 200 // another camera's picture, all at once
	_, ok = f.follow(s.look, 1280, 720)
	require.True(t, ok)
	require.Len(t, s.looks, 4, "where he was, then as if nobody was known")
}

// A club that leans somewhere is no player.
func TestAClubAloneIsNobody(t *testing.T) {
	s := &someone{u: 500, v: 350, metre: 230}
	var f Finder
	_, ok := f.follow(s.look, 1280, 720)
	require.True(t, ok)
	s.gone, s.left = true, true
	_, ok = f.follow(s.look, 1280, 720)
	require.False(t, ok)
}

// Nobody is not made into somebody, however often it is looked.
func TestAnEmptyBayHasNobody(t *testing.T) {
	s := &someone{u: 500, v: 350, metre: 230, gone: true}
	var f Finder
	for range 5 {
		_, ok := f.follow(s.look, 1280, 720)
		require.False(t, ok)
	}
	require.Len(t, s.looks, 5, "one look a picture")
}

func TestTheBetterSupportedLookWins(t *testing.T) {
	at := func(u, sigma, here float64) Place {
		return Place{U: u, UU: sigma * sigma, VV: sigma * sigma, Here: here, Seen: 1}
	}
	cases := []struct {
		name         string
		whole, close Place
		want         float64
	}{
		{"both agree: the surer", at(100, 4, 0.9), at(102, 1, 0.6), 102},
		{"both agree: the surer is the wider look", at(100, 1, 0.5), at(102, 4, 0.9), 100},
		{"they differ: the likelier", at(100, 1, 0.9), at(150, 0.5, 0.3), 100},
		{"they differ: the likelier is the closer look", at(100, 1, 0.3), at(150, 2, 0.9), 150},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var a, b [Points]Place
			a[Head], b[Head] = c.whole, c.close
			a[Crown], b[Crown] = c.whole, at(9, 0.1, 1)
			merge(&a, b)
			assert.Equal(t, c.want, a[Head].U)
			assert.Equal(t, c.whole, a[Crown], "the closer look is for the club")
		})
	}
}

func TestFollowingAllocatesNothing(t *testing.T) {
	e := net(t).NewEye()
	a := noise(1, 640, 360, frame.Sub420)
	var f Finder
	assert.Zero(t, testing.AllocsPerRun(2, func() {
		f.window = Window{300, 200, 200}
		f.Follow(e, a, a, nil, false)
	}))
}
