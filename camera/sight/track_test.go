package sight_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"sort"
	"strconv"
	"testing"

	"drillbay/camera/virtual"
)

func TestZZ(t *testing.T) {
	n := 60
	if v, err := strconv.Atoi(os.Getenv("N")); err == nil {
		n = v
	}
	var errs, z, zl, el []float64
	fails := 0
	for i, s := range virtual.Spread(901, n) {
		if s.Drill == virtual.Ordinary {
			continue
		}
		b, err := virtual.New(s)
		if err != nil {
			t.Fatal(err)
		}
		r := rand.New(rand.NewPCG(uint64(i), 5))
		e := b.Events()[0]
		set, doubt := toldSetting(b, r)
		m, err := set.Follow(looksOf(b, usualNoise(), e.StillFrom, e.HoldTo, r), doubt, false)
		if err != nil {
			fmt.Println(i, err)
			fails++
			continue
		}
		h := m.Poses[m.Hold]
		w := b.Truth(e.Catch + 0.1)
		lx := b.Lens()
		d := h.Line - w.ShaftLineDeg
		fmt.Printf("%3d fps %.0f D %.1f line %6.1f %+6.2f ± %.2f lift %6.1f %+5.1f ± %.1f  fwd err %+.3f ± %.3f misfit %.2f knobs %.2f to %+.3f poses %d\n", i, s.FPS, s.Camera.Distance, w.ShaftLineDeg, d, h.LineSigma, w.ElevationDeg, h.Lift-w.ElevationDeg, h.LiftSigma,
			h.Hands.X-(w.Hands[0]-lx[0]), h.Forward, m.Misfit, m.Knobs, m.To-e.Catch, len(m.Poses))
		errs = append(errs, math.Abs(d))
		z = append(z, math.Abs(d)/h.LineSigma)
		el = append(el, math.Abs(h.Lift-w.ElevationDeg))
		zl = append(zl, math.Abs(h.Lift-w.ElevationDeg)/h.LiftSigma)
	}
	q := func(x []float64, p float64) float64 { sort.Float64s(x); return x[int(p*float64(len(x)-1))] }
	in := func(x []float64, k float64) float64 {
		n := 0
		for _, v := range x {
			if v <= k {
				n++
			}
		}
		return 100 * float64(n) / float64(len(x))
	}
	fmt.Printf("n %d fails %d line med %.2f 95 %.2f max %.2f | 1s %.0f 2s %.0f | lift %.2f %.2f 1s %.0f\n", len(errs), fails, q(errs, .5), q(errs, .95), q(errs, 1), in(z, 1), in(z, 2), q(el, .5), q(el, .95), in(zl, 1))
}
