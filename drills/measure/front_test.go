package measure

import (
	"math"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/clip"
	"drillbay/camera/frame"
	"drillbay/camera/virtual"
	"drillbay/drills"
)

// Face-on, on short clips of rendered people that the eye did not learn from, one
// of them left-handed: the body along the target line, the moments, and no shaft
// line.
func TestRenderedRepsAreReadFaceOn(t *testing.T) {
	for _, name := range []string{"front-catch", "front-left"} {
		f := readTruth(t, filepath.Join(renderedClips, name+".truth.json"))
		b := f.bay()
		b.Target, b.FaceOn = nil, true
		k, err := b.Known()
		require.NoError(t, err)
		src, err := clip.Open(filepath.Join(renderedClips, name+".avi"), 0, nil)
		require.NoError(t, err)
		defer src.Close()
		reps, _, _, err := Reps(src, k, Any, nil)
		require.NoError(t, err)
		require.Len(t, reps, 1, name)
		r := reps[0].Rep
		w := f.want(0)
		assert.True(t, reps[0].FaceOn)
		assert.False(t, r.ShaftLine.OK(), "%s: the shaft line is not told from there", name)
		assert.Equal(t, drills.NoReading, r.Verdict)
		assert.Equal(t, drills.SeenFaceOn, r.Why)
		assert.NotEqual(t, drills.Placed, r.Manner, "%s: it was swung", name)
		assert.InDelta(t, w.start, r.Moments.Start, 0.1, "%s: start", name)
		assert.InDelta(t, w.turn, r.Moments.BackStart, 0.1, "%s: turn-round", name)
		assert.InDelta(t, w.catch, r.Moments.Catch, 2/f.Spec.FPS, "%s: catch", name)

		row := func(at float64) truthRow { return f.Truth[int(math.Round(at*f.Spec.FPS))] }
		home, held := row(w.start-0.25), row(w.catch+0.15)
		at := func(q truthRow, joint string) (x, z float64) { return q.Joints[joint][2], q.Joints[joint][4] }
		hips := func(q truthRow) float64 {
			a, _ := at(q, "lead_hip")
			b, _ := at(q, "trail_hip")
			return (a + b) / 2
		}
		c0, _ := at(home, "crown")
		c1, _ := at(held, "crown")
		hip, _ := at(held, "trail_hip")
		knee, _ := at(held, "trail_knee")
		sx, sz := at(held, "lead_shoulder")
		for _, x := range []struct {
			part        drills.BodyPart
			want, bound float64
		}{
			{drills.HeadBack, 100 * (c0 - c1), 3}, {drills.HipsBack, 100 * (hips(home) - hips(held)), 3},
			{drills.HandsThigh, 100 * ((2*hip+knee)/3 - held.Hands[0]), 5},
			{drills.ArmBack, math.Atan2(sx-held.Hands[0], sz-held.Hands[2]) * 180 / math.Pi, 4},
		} {
			got := r.Body[x.part]
			require.True(t, got.Known(), "%s: %s: %s", name, x.part, r.BodyWhy)
			t.Logf("%s: %s: %.1f ± %.1f of %.1f %s", name, x.part, got.Value, got.Sigma, x.want, x.part.Unit())
			assert.InDelta(t, x.want, got.Value, x.bound, "%s: %s", name, x.part)
			assert.InDelta(t, x.want, got.Value, 3*got.Sigma, "%s: %s: what it says of its error", name, x.part)
		}
		if bend := r.Body[drills.ArmBend]; bend.Known() {
			want := bentBy([3]float64(held.Joints["lead_shoulder"][2:5]), [3]float64(held.Joints["lead_elbow"][2:5]), held.Hands)
			t.Logf("%s: bend %.1f ± %.1f of %.1f°", name, bend.Value, bend.Sigma, want)
			assert.InDelta(t, want, bend.Value, 2*bend.Sigma)
		}
	}
}

