package measure

import (
	"errors"
	"io"
	"math"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/clip"
	"drillbay/camera/eye"
	"drillbay/camera/frame"
)

// coco are the joints that the COCO keypoint task has too, with its constants
// (Lin et al. 2014; the evaluation's "sigmas", values from memory).
func coco() map[eye.Point]float64 {
	return map[eye.Point]float64{
		eye.LeftShoulder: .079, eye.RightShoulder: .079, eye.LeftElbow: .072, eye.RightElbow: .072, eye.LeftWrist: .062, eye.RightWrist: .062,
		eye.LeftHip: .107, eye.RightHip: .107, eye.LeftKnee: .087, eye.RightKnee: .087, eye.LeftAnkle: .089, eye.RightAnkle: .089,
	}
}

// ofBox is the share of its box that a person covers, where no outline is given
// (common practice with COCO's measure).
const ofBox = 0.53

// similarity is a joint's part in the object keypoint similarity:
// exp(−d²/(2·s²·k²)), s² the area, k twice the joint's sigma.
func similarity(far, area, sigma float64) float64 {
	return math.Exp(-far * far / (2 * area * 4 * sigma * sigma))
}

// At a distance of one k·s the similarity is exp(−1/2) by the definition.
func TestSimilarityIsByItsDefinition(t *testing.T) {
	const area, sigma = 40000.0, 0.079
	assert.InDelta(t, math.Exp(-0.5), similarity(2*sigma*math.Sqrt(area), area, sigma), 1e-12)
	assert.InDelta(t, 1, similarity(0, area, sigma), 0)
}

// lookedAt is what the eye sees in every third picture of a rendered clip, by
// what was there.
type lookedAt struct {
	truth  truthFile
	rows   []truthRow
	places [][eye.Points]eye.Place
}

var lookedClips = map[string]*lookedAt{}

// looked gives what the eye sees in every third picture of a rendered clip,
// with its truth. Each clip is looked at once for all tests.
func looked(t *testing.T, name string, each func(f *truthFile, row truthRow, places [eye.Points]eye.Place, left bool)) {
	t.Helper()
	l := lookedClips[name]
	if l == nil {
		l = lookAt(t, name)
		lookedClips[name] = l
	}
	for i, row := range l.rows {
		each(&l.truth, row, l.places[i], l.truth.Spec.Player.Hand == "left")
	}
}

func lookAt(t *testing.T, name string) *lookedAt {
	t.Helper()
	f := readTruth(t, filepath.Join(renderedClips, name+".truth.json"))
	src, err := clip.Open(filepath.Join(renderedClips, name+".avi"), 0, nil)
	require.NoError(t, err)
	defer src.Close()
	net, err := eye.Taught()
	require.NoError(t, err)
	e, find := net.NewEye(), eye.Finder{}
	left := f.Spec.Player.Hand == "left"
	all := &lookedAt{truth: f}
	var before *frame.Picture
	for {
		p, err := src.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		if i := int(math.Round(p.Seconds() * f.Spec.FPS)); i%3 == 0 && i < len(f.Truth) {
			if s, ok := find.Follow(e, p, before, nil, left); ok {
				all.rows, all.places = append(all.rows, f.Truth[i]), append(all.places, s.Places)
			}
		}
		if before != nil {
			before.Release()
		}
		before = p
	}
	if before != nil {
		before.Release()
	}
	return all
}

// jointOf is the truth's name of a joint for a hand.
func jointOf(p eye.Point, left bool) string {
	if left {
		p = p.Mirrored() // a left-hander's lead side is the right
	}
	return map[eye.Point]string{eye.Crown: "crown", eye.Neck: "neck", eye.LeftShoulder: "lead_shoulder", eye.RightShoulder: "trail_shoulder",
		eye.LeftElbow: "lead_elbow", eye.RightElbow: "trail_elbow", eye.LeftWrist: "lead_wrist", eye.RightWrist: "trail_wrist",
		eye.LeftHip: "lead_hip", eye.RightHip: "trail_hip", eye.LeftKnee: "lead_knee", eye.RightKnee: "trail_knee",
		eye.LeftAnkle: "lead_ankle", eye.RightAnkle: "trail_ankle"}[p]
}

