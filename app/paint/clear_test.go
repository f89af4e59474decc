package paint

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/app"
)

var sizes = [][2]int{{1024, 600}, {1280, 720}, {1280, 800}, {1366, 768}, {1920, 1080}, {2560, 1600}}

// seen has check look at a screen at each size.
func seen(t *testing.T, name string, check func(v *app.View, size [2]int)) {
	t.Helper()
	done := false
	for _, x := range screens() {
		for _, size := range sizes {
			if x.name == name {
				v := x.view("daylight", size[0], size[1])
				check(v, size)
				v.Release()
				done = true
			}
		}
	}
	require.True(t, done, name)
}

// With two pictures the shaft from above and the words leave the head free that they
// are about.
func TestWhatIsReadOfTheHeadIsNotCovered(t *testing.T) {
	seen(t, "lookback-two-head", func(v *app.View, size [2]int) {
		var plates []app.Item
		rings := 0
		for k, i := range v.Items {
			if i.Shape == app.Text && i.Role == app.Core && k > 0 { // words on a plate of their own
				plates = append(plates, v.Items[k-1])
			}
		}
		for _, i := range v.Items {
			if i.Shape != app.Ring || i.Role != app.Core {
				continue
			}
			rings++
			for _, p := range plates {
				require.False(t, cross(app.Rect{X: i.X - i.R, Y: i.Y - i.R, W: 2 * i.R, H: 2 * i.R}, app.Rect{X: p.X, Y: p.Y, W: p.W, H: p.H}), "%v: %+v", size, p)
			}
		}
		require.Equal(t, 2, rings, "%v: now and before", size)
	})
}

// However many reps lie at one place, and however low the scale is, the newest mark stays
// below the words of the scale.
func TestTheNewestMarkLeavesTheScalesWordsFree(t *testing.T) {
	for name, shape := range map[string]app.Shape{"practice-unsure": app.Ring, "practice-body": app.Disc} {
		seen(t, name, func(v *app.View, size [2]int) {
			words, newest := app.Item{}, app.Item{}
			for _, i := range v.Items {
				switch {
				case i.Shape == app.Text && i.Text == "outside":
					words = i
				case i.Shape == shape && i.X > v.Width/2 && i.Y > words.Y && words.Size > 0 && i.Y < v.Height*0.85:
					newest = i
				}
			}
			require.NotZero(t, words.Size)
			require.NotZero(t, newest.R)
			require.Greater(t, newest.Y-newest.R*0.5/0.31, words.Y, "%s at %v: its post is longer than its ring", name, size)
		})
	}
}

// Why somebody needs the coach is whole between the lines of the clinic's board.
func TestWhySomebodyNeedsTheCoachIsNotCrossedOut(t *testing.T) {
	seen(t, "clinic", func(v *app.View, size [2]int) {
		found := 0
		for _, i := range v.Items {
			if i.Shape != app.Text || !strings.Contains(i.Text, " of ") || !strings.HasPrefix(i.Text, "inside") && !strings.HasPrefix(i.Text, "placed") {
				continue
			}
			found++
			for _, r := range v.Items {
				if (r.Shape == app.Fill || r.Shape == app.Frame) && r.X <= i.X+1 && r.Role != app.Page {
					for _, edge := range []float64{r.Y, r.Y + r.H} {
						require.False(t, edge > i.Y-i.Size*app.CapHeight && edge < i.Y+i.Size*0.2, "%v: %q is crossed at %v: %+v", size, i.Text, edge, r)
					}
				}
			}
		}
		require.Equal(t, 2, found, "%v", size)
	})
}
