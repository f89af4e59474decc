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
	putRight(t, b, &m, looks())
	putRightAtAddress(t, b, &m, looks())
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

// putRight has the eye see joints where they are not in the hold: put where they
// are, the body is read as it stands, and what no joint carries stays as it was.
func putRight(t *testing.T, b *virtual.Bay, m *sight.Motion, looks []sight.Look) {
	t.Helper()
	e := b.Events()[0]
	right := m.Body(looks)
	for i := range looks {
		if looks[i].At > e.Catch-0.05 {
			for _, p := range []eye.Point{eye.Neck, eye.Crown, eye.LeftShoulder, eye.RightElbow, eye.LeftHip, eye.RightHip} {
				looks[i].Places[p].U += 14
				looks[i].Places[p].V -= 9
			}
		}
	}
	wrong := m.Body(looks)
	require.Greater(t, math.Abs(wrong.HandsUnder.Value-right.HandsUnder.Value), 0.05, "m")
	joints := b.Joints(e.Catch + 0.2)
	at := func(places ...[3]float64) (p lens.Point) {
		for _, place := range places {
			px, _ := b.See(place)
			p.U, p.V = p.U+px[0]/float64(len(places)), p.V+px[1]/float64(len(places))
		}
		return p
	}
	hips := at(joints.LeadHip, joints.TrailHip)
	got := wrong.Again(sight.Joints{}, sight.Joints{At: map[eye.Point]lens.Point{eye.Neck: at(joints.Neck), eye.Crown: at(joints.Crown), eye.LeftShoulder: at(joints.LeadShoulder),
		eye.RightElbow: at(joints.TrailElbow), eye.RightHip: at(joints.TrailHip)}, Hips: &hips})
	for name, c := range map[string][2]sight.Measure{"hands under the shoulder": {got.HandsUnder, right.HandsUnder}, "head out": {got.HeadOut, right.HeadOut}, "head up": {got.HeadUp, right.HeadUp},
		"hips out": {got.HipsOut, right.HipsOut}, "elbow": {got.Elbow, right.Elbow}} {
		assert.InDelta(t, c[1].Value, c[0].Value, 0.012, "%s, m", name)
		assert.Greater(t, c[0].Sigma, 0.02, "%s: no surer than a tap", name)
	}
	assert.InDelta(t, right.Tilt.Value, got.Tilt.Value, 1.5, "degrees")
	assert.Equal(t, wrong.Home[eye.Neck], got.Home[eye.Neck])
	// One joint changes what it carries alone, and once more the same.
	neck := sight.Joints{At: map[eye.Point]lens.Point{eye.Neck: at(joints.Neck)}}
	one := wrong.Again(sight.Joints{}, neck)
	assert.NotEqual(t, wrong.Tilt, one.Tilt)
	assert.Equal(t, one.Tilt, one.Again(sight.Joints{}, neck).Tilt)
	assert.Equal(t, [5]sight.Measure{wrong.HandsUnder, wrong.HeadUp, wrong.HeadOut, wrong.HipsOut, wrong.Elbow}, [5]sight.Measure{one.HandsUnder, one.HeadUp, one.HeadOut, one.HipsOut, one.Elbow})
	trail := wrong.Again(sight.Joints{}, sight.Joints{At: map[eye.Point]lens.Point{eye.RightHip: at(joints.TrailHip)}})
	assert.NotEqual(t, wrong.Elbow, trail.Elbow)
	assert.Equal(t, wrong.HipsOut, trail.HipsOut, "the middle of the hips is put by itself")
	assert.Equal(t, sight.Body{}, sight.Body{}.Again(neck, neck), "of nothing read")
}

// putRightAtAddress has the eye see joints where they are not at address: put where they
// are, what is read against address is as it would have been, and nothing else changes.
func putRightAtAddress(t *testing.T, b *virtual.Bay, m *sight.Motion, looks []sight.Look) {
	t.Helper()
	e := b.Events()[0]
	right := m.Body(looks)
	for i := range looks {
		if looks[i].At < e.Catch-0.3 {
			for _, p := range []eye.Point{eye.Neck, eye.Crown, eye.LeftHip, eye.RightHip} {
				looks[i].Places[p].U += 14
			}
			looks[i].Places[eye.Neck].U += 8
		}
	}
	wrong := m.Body(looks)
	require.Greater(t, math.Abs(wrong.HeadOut.Value-right.HeadOut.Value), 0.05, "m")
	require.Greater(t, math.Abs(wrong.Tilt.Value-right.Tilt.Value), 3.0, "degrees")
	joints := b.Joints(e.StillFrom + 0.3)
	at := func(place [3]float64) lens.Point {
		px, _ := b.See(place)
		return lens.Point{U: px[0], V: px[1]}
	}
	a, z := at(joints.LeadHip), at(joints.TrailHip)
	home := sight.Joints{At: map[eye.Point]lens.Point{eye.Neck: at(joints.Neck), eye.Crown: at(joints.Crown)}, Hips: &lens.Point{U: (a.U + z.U) / 2, V: (a.V + z.V) / 2}}
	got := wrong.Again(home, sight.Joints{})
	for name, c := range map[string][2]sight.Measure{"head out": {got.HeadOut, right.HeadOut}, "head up": {got.HeadUp, right.HeadUp}, "hips out": {got.HipsOut, right.HipsOut}} {
		assert.InDelta(t, c[1].Value, c[0].Value, 0.012, "%s, m", name)
		assert.Greater(t, c[0].Sigma, 0.02, "%s: no surer than a tap", name)
	}
	assert.InDelta(t, right.Tilt.Value, got.Tilt.Value, 1.5, "degrees")
	assert.Equal(t, [2]sight.Measure{wrong.HandsUnder, wrong.Elbow}, [2]sight.Measure{got.HandsUnder, got.Elbow}, "address does not carry them")
	assert.Equal(t, wrong.Held[eye.Neck], got.Held[eye.Neck])
	assert.Equal(t, at(joints.Neck), got.Home[eye.Neck])
}
