package rep_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/eye"
	"drillbay/camera/lens"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
	"drillbay/drills"
	"drillbay/drills/rep"
)

// stood is the rep of a bay's first event with its body, from places of hands,
// head and joints as the bay has them, to a pixel; without says what is hidden. The
// bay is nil where no rep was read.
func stood(t *testing.T, s virtual.Setup, without ...eye.Point) (r drills.Rep, b *virtual.Bay) {
	t.Helper()
	s.Width, s.Height = 640, 360
	b, err := virtual.New(s)
	require.NoError(t, err)
	x, y := b.TargetPoint()
	left := s.Player.Hand == virtual.LeftHand
	v, err := lens.NewView(lens.Camera{Width: s.Width, Height: s.Height, Focal: b.Focal(), Target: lens.Point{U: x, V: y}, Left: left})
	require.NoError(t, err)
	k := rep.Known{Setting: sight.Setting{View: v, Distance: s.Camera.Distance, Reach: b.HandsToHead(), Grip: s.Club.Grip},
		Scale: true, Band: drills.Band, Distance: 0.06, Target: 1.3, Roll: 0.3, Focal: 0.01, Reach: 0.008, Forward: 0.06}
	e := b.Events()[0]
	end := e.HoldTo
	if math.IsNaN(end) {
		end = e.Impact + 0.4
	}
	var looks []sight.Look
	for at := e.StillFrom; at < end; at += 1 / 30.0 {
		w, j := b.Truth(at), b.Joints(at)
		l := sight.Look{At: at}
		put := func(p eye.Point, px [2]float64) {
			if left {
				p = p.Mirrored()
			}
			if px[0] >= 0 && px[1] >= 0 && px[0] < float64(s.Width) && px[1] < float64(s.Height) {
				l.Places[p] = eye.Place{U: px[0], V: px[1], UU: 1, VV: 1, Here: 0.97, Seen: 0.95}
			}
		}
		put(eye.Hands, w.HandsPX)
		put(eye.Head, w.HeadPX)
		for p, place := range map[eye.Point][3]float64{eye.Crown: j.Crown, eye.Neck: j.Neck, eye.LeftShoulder: j.LeadShoulder, eye.RightShoulder: j.TrailShoulder,
			eye.LeftElbow: j.LeadElbow, eye.RightElbow: j.TrailElbow, eye.LeftHip: j.LeadHip, eye.RightHip: j.TrailHip} {
			px, _ := b.See(place)
			put(p, px)
		}
		for _, p := range without {
			if left {
				p = p.Mirrored()
			}
			l.Places[p].Here = 0.45 // as likely hidden as not
		}
		looks = append(looks, l)
	}
	m, err := k.Setting.Follow(looks, k.Doubt(), s.Drill == virtual.Ordinary)
	require.NoError(t, err)
	r, ok := rep.Of(&m, k)
	if !ok {
		return r, nil
	}
	rep.Stand(&r, m.Body(looks), k)
	return r, b
}

// What is seen right is read right, for either hand, within what it says of
// itself: hands drawn 9 cm in are that much more under the shoulder.
func TestABodyThatIsSeenRightIsRead(t *testing.T) {
	for _, hand := range []virtual.Hand{virtual.RightHand, virtual.LeftHand} {
		s := virtual.Default()
		s.Player.Hand, s.Camera.PitchDeg = hand, 4
		still, err := virtual.New(s)
		require.NoError(t, err)
		for _, in := range []float64{-0.06, 0.09} {
			s.Reps = []virtual.RepSpec{{HandsY: still.Truth(0).Hands[1] + in, Hold: 1}}
			r, b := stood(t, s)
			e := b.Events()[0]
			home, held, at := b.Joints(e.StillFrom+0.2), b.Joints(e.Catch+0.2), b.Truth(e.Catch+0.2)
			for p, want := range map[drills.BodyPart]float64{
				drills.HandsUnder: 100 * (held.LeadShoulder[1] - at.Hands[1]), drills.HeadOut: 100 * (home.Crown[1] - held.Crown[1]), drills.HeadUp: 100 * (held.Crown[2] - home.Crown[2]),
				drills.HipsOut: 50 * (home.LeadHip[1] + home.TrailHip[1] - held.LeadHip[1] - held.TrailHip[1]), drills.TrailElbow: 100 * (held.TrailElbow[1] - held.TrailHip[1]),
			} {
				require.True(t, r.Body[p].Known(), "%s: %s", p, r.BodyWhy)
				assert.InDelta(t, want, r.Body[p].Value, 2*r.Body[p].Sigma+0.2, "%s-hander, %v m in: %s", hand, in, p)
			}
			assert.InDelta(t, 0, r.Body[drills.SpineTilt].Value, 2, "nobody bends there")
			assert.False(t, r.Body[drills.ArmBend].Known(), "the arm points to the lens")
			assert.Contains(t, r.BodyWhy, "bend")
		}
	}
}

