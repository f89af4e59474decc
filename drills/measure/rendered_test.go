package measure

import (
	"math"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/clip"
	"drillbay/camera/eye"
	"drillbay/drills"
)

const renderedClips = "../../testdata/clips"

// Short clips of rendered people, which the eye did not learn from, with exact
// truth: camera/eye/learn/practice.py drew them. Two are left-handed.
func TestRenderedRepsAreRead(t *testing.T) {
	var off []float64
	for _, name := range []string{"catch", "catch-left", "placed", "swing"} {
		f := readTruth(t, filepath.Join(renderedClips, name+".truth.json"))
		k, err := f.bay().Known()
		require.NoError(t, err)
		src, err := clip.Open(filepath.Join(renderedClips, name+".avi"), 0, nil)
		require.NoError(t, err)
		reps, _, bad, err := Reps(src, k, Any, nil)
		require.NoError(t, err)
		src.Close()
		require.Zero(t, bad)
		require.Len(t, reps, 1, name)
		r, w := reps[0].Rep, f.want(0)
		t.Log(name, line(w, r))
		frame := 1 / f.Spec.FPS
		assert.InDelta(t, w.start, r.Moments.Start, 0.1, "%s: start", name)
		assert.NotEqual(t, map[string]drills.Manner{"swung": drills.Placed, "placed": drills.Swung}[w.manner], r.Manner, "%s: manner, unsure at most", name)
		if !math.IsNaN(w.impact) {
			assert.InDelta(t, w.impact, r.Moments.Impact, 2*frame, "%s: impact", name)
			assert.InDelta(t, w.top, r.Moments.Top, 0.12, "%s: top", name)
			if !r.ShaftLine.OK() {
				assert.NotEmpty(t, r.Why, "%s: no reading without a reason", name)
				continue
			}
		} else {
			assert.InDelta(t, w.turn, r.Moments.BackStart, 0.08, "%s: turn-round", name)
			within := 1.0 // frames, of a club that is stopped
			if w.manner == "placed" {
				within = 5
			}
			assert.InDelta(t, w.catch, r.Moments.Catch, within*frame, "%s: catch", name)
			assert.InDelta(t, w.depth, r.Depth.Value, 3, "%s: depth, cm", name)
		}
		require.True(t, r.ShaftLine.OK(), "%s: %s", name, r.Why)
		f.bodyIs(t, name, w, &reps[0])
		assert.InDelta(t, w.line, r.ShaftLine.Value, 3*r.ShaftLine.Sigma, "%s: what it says of its error", name)
		assert.InDelta(t, w.line, r.ShaftLine.Value, 3.5, "%s: shaft line", name)
		off = append(off, r.ShaftLine.Value-w.line)
	}
	require.GreaterOrEqual(t, len(off), 3, "readings")
	var mean float64
	for _, x := range off {
		mean += x / float64(len(off))
	}
	assert.InDelta(t, 0, mean, 1.4, "mean error of the shaft line, degrees")
}

// From the front the eye sees hands and head as well as from behind.
func TestTheEyeSeesRenderedPlayersFromTheFront(t *testing.T) {
	for _, name := range []string{"front-catch", "front-left"} {
		var hands, head []float64 // cm, NaN: not seen
		looked(t, name, func(f *truthFile, row truthRow, places [eye.Points]eye.Place, _ bool) {
			cm := 100 * f.Spec.Camera.Distance / f.Focal
			far := func(p eye.Point, at [2]float64) float64 {
				q := places[p]
				if q.Here < 0.5 {
					return math.NaN()
				}
				return cm * math.Hypot(q.U-at[0], q.V-at[1])
			}
			hands, head = append(hands, far(eye.Hands, row.HandsPX)), append(head, far(eye.Head, row.HeadPX))
		})
		all := len(hands)
		require.Equal(t, (len(lookedClips[name].truth.Truth)+2)/3, all, "%s: the player is there in every look", name)
		seen := func(x []float64) []float64 { return slices.DeleteFunc(x, math.IsNaN) }
		hands, head = seen(hands), seen(head)
		t.Logf("%s: hands %.1f cm median, %.1f at 95 %%; head %.1f, %.1f; of %d looks %d and %d", name, share(hands, 0.5), share(hands, 0.95), share(head, 0.5), share(head, 0.95), all, len(hands), len(head))
		assert.GreaterOrEqual(t, len(hands), all*9/10, "%s: hands seen", name)
		assert.LessOrEqual(t, share(hands, 0.5), 4.0, "%s: hands, cm", name)
		assert.LessOrEqual(t, share(head, 0.5), 3.0, "%s: head of the club, cm", name)
	}
}

// bodyIs holds the body's readings against the joints that were drawn.
func (f truthFile) bodyIs(t *testing.T, name string, w wanted, r *Result) {
	b := r.Rep.Body
	row := func(at float64) truthRow { return f.Truth[int(math.Round(at*f.Spec.FPS))] }
	read := w.catch + 0.15
	if math.IsNaN(w.catch) {
		read = w.level // a whole swing is read as it passes
	}
	home, held := row(w.start-0.25), row(read)
	at := func(q truthRow, joint string) (y, z float64) { return q.Joints[joint][3], q.Joints[joint][4] }
	hips := func(q truthRow) (y, z float64) {
		a, b := q.Joints["lead_hip"], q.Joints["trail_hip"]
		return (a[3] + b[3]) / 2, (a[4] + b[4]) / 2
	}
	lean := func(q truthRow) float64 {
		y, z := hips(q)
		v, u := at(q, "neck")
		return math.Atan2(y-v, u-z) * 180 / math.Pi
	}
	sy, _ := at(held, "lead_shoulder")
	c0, u0 := at(home, "crown")
	c1, u1 := at(held, "crown")
	h0, _ := hips(home)
	h1, _ := hips(held)
	elbow, _ := at(held, "trail_elbow")
	hip, _ := at(held, "trail_hip")
	for _, x := range []struct {
		part        drills.BodyPart
		want, bound float64 // of three reps
	}{
		{drills.HandsUnder, 100 * (sy - held.Hands[1]), 4},
		{drills.SpineTilt, lean(held) - lean(home), 4},
		{drills.HeadUp, 100 * (u1 - u0), 5},
		{drills.HeadOut, 100 * (c0 - c1), 3},
		{drills.HipsOut, 100 * (h0 - h1), 3},
		{drills.TrailElbow, 100 * (elbow - hip), 5},
	} {
		got := b[x.part]
		t.Logf("%s: %s: %.1f ± %.1f of %.1f %s", name, x.part, got.Value, got.Sigma, x.want, x.part.Unit())
		require.True(t, got.Known(), "%s: %s: %s", name, x.part, r.Rep.BodyWhy)
		assert.InDelta(t, x.want, got.Value, x.bound, "%s: %s", name, x.part)
		assert.InDelta(t, x.want, got.Value, 3*got.Sigma, "%s: %s: what it says of its error", name, x.part)
	}
	assert.False(t, b[drills.ArmBend].Known(), "%s: the arm points to the lens: its bend is not told", name)
	assert.NotEmpty(t, r.Rep.BodyWhy, "%s: no reading without a reason", name)
}
