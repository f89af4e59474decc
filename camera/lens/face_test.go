package lens_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/lens"
)

// A camera that stands beside the line through belly and ball is told by how much
// and to which side, however it is turned; whatever it looks at, and with either
// hand's picture.
func TestTheCameraIsLedBeforeTheChest(t *testing.T) {
	const f, width, height, distance = 760.0, 1280, 720, 3.2
	for _, off := range []float64{-0.3, 0, 0.25} { // m toward the target
		for _, yaw := range []float64{-6, 0, 5} { // degrees
			see := func(along, behind, up float64) lens.Point { // + toward the target
				x, z := along-off, distance+behind
				s, c := math.Sincos(yaw * math.Pi / 180)
				u, d := x*c-z*s, x*s+z*c
				return lens.Point{U: width/2 + f*u/d, V: height/2 - f*up/d}
			}
			v, err := lens.NewView(lens.Camera{Width: width, Height: height, Focal: f, Target: lens.Point{U: width / 2, V: height / 2}})
			require.NoError(t, err)
			ball := see(0, -0.45, -0.8)
			o := v.FaceOffsetOf(lens.Chest{Hands: see(0.02, 0, 0), Hips: see(0, 0.39, 0.1), Ball: &ball, Distance: distance, Reach: 0.85})
			assert.InDelta(t, -off, o.Along, 0.02, "%v m off, turned %v°", off, yaw)
			assert.Less(t, o.AlongSigma, 0.06)
		}
	}
}

// The camera is sent back until the club stays in the picture.
func TestTheClubStaysInThePictureFaceOn(t *testing.T) {
	at := func(distance float64) lens.FaceOffset {
		v, err := lens.NewView(lens.Camera{Width: 1280, Height: 720, Focal: 760, Target: lens.Point{U: 640, V: 360}})
		require.NoError(t, err)
		return v.FaceOffsetOf(lens.Chest{Hands: lens.Point{U: 640, V: 360}, Hips: lens.Point{U: 640, V: 350}, Distance: distance, Reach: 0.85})
	}
	near, far := at(1.8), at(3.4)
	assert.Positive(t, near.Back)
	assert.Negative(t, far.Back)
	assert.InDelta(t, 0, at(1.8+near.Back).Back, 0.01, "there it is right")
}