// There is no reading of a joint that is hidden, but a reason; the others stand.
func TestAHiddenJointIsNotRead(t *testing.T) {
	s := virtual.Default()
	s.Reps = []virtual.RepSpec{{Hold: 1}}
	for _, c := range []struct {
		hidden eye.Point
		name   string
		parts  []drills.BodyPart
	}{
		{eye.LeftShoulder, "lead shoulder", []drills.BodyPart{drills.HandsUnder}}, {eye.Crown, "top of the head", []drills.BodyPart{drills.HeadUp, drills.HeadOut}},
		{eye.RightHip, "trail hip", []drills.BodyPart{drills.HipsOut, drills.SpineTilt, drills.TrailElbow}}, {eye.Neck, "neck", []drills.BodyPart{drills.SpineTilt}},
		{eye.RightElbow, "trail elbow", []drills.BodyPart{drills.TrailElbow}},
	} {
		r, _ := stood(t, s, c.hidden)
		assert.Contains(t, r.BodyWhy, c.name+" not seen")
		for _, p := range []drills.BodyPart{drills.HandsUnder, drills.SpineTilt, drills.HeadUp, drills.HeadOut, drills.HipsOut, drills.TrailElbow} {
			lost := false
			for _, q := range c.parts {
				lost = lost || p == q
			}
			assert.Equal(t, !lost, r.Body[p].Known(), "%s without the %s", p, c.name)
		}
	}
}

// How high the hands are at the top is told where they stay in the picture, and
// not where they leave it.
func TestTheHandsHeightAtTheTop(t *testing.T) {
	s := virtual.Default()
	s.Drill, s.Arms = virtual.Ordinary, virtual.BothArms
	s.Reps = []virtual.RepSpec{{}}
	s.Camera.PitchDeg, s.Camera.Distance = 6, 3.6
	r, b := stood(t, s)
	e := b.Events()[0]
	require.True(t, r.TopHeight.Known(), r.BodyWhy)
	want := 100 * (b.Truth(e.Top).Hands[2] - b.Truth(e.StillFrom + 0.2).Hands[2])
	assert.InDelta(t, want, r.TopHeight.Value, 2*r.TopHeight.Sigma)
	assert.Greater(t, want, 50.0)
	left := 0
	for pitch := -9.0; pitch <= 1; pitch += 0.25 { // whatever of the top is in the picture: right, or none
		s.Camera.PitchDeg, s.Camera.Distance = pitch, 2.6
		if r, b = stood(t, s); b == nil {
			continue // too little of the swing is in the picture
		}
		want := 100 * (b.Truth(e.Top).Hands[2] - b.Truth(e.StillFrom + 0.2).Hands[2])
		if r.TopHeight.Known() {
			assert.InDelta(t, want, r.TopHeight.Value, 2*r.TopHeight.Sigma, "tilted %v°", pitch)
		}
		if b.Truth(e.Top).HandsPX[1] < 0 {
			left++
			assert.False(t, r.TopHeight.Known(), "tilted %v°", pitch)
			assert.Contains(t, r.BodyWhy, "out of the picture")
		}
	}
	assert.Positive(t, left, "they leave it in some")
}
