package sight_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"sort"
	"strconv"
	"testing"

	"drillbay/camera/sight"
	"drillbay/camera/virtual"
)

func TestZZ(t *testing.T) {
	n := 60
	if v, err := strconv.Atoi(os.Getenv("N")); err == nil {
		n = v
	}
	fps, _ := strconv.ParseFloat(os.Getenv("FPS"), 64)
	var errs, z, zl, el, start, turn, catch, top, impact []float64
	fails := 0
	for i, s := range virtual.Spread(901, n) {
		whole := s.Drill == virtual.Ordinary
		if o := os.Getenv("ONLY"); o == "whole" && !whole || o == "catch" && whole {
			continue
		}
		if fps > 0 {
			s.FPS = fps
		}
		b, err := virtual.New(s)
		if err != nil {
			t.Fatal(err)
		}
		r := rand.New(rand.NewPCG(uint64(i), 5))
		e := b.Events()[0]
		set, doubt := toldSetting(b, r)
		end := e.HoldTo
		if whole {
			end = e.Impact + 0.4
		}
		m, err := set.Follow(looksOf(b, usualNoise(), e.StillFrom, end, r), doubt, whole)
		if err != nil {
			fmt.Println(i, s.Reps[0].Manner, s.FPS, err)
			fails++
			continue
		}
		w := wantOf(s, b)
		tm := m.Times()
		var h sight.Pose
		rd := m.AtLevel(tm.Level)
		level := w.level
		if m.Hold >= 0 && (m.Held().Lift.Value < 3 || math.IsNaN(tm.Level)) {
			rd = m.Held()
			level = e.Catch + 0.1
		}
		wt := b.Truth(level)
		h.Line, h.LineSigma, h.Lift, h.LiftSigma = rd.Line.Value, rd.Line.Sigma, rd.Lift.Value, rd.Lift.Sigma
		d := h.Line - wt.ShaftLineDeg
		fr := s.FPS
		ms := func(a, b float64) float64 { return 1000 * (a - b) }
		fmt.Printf("%3d %-12s %.0f D %.1f line %6.1f %+6.2f ± %.2f lift %6.1f %+5.1f ± %.1f depth %+.1f ± %.1f cm mis %.2f | start %+.0f turn %+.0f catch %+.0f (%.2f) level %+.0f top %+.0f impact %+.0f n %d\n", i, s.Reps[0].Manner, s.FPS, s.Camera.Distance, wt.ShaftLineDeg, d, h.LineSigma, wt.ElevationDeg, h.Lift-wt.ElevationDeg, h.LiftSigma,
			100*(rd.Inside.Value-(wt.Hands[1]-b.Truth(e.StillFrom).Hands[1])), 100*rd.Inside.Sigma, m.Misfit, ms(tm.Start, w.start), ms(tm.Turn, w.turn), ms(tm.Catch, w.catch), tm.Ending, ms(tm.Level, w.level), ms(tm.Top, w.top), ms(tm.Impact, w.impact), len(m.Poses))
		errs = append(errs, math.Abs(d))
		z = append(z, math.Abs(d)/h.LineSigma)
		el = append(el, math.Abs(h.Lift-wt.ElevationDeg))
		zl = append(zl, math.Abs(h.Lift-wt.ElevationDeg)/h.LiftSigma)
		put := func(l *[]float64, a, b float64, k float64) {
			if !math.IsNaN(b) {
				d := math.Abs(a-b) * k
				if math.IsNaN(d) {
					d = 9999
				}
				*l = append(*l, d)
			}
		}
		put(&start, tm.Start, w.start, 1000)
		put(&turn, tm.Turn, w.turn, 1000)
		put(&catch, tm.Catch, w.catch, fr)
		put(&top, tm.Top, w.top, 1000)
		put(&impact, tm.Impact, w.impact, fr)
	}
	q := func(x []float64, p float64) float64 {
		if len(x) == 0 {
			return math.NaN()
		}
		sort.Float64s(x)
		return x[int(p*float64(len(x)-1))]
	}
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
	fmt.Printf("start %.0f %.0f turn %.0f %.0f catch %.2f %.2f top %.0f %.0f impact %.2f %.2f\n", q(start, .5), q(start, .95), q(turn, .5), q(turn, .95), q(catch, .5), q(catch, .95), q(top, .5), q(top, .95), q(impact, .5), q(impact, .95))
}

// wanted is the truth of one rep.
type wanted struct{ start, turn, level, catch, top, impact float64 }

func wantOf(s virtual.Setup, b *virtual.Bay) wanted {
	e := b.Events()[0]
	w := wanted{level: e.Level, catch: e.Catch, top: e.Top, impact: e.Impact}
	stop := e.Catch
	if s.Drill == virtual.Ordinary {
		stop = e.Impact + 0.3
	}
	speed := func(t float64) float64 {
		const h = 1.0 / 240
		a, c := b.Truth(t-h).Head, b.Truth(t+h).Head
		return math.Sqrt(sq(c[0]-a[0])+sq(c[1]-a[1])+sq(c[2]-a[2])) / (2 * h)
	}
	peak := 0.0
	for t := e.StillFrom + 0.1; t < stop; t += 0.004 {
		peak = max(peak, speed(t))
	}
	first := e.ForwardStart
	if math.IsNaN(first) {
		first = e.BackStart
	}
	w.start = first - 0.03
	for speed(w.start) < 0.05*peak {
		w.start += 0.002
	}
	w.turn = w.start
	if !math.IsNaN(e.ForwardStart) {
		best := math.Inf(1)
		for t := e.BackStart - 0.1; t < e.BackStart+0.13; t += 0.002 {
			if v := speed(t); v < best {
				best, w.turn = v, t
			}
		}
	}
	return w
}
