package rep

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/sight"
	"drillbay/drills"
)

// heldFront is a catch seen from the front: swung back from hanging straight down
// in long seconds, and held at so many degrees of elevation, sure to sigma.
func heldFront(lift, sigma, long float64) *sight.Front {
	nan, none := math.NaN(), sight.Measure{Value: math.NaN(), Sigma: math.NaN()}
	f := &sight.Front{Times: sight.Times{Start: 10, Turn: 10, Level: nan, Catch: 10 + long, Top: nan, Impact: nan, Ending: 0.3}, Held: true, Frame: 1 / 30.0,
		Lift: sight.Measure{Value: lift, Sigma: sigma}, HeadBack: sight.Measure{Value: 0.03, Sigma: 0.01}, HipsBack: none, HandsThigh: none, ArmBack: sight.Measure{Value: 40, Sigma: 2}, Bend: none, Ball: sight.Measure{Value: 0.6, Sigma: 0.05}}
	// A swing that gathers speed all the way until it is stopped.
	for i := range 60 {
		at := long * float64(i) / 60
		f.At, f.Arc = append(f.At, 10+at), append(f.Arc, (90+lift)*math.Pow(at/long, 2))
	}
	return f
}

// A club that stops more than 12° before level is short from the front as well: at
// 0.85 m from hands to head its head hangs 18 cm below the hands (common
// practice).
func TestAShortCatchIsShortFromTheFront(t *testing.T) {
	for _, c := range []struct {
		lift, sigma float64
		short, just bool
	}{{0, 1, false, false}, {-11, 1, false, false}, {-12.5, 1, true, true}, {-15, 1, true, false}, {-15, 3, true, true}, {-22, 2, true, false}} {
		r, ok := OfFront(heldFront(c.lift, c.sigma, 0.6), Known{Scale: true})
		require.True(t, ok)
		assert.Equal(t, c.short, r.Verdict == drills.Short, "%v°", c.lift)
		assert.Equal(t, c.just, r.Just, "%v ± %v°", c.lift, c.sigma)
		assert.True(t, r.FaceOn())
		assert.False(t, r.ShaftLine.OK())
		assert.Equal(t, c.lift, r.Elevation.Value)
		assert.Equal(t, c.short, math.IsNaN(r.Moments.Level), "a short club is never level")
		if c.short {
			assert.Contains(t, r.Why, "before level; the shaft line is not read face-on")
		}
	}
}

func TestARepFromTheFrontTellsWhatIsSeenThere(t *testing.T) {
	r, ok := OfFront(heldFront(0, 1, 0.6), Known{Scale: true})
	require.True(t, ok)
	assert.Equal(t, drills.Swung, r.Manner)
	assert.Equal(t, drills.Reading{Value: 3, Sigma: 1}, r.Body[drills.HeadBack], "cm")
	assert.Equal(t, drills.Reading{Value: 40, Sigma: 2}, r.Body[drills.ArmBack], "degrees")
	assert.InDelta(t, 60, r.Body[drills.BallPlace].Value, 1e-9, "%")
	assert.False(t, r.Body[drills.HipsBack].Known())
	r, ok = OfFront(heldFront(0, 1, 0.6), Known{})
	require.True(t, ok)
	assert.Equal(t, NoScale, r.BodyWhy)
	assert.Equal(t, drills.Body{}, r.Body)

	// From the turn-round to the catch it takes between 0.28 s and 2.7 s.
	for long, want := range map[float64]bool{0.27: false, 0.29: true, 2.6: true, 2.8: false} {
		_, ok := OfFront(heldFront(0, 1, long), Known{Scale: true})
		assert.Equal(t, want, ok, "%v s", long)
	}
}

// How it was swung is told by how the last of the way went; where that was not
// seen nothing is said, and a pause on the way is a placement all the same.
func TestTheMannerFromTheFront(t *testing.T) {
	swing := heldFront(0, 1, 0.6)
	unseen := heldFront(0, 1, 0.6)
	unseen.Ending = math.NaN()
	few := heldFront(0, 1, 0.6)
	few.At, few.Arc = few.At[:3], few.Arc[:3]
	placed := heldFront(0, 1, 0.9)
	placed.Ending = 0.7
	for i := range placed.Arc { // a minimum-jerk movement (Flash & Hogan 1985)
		x := float64(i) / 60
		placed.Arc[i] = 90 * x * x * x * (10 - 15*x + 6*x*x)
	}
	paused := heldFront(0, 1, 1.2)
	for i := range paused.Arc {
		if at := paused.At[i] - 10; at > 0.5 && at < 0.8 {
			paused.Arc[i] = 40
		} else if at >= 0.8 {
			paused.Arc[i] = 40 + 50*math.Pow((at-0.8)/0.4, 2)
		} else {
			paused.Arc[i] = 40 * math.Pow(at/0.5, 2)
		}
	}
	for name, c := range map[string]struct {
		f    *sight.Front
		want drills.Manner
	}{"a swing": {swing, drills.Swung}, "its end not seen": {unseen, drills.Unsure}, "hardly seen": {few, drills.Unsure}, "a placement": {placed, drills.Placed}, "with a pause": {paused, drills.Placed}} {
		r, ok := OfFront(c.f, Known{})
		require.True(t, ok, name)
		assert.Equal(t, c.want, r.Manner, name)
	}
}

// A whole swing from the front has a tempo: 0.75 s back and 0.25 s down (common
// practice). One that takes much longer or shorter is none.
func TestAWholeSwingFromTheFront(t *testing.T) {
	swing := func(back, down float64) *sight.Front {
		f := heldFront(0, 1, 0.6)
		f.Held, f.Catch, f.Top, f.Impact = false, math.NaN(), f.Start+back, f.Start+back+down
		return f
	}
	r, ok := OfFront(swing(0.75, 0.25), Known{Scale: true})
	require.True(t, ok)
	assert.InDelta(t, 3, r.Tempo, 1e-9)
	assert.Equal(t, drills.Swung, r.Manner)
	assert.Equal(t, drills.NoReading, r.Verdict)
	for _, c := range [][2]float64{{0.38, 0.25}, {1.75, 0.3}, {0.75, 0.11}, {0.75, 0.67}} {
		_, ok := OfFront(swing(c[0], c[1]), Known{Scale: true})
		assert.False(t, ok, "%v s back, %v s down", c[0], c[1])
	}
	for _, c := range [][2]float64{{0.42, 0.25}, {1.65, 0.6}, {0.75, 0.13}} {
		_, ok := OfFront(swing(c[0], c[1]), Known{Scale: true})
		assert.True(t, ok, "%v s back, %v s down", c[0], c[1])
	}
}

// How smooth it was is told of the whole way to the catch, where the shaft hangs 90°
// and its elevation from straight down.
func TestTheSmoothnessFromTheFront(t *testing.T) {
	f := heldFront(-6, 1, 0.7)
	at, arc := append(append([]float64{}, f.At[1:]...), f.Catch), append(append([]float64{}, f.Arc[1:]...), 84)
	r, ok := OfFront(f, Known{})
	require.True(t, ok)
	assert.InDelta(t, SPARC(speeds(at, arc), 60), r.Smoothness, 1e-9)
}
