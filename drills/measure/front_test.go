package measure

import (
	"math"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/clip"
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
			want := bentArm(held)
			t.Logf("%s: bend %.1f ± %.1f of %.1f°", name, bend.Value, bend.Sigma, want)
			assert.InDelta(t, want, bend.Value, 2*bend.Sigma)
		}
	}
}

// bentArm is the angle between upper arm and forearm, degrees.
func bentArm(q truthRow) float64 {
	s, e, h := q.Joints["lead_shoulder"][2:], q.Joints["lead_elbow"][2:], q.Hands
	var dot, uu, ww float64
	for i := range h {
		u, w := e[i]-s[i], h[i]-e[i]
		dot, uu, ww = dot+u*w, uu+u*u, ww+w*w
	}
	return math.Acos(dot/math.Sqrt(uu*ww)) * 180 / math.Pi
}
