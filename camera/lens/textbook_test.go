package lens

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The camera matrix of Hartley & Zisserman, Multiple View Geometry, 2nd ed.,
// example 6.2 (p. 163), its calibration and its centre, as printed there. Its
// X axis is taken for the target line. X, −Y and −Z are then a right-handed bay
// with up above in the picture.
var (
	textbookMatrix = [3][4]float64{{353.553, 339.645, 277.744, -1.44946e6}, {-103.528, 23.3212, 459.607, -6.32525e5}, {0.707107, -0.353553, 0.612372, -918.559}}
	textbookCentre = [3]float64{1000, 2000, 1500}
)

// straightened projects a world point with the printed camera after K = (468.2 91.2 300; 0
// 427.2 200; 0 0 1) was taken out, as a camera of square pixels, 500 px of focal length and
// 1000 × 800 px.
func straightened(w [4]float64) (p Point, depth float64) {
	var x [3]float64
	for i, row := range textbookMatrix {
		for k := range w {
			x[i] += row[k] * w[k]
		}
	}
	b := (x[1]/x[2] - 200) / 427.2
	a := (x[0]/x[2] - 300 - 91.2*b) / 468.2
	return Point{500 + 500*a, 400 + 500*b}, x[2]
}

// A view that is given no more than the vanishing point of the target line and
// the roll sees every point where the printed matrix does.
func TestAViewSeesWhatTheTextbooksCameraSees(t *testing.T) {
	target, _ := straightened([4]float64{1, 0, 0, 0})
	above, _ := straightened([4]float64{0, 0, 1, 0}) // the vanishing point of what is upright
	roll := degrees(math.Atan2(above.U-500, above.V-400))
	v, err := NewView(Camera{Width: 1000, Height: 800, Focal: 500, Target: target, Roll: roll})
	require.NoError(t, err)
	for _, q := range []Vec{{2, 0.3, -0.4}, {3, -0.5, 0.2}, {2.5, 0.2, 0.1}, {4, 0.6, -1}} {
		want, depth := straightened([4]float64{textbookCentre[0] + q.X, textbookCentre[1] - q.Y, textbookCentre[2] - q.Z, 1})
		require.Positive(t, depth)
		got, ok := v.Project(q)
		require.True(t, ok)
		// The matrix is printed with six digits, and a few metres are little
		// beside its centre.
		assert.InDelta(t, want.U, got.U, 1.5, "%v", q)
		assert.InDelta(t, want.V, got.V, 1.5, "%v", q)
	}
}
