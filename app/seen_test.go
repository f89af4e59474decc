package app

import (
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/watch"
)

// What the eye saw in the picture that is shown is drawn over it where it is
// sure; what is not seen for a while is said in one sentence, while somebody
// is there.
func TestWhatTheEyeSeesIsDrawn(t *testing.T) {
	spot := func(x, y, chance, lost float64) watch.Spot {
		return watch.Spot{Pixel: drills.Pixel{X: x, Y: y}, SdX: 1, SdY: 1, Chance: chance, Lost: lost}
	}
	hands, head := spot(20, 14, 0.9, 0), spot(40, 30, 0.7, 0)
	cases := []struct {
		name  string
		seen  watch.Seen
		rings int
		shaft bool
		says  string
	}{
		{"all", watch.Seen{Player: true, Hands: hands, Head: head}, 2, true, ""},
		{"the head just lost", watch.Seen{Player: true, Hands: hands, Head: spot(40, 30, 0.5, 0.6)}, 1, false, ""},
		{"the head lost", watch.Seen{Player: true, Hands: hands, Head: spot(40, 30, 0.5, 0.8)}, 1, false, "Clubhead not seen"},
		{"the hands lost", watch.Seen{Player: true, Hands: spot(20, 14, 0.1, 0.8), Head: head}, 1, false, "Hands not seen"},
		{"both lost", watch.Seen{Player: true, Hands: spot(20, 14, 0.1, 2), Head: spot(0, 0, 0, 2)}, 0, false, "Hands not seen"},
		{"nobody", watch.Seen{Head: spot(0, 0, 0, 3)}, 0, false, ""},
	}
	for _, screen := range []string{"practice", "lens"} {
		for _, c := range cases {
			t.Run(screen+", "+c.name, func(t *testing.T) {
				a := martaPractises()
				a.d.Bay = bay.Bay{Width: 64, Height: 36, Target: drills.Pixel{X: 30, Y: 12}, Club: 0.94, Grip: 0.09, Distance: 3, Set: true}
				a.App.bay = a.d.Bay
				var asked float64
				a.d.Seen = func(at float64) (watch.Seen, bool) { asked = at; return c.seen, true }
				for range 4 {
					a.key(PageOn)
				}
				if screen == "lens" {
					a.key(Lens)
				}
				v := a.step()
				require.Equal(t, screen, v.Screen)
				require.InDelta(t, 44/30.0, asked, 1e-6, "the time of the picture that is shown")
				pic, rings, shaft, faint := Item{}, []Item{}, 0, 0
				for _, i := range v.Items {
					switch {
					case i.Shape == Picture && i.Slot == 0:
						pic = i
					case i.Shape == Ring && i.Role == Core:
						rings = append(rings, i)
					}
				}
				x := func(p drills.Pixel) (float64, float64) {
					return over{Rect{pic.X, pic.Y, pic.W, pic.H}, pic.Crop}.x(p.X), over{Rect{pic.X, pic.Y, pic.W, pic.H}, pic.Crop}.y(p.Y)
				}
				hx, hy := x(hands.Pixel)
				ex, ey := x(head.Pixel)
				tx, ty := x(a.App.bay.TargetIn(64, 36)) // the lens screen offers lines, and finds it anew
				for _, i := range v.Items {
					if i.Shape == Line && i.Role == Core && i.X == hx && i.Y == hy && i.W == ex && i.H == ey {
						shaft++
					}
					if i.Shape == Line && i.Role == Core && i.X == tx && i.Y == ty && i.Dash > 0 {
						faint++
					}
				}
				require.Len(t, rings, c.rings)
				if c.rings == 2 {
					require.Equal(t, [4]float64{hx, hy, ex, ey}, [4]float64{rings[0].X, rings[0].Y, rings[1].X, rings[1].Y})
				}
				require.Equal(t, c.shaft, shaft == 1)
				require.Equal(t, c.seen.Hands.Sure(), faint == 1, "the line through the target point")
				for _, s := range []string{"Hands not seen", "Clubhead not seen"} {
					require.Equal(t, s == c.says, v.Says(s), s)
				}
			})
		}
	}
}

// Where nothing was looked at about the time of the picture, nothing is drawn.
func TestNothingIsDrawnOverAPictureThatWasNotLookedAt(t *testing.T) {
	a := martaPractises()
	a.d.Seen = func(float64) (watch.Seen, bool) { return watch.Seen{Player: true, Hands: watch.Spot{Lost: 3}}, false }
	for range 4 {
		a.key(PageOn)
	}
	require.False(t, a.step().Says("Hands not seen"))
}
