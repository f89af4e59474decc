package sight_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/eye"
	"drillbay/camera/lens"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
)

// A body whose joints are seen where they are is read as it stands; a joint that is
// hidden is not read, and named.
func TestABodyThatIsSeenRight(t *testing.T) {
	s := virtual.Default()
	s.Width, s.Height, s.Camera.PitchDeg = 640, 360, 4
	s.Reps = []virtual.RepSpec{{Hold: 1}}
	b, err := virtual.New(s)
	require.NoError(t, err)
	u, v := b.TargetPoint()
	view, err := lens.NewView(lens.Camera{Width: s.Width, Height: s.Height, Focal: b.Focal(), Target: lens.Point{U: u, V: v}})
	require.NoError(t, err)
	set := sight.Setting{View: view, Distance: s.Camera.Distance, Reach: b.HandsToHead(), Grip: s.Club.Grip}
	e := b.Events()[0]
	looks := func(hidden ...eye.Point) (out []sight.Look) {
		for at := e.StillFrom; at < e.HoldTo; at += 1 / 30.0 {
			w, j := b.Truth(at), b.Joints(at)
			l := sight.Look{At: at}
			put := func(p eye.Point, px [2]float64) {
				l.Places[p] = eye.Place{U: px[0], V: px[1], UU: 1, VV: 1, Here: 0.97, Seen: 0.95}
			}
			put(eye.Hands, w.HandsPX)
			put(eye.Head, w.HeadPX)
			for p, place := range map[eye.Point][3]float64{eye.Crown: j.Crown, eye.Neck: j.Neck, eye.LeftShoulder: j.LeadShoulder, eye.RightShoulder: j.TrailShoulder,
				eye.LeftElbow: j.LeadElbow, eye.RightElbow: j.TrailElbow, eye.LeftHip: j.LeadHip, eye.RightHip: j.TrailHip} {
				px, _ := b.See(place)
				put(p, px)
			}
			for _, p := range hidden {
				l.Places[p].Here = 0.45 // as likely hidden as not
			}
			out = append(out, l)
		}
		return out
	}
	seen := looks()
	m, err := set.Follow(seen, sight.Doubt{Distance: 0.06, Reach: 0.008, Target: 1.3, Roll: 0.3, Focal: 0.01}, false)
	require.NoError(t, err)
	body := m.Body(seen)
	home, held, at := b.Joints(e.StillFrom+0.2), b.Joints(e.Catch+0.2), b.Truth(e.Catch+0.2)
	hips := (home.LeadHip[1] + home.TrailHip[1] - held.LeadHip[1] - held.TrailHip[1]) / 2
	for name, c := range map[string]struct {
		got  sight.Measure
		want float64
	}{
		"hands under the shoulder": {body.HandsUnder, held.LeadShoulder[1] - at.Hands[1]}, "head out": {body.HeadOut, home.Crown[1] - held.Crown[1]},
		"head up": {body.HeadUp, held.Crown[2] - home.Crown[2]}, "hips out": {body.HipsOut, hips}, "elbow": {body.Elbow, held.TrailElbow[1] - held.TrailHip[1]},
	} {
		require.True(t, c.got.OK(), "%s: %s", name, body.Missing())
		t.Logf("%s: %.3f ± %.3f of %.3f m", name, c.got.Value, c.got.Sigma, c.want)
		assert.InDelta(t, c.want, c.got.Value, 0.013, "%s: what is exact is read to a centimetre", name)
		assert.Less(t, c.got.Sigma, 0.05, name)
		assert.Greater(t, c.got.Sigma, 0.002, name)
	}
	assert.InDelta(t, 0, body.Tilt.Value, 2, "nobody bends there, degrees")
	assert.False(t, body.Bend.OK(), "the arm points to the lens")

	hidden := looks(eye.RightElbow, eye.Crown)
	body = m.Body(hidden)
	assert.False(t, body.Elbow.OK() || body.HeadUp.OK() || body.HeadOut.OK())
	assert.True(t, body.HandsUnder.OK() && body.HipsOut.OK())
	assert.Contains(t, body.Missing(), "trail elbow not seen")
	assert.False(t, math.IsNaN(body.HandsUnder.Sigma))
}