// The joints as the field tells them: object keypoint similarity with COCO's
// constants, and the share of joints within 0.2 of the trunk's length (PCK).
func TestTheEyesJointsAsTheFieldTellsThem(t *testing.T) {
	var sum, right, joints float64
	for _, name := range []string{"catch", "catch-left", "placed", "swing", "front-catch", "front-left"} {
		var ks, within, n float64
		looked(t, name, func(f *truthFile, row truthRow, places [eye.Points]eye.Place, left bool) {
			lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
			for _, j := range row.Joints {
				for k := range 2 {
					lo[k], hi[k] = min(lo[k], j[k]), max(hi[k], j[k])
				}
			}
			area := ofBox * (hi[0] - lo[0]) * (hi[1] - lo[1])
			neck, hip := row.Joints["neck"], row.Joints["lead_hip"]
			trunk := math.Hypot(neck[0]-hip[0], neck[1]-hip[1])
			for p, sigma := range coco() {
				j := row.Joints[jointOf(p, left)]
				if j[0] < 0 || j[1] < 0 || j[0] > float64(f.Spec.Width) || j[1] > float64(f.Spec.Height) {
					continue
				}
				n++
				q := places[p]
				far := math.Hypot(q.U-j[0], q.V-j[1])
				ks += similarity(far, area, sigma)
				if far < 0.2*trunk {
					within++
				}
			}
		})
		t.Logf("%-11s OKS %.3f, PCK at 0.2 of the trunk %.1f %%, of %.0f joints", name, ks/n, 100*within/n, n)
		sum, right, joints = sum+ks, right+within, joints+n
	}
	t.Logf("all: OKS %.3f, PCK %.1f %%", sum/joints, 100*right/joints)
	assert.Greater(t, sum/joints, 0.95, "OKS")
	assert.Greater(t, right/joints, 0.98, "PCK")
}

// Legs and forearm as the eye sees them at address, down the line and the camera
// at the height of the hands, are as long as they are of people: shares of
// stature by Drillis & Contini 1966 (in Winter, Biomechanics and Motor Control
// of Human Movement, fig. 4.1), the drawn skeletons themselves differing by up to
// a tenth. The upper arm is left out: their shoulder lies elsewhere.
func TestTheEyesLimbsAreAsLongAsPeoples(t *testing.T) {
	for _, name := range []string{"catch", "catch-left", "swing"} {
		var thigh, shank, fore []float64
		looked(t, name, func(f *truthFile, row truthRow, places [eye.Points]eye.Place, left bool) {
			if row.T > 0.6 {
				return
			}
			metre := f.Spec.Camera.Distance / f.Focal
			long := func(a, b eye.Point) float64 {
				return metre * math.Hypot(places[a].U-places[b].U, places[a].V-places[b].V) / f.Spec.Player.Stature
			}
			thigh = append(thigh, (long(eye.LeftHip, eye.LeftKnee)+long(eye.RightHip, eye.RightKnee))/2)
			shank = append(shank, (long(eye.LeftKnee, eye.LeftAnkle)+long(eye.RightKnee, eye.RightAnkle))/2)
			fore = append(fore, (long(eye.LeftElbow, eye.LeftWrist)+long(eye.RightElbow, eye.RightWrist))/2)
		})
		t.Logf("%s: thigh %.3f, shank %.3f, forearm %.3f of stature", name, share(thigh, .5), share(shank, .5), share(fore, .5))
		assert.InEpsilon(t, 0.245, share(thigh, .5), 0.15, "%s: thigh", name)
		assert.InEpsilon(t, 0.246, share(shank, .5), 0.15, "%s: shank", name)
		assert.InEpsilon(t, 0.146, share(fore, .5), 0.15, "%s: forearm", name)
	}
}