// A drawn bay seen from the front, for either hand: the readings against the joints
// that were drawn, and how the club was swung.
func TestDrawnRepsAreReadFaceOn(t *testing.T) {
	var bends []float64
	for _, hand := range []virtual.Hand{virtual.RightHand, virtual.LeftHand} {
		s := virtual.Default()
		s.Width, s.Height, s.Seed = 960, 540, 11
		s.Player.Hand = hand
		s.Camera = virtual.Camera{Distance: 3.3, Height: 0.85, Lateral: 0.1, HFOVDeg: 72, RollDeg: 1, FaceOn: true}
		s.Reps = []virtual.RepSpec{{ShaftLineDeg: 4, Still: 1, Hold: 1}, {ShaftLineDeg: -12, HandsX: -0.36, Still: 1, Hold: 1.1}, {ShaftLineDeg: 10, Manner: virtual.Creep, Back: 1.6, Still: 1, Hold: 1}}
		if hand == virtual.LeftHand {
			s.Reps = s.Reps[:1]
		}
		bay, err := virtual.New(s)
		require.NoError(t, err)
		b := bayOf(s, bay)
		b.Target, b.FaceOn = nil, true
		k, err := b.Known()
		require.NoError(t, err)
		reps, _, _, err := Reps(&drawn{bay: bay, s: s, pool: frame.NewPool(2 << 30)}, k, Any, nil)
		require.NoError(t, err)
		require.Len(t, reps, len(s.Reps))
		for i, e := range bay.Events() {
			r := reps[i].Rep
			home, held := bay.Joints(e.StillFrom+0.3), bay.Joints(e.Catch+0.2)
			truth := bay.Truth(e.Catch + 0.2)
			assert.InDelta(t, e.Catch, r.Moments.Catch, 0.12, "rep %d: catch", i+1)
			assert.NotEqual(t, map[virtual.Manner]drills.Manner{virtual.Creep: drills.Swung, virtual.Swing: drills.Placed}[e.Manner], r.Manner, "rep %d: unsure at most", i+1)
			thigh := (2*held.TrailHip[0] + held.TrailKnee[0]) / 3
			bend := bentBy(held.LeadShoulder, held.LeadElbow, truth.Hands)
			for _, x := range []struct {
				part        drills.BodyPart
				want, bound float64
			}{
				{drills.HeadBack, 100 * (home.Crown[0] - held.Crown[0]), 3}, {drills.HipsBack, 100 * (home.LeadHip[0] + home.TrailHip[0] - held.LeadHip[0] - held.TrailHip[0]) / 2, 3},
				{drills.HandsThigh, 100 * (thigh - truth.Hands[0]), 5},
				{drills.ArmBack, math.Atan2(held.LeadShoulder[0]-truth.Hands[0], held.LeadShoulder[2]-truth.Hands[2]) * 180 / math.Pi, 4},
				{drills.ArmBend, bend, 15},
			} {
				got := r.Body[x.part]
				t.Logf("%s %d: %s: %.1f ± %.1f of %.1f %s", hand, i+1, x.part, got.Value, got.Sigma, x.want, x.part.Unit())
				if x.part == drills.ArmBend && !got.Known() {
					assert.NotEmpty(t, r.BodyWhy)
					continue
				}
				require.True(t, got.Known(), "%s: %s", x.part, r.BodyWhy)
				assert.InDelta(t, x.want, got.Value, min(x.bound, 3*got.Sigma+0.5), "%s, rep %d: %s", hand, i+1, x.part)
				if x.part == drills.ArmBend {
					bends = append(bends, math.Abs(got.Value-bend))
				}
			}
		}
	}
	t.Logf("bends off by %.1f", bends)
}

// bentBy is the angle between two limbs, degrees.
func bentBy(a, b, c [3]float64) float64 {
	var dot, uu, ww float64
	for i := range a {
		u, w := b[i]-a[i], c[i]-b[i]
		dot, uu, ww = dot+u*w, uu+u*u, ww+w*w
	}
	return math.Acos(dot/math.Sqrt(uu*ww)) * 180 / math.Pi
}
