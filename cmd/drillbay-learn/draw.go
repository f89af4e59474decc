package main

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"sync"
	"time"

	"drillbay/camera/frame"
	"drillbay/camera/lens"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
	"drillbay/drills"
	"drillbay/drills/measure"
)

// margin is by how much a stored patch is larger on each side than one that
// is learnt from, patch px.
const margin = 9

const storedSize = sight.PatchSize + 2*margin

// sample is one patch with its truth.
type sample struct {
	Now, Calm, Scene [storedSize * storedSize]uint8
	Hands, Head      [2]float32 // patch px
	Held             uint8
}

func settingOf(s virtual.Setup, b *virtual.Bay) (sight.Setting, error) {
	u, v := b.TargetPoint()
	hand := drills.Right
	if s.Player.Hand == virtual.LeftHand {
		hand = drills.Left
	}
	k, err := measure.Bay{Width: s.Width, Height: s.Height, Field: s.Camera.HFOVDeg, Distance: s.Camera.Distance, Target: &lens.Point{U: u, V: v},
		Roll: s.Camera.RollDeg, Club: s.Club.Length, Grip: s.Club.Grip, Hand: hand}.Known()
	return k.Setting, err
}

// reps is how many reps of a bay are learnt from.
const reps = 3

// vary makes a bay look less like others, and gives it more reps, unlike its
// first.
func vary(s *virtual.Setup, r *rand.Rand) {
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	shade := func(from, to float64) virtual.Colour {
		v := between(from, to)
		return virtual.Colour{v * between(0.8, 1.1), v * between(0.8, 1.1), v * between(0.8, 1.1)}
	}
	// Heads of any shape: beside the axis, as real ones, or about it.
	s.Club.Wood = s.Club.Wood || r.Float64() < 0.45
	if s.Club.HeadOffset = between(0.01, 0.045); r.Float64() < 0.5 {
		s.Club.HeadOffset = between(-0.012, 0.012)
	}
	s.Club.Head = shade(0.05, 0.6)
	s.Club.ShaftMM = between(9, 13)
	s.Player.Skin = shade(0.1, 0.7)
	if r.Float64() < 0.6 {
		s.Player.Glove = shade(0.05, 0.95)
	}
	s.Scene.Wall, s.Scene.Floor = shade(0.05, 0.8), shade(0.1, 0.6)
	s.Scene.Net = r.Float64() < 0.7
	s.Noise = between(0.3, 2)
	s.Shutter = between(0.2, 0.9)
	if r.Float64() < 0.3 && s.Drill == virtual.Catch {
		s.Arms = virtual.BothArms
	}
	ways := []virtual.RepSpec{
		{Manner: virtual.Swing, Back: 0.6}, {Manner: virtual.GentleSwing, Back: 1.1}, {Manner: virtual.Creep, Back: 1.5}, {Manner: virtual.QuickPlace, Back: 0.7},
	}
	first := s.Reps[0]
	for range reps - 1 {
		x := first
		if s.Drill != virtual.Ordinary {
			w := ways[r.IntN(len(ways))]
			x.Manner, x.Back = w.Manner, w.Back
			x.ElevationDeg = 0
			if r.Float64() < 0.5 {
				x.ElevationDeg = between(-25, 20)
			}
		}
		x.ShaftLineDeg, x.FaceDeg = between(-24, 26), between(-95, 95)
		travel, arc := between(0.2, 0.45), between(0.55, 0.95)
		x.HandsX = 0.02 - travel
		x.HandsDZ = arc - math.Sqrt(arc*arc-travel*travel)
		x.HandsY = first.HandsY + between(-0.12, 0.12)
		s.Reps = append(s.Reps, x)
	}
}

// artist draws samples of one bay.
type artist struct {
	bay *virtual.Bay
	s   virtual.Setup
	set sight.Setting
	r   *rand.Rand
}

// draw makes samples of one bay.
func draw(s virtual.Setup, r *rand.Rand) ([]sample, error) {
	vary(&s, r)
	b, err := virtual.New(s)
	if err != nil {
		return nil, err
	}
	set, err := settingOf(s, b)
	if err != nil {
		return nil, err
	}
	a := artist{b, s, set, r}
	var out []sample
	for _, e := range b.Events() {
		xs, err := a.rep(e)
		if err != nil {
			return nil, err
		}
		out = append(out, xs...)
	}
	return out, nil
}

// pics are n pictures from t0 to t1 seconds.
func (a *artist) pics(t0, t1 float64, n int) (out []*frame.Picture, err error) {
	for i := range n {
		p := frame.New(a.s.Width, a.s.Height, frame.Sub420)
		t := t0 + (t1-t0)*(float64(i)+a.r.Float64())/float64(n)
		k := max(0, min(int(math.Round(t*a.s.FPS)), a.bay.Frames()-1))
		if err := a.bay.Draw(k, p); err != nil {
			return nil, err
		}
		p.Index, p.At = int64(k), time.Duration(float64(k)/a.s.FPS*float64(time.Second))
		out = append(out, p)
	}
	return out, nil
}

func (a *artist) rep(e virtual.Event) (out []sample, err error) {
	start := e.BackStart
	if !math.IsNaN(e.ForwardStart) {
		start = e.ForwardStart
	}
	ordinary := a.s.Drill == virtual.Ordinary
	last := e.Catch
	if ordinary {
		last = e.Top
	}
	still, err := a.pics(e.StillFrom+0.1, start-0.1, 3)
	if err != nil {
		return nil, err
	}
	motion, err := a.pics(start, last, 11)
	if err != nil {
		return nil, err
	}
	all := append([]*frame.Picture(nil), motion...)
	add := func(now, scene []*frame.Picture, t float64, held uint8) {
		x := a.sample(still, now, scene, start-0.2, t)
		x.Held = held
		out = append(out, x)
	}
	if !ordinary {
		hold, err := a.pics(e.Catch+0.08, e.Catch+0.4, 3)
		if err != nil {
			return nil, err
		}
		var before []*frame.Picture
		for _, p := range motion {
			if p.Seconds() < last-max(0.15, 0.35*(last-start)) {
				before = append(before, p)
			}
		}
		if len(before) > 2 {
			add(hold, before, hold[1].Seconds(), 1)
			add(hold[1:2], before, hold[1].Seconds(), 1)
		}
		all = append(append(append(all, hold...), hold...), hold...)
	}
	for _, p := range motion {
		if l := a.bay.Truth(p.Seconds()).ElevationDeg; p.Seconds() > e.BackStart && l > -38 && l < 24 {
			add([]*frame.Picture{p}, all, p.Seconds(), 0)
		}
	}
	return out, nil
}

// sample is a patch at t seconds, laid a little anyhow; address is a time at
// which the player stands there.
func (a *artist) sample(still, now, scene []*frame.Picture, address, t float64) (x sample) {
	v := a.set.View
	at := func(px [2]float64) lens.Point { return v.Mirror(lens.Point{U: px[0], V: px[1]}) }
	f := sight.Patch{
		Hands: at(a.bay.Truth(address).HandsPX), Step: sight.PatchStep * v.Focal / a.set.Distance * math.Exp(0.07*a.r.NormFloat64()),
		Turn: 0.04 * a.r.NormFloat64(), Size: storedSize, Left: v.Left, OriginX: sight.PatchHandsX + margin, OriginY: sight.PatchHandsY + margin,
	}
	pack(&x.Now, f.Mean(now))
	pack(&x.Calm, f.Mean(still))
	pack(&x.Scene, f.Median(scene))
	tr := a.bay.Truth(t)
	for i, p := range []lens.Point{at(tr.HandsPX), at(tr.HeadPX)} {
		u, w := f.Of(p)
		*[]*[2]float32{&x.Hands, &x.Head}[i] = [2]float32{float32(u), float32(w)}
	}
	return x
}

func pack(dst *[storedSize * storedSize]uint8, levels []float32) {
	for i, v := range levels {
		dst[i] = uint8(max(0, min(255, v+0.5)))
	}
}

// drawAll draws the bays of a spread into a file.
func drawAll(path string, seed uint64, n, workers int) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	defer f.Close()
	w := bufio.NewWriterSize(f, 1<<20)
	// A spread at a time, so that working out the setups is shared too.
	const part = 10
	next := make(chan int, n/part)
	for i := range n / part {
		next <- i
	}
	close(next)
	var wg sync.WaitGroup
	var mu sync.Mutex
	count := 0
	began := time.Now()
	for range workers {
		wg.Go(func() {
			for i := range next {
				r := rand.New(rand.NewPCG(seed, uint64(i)))
				for _, s := range virtual.Spread(seed+uint64(i), part) {
					xs, err := draw(s, r)
					if err != nil {
						fmt.Fprintln(os.Stderr, i, err)
						continue
					}
					mu.Lock()
					for j := range xs {
						if err := binary.Write(w, binary.LittleEndian, &xs[j]); err != nil {
							fmt.Fprintln(os.Stderr, err)
						}
					}
					count += len(xs)
					mu.Unlock()
				}
				mu.Lock()
				w.Flush()
				fmt.Fprintln(os.Stderr, i, count, time.Since(began).Round(time.Second))
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	return w.Flush()
}
