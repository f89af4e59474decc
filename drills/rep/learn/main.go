// Command learn teaches what judges from a track whether a club was swung or placed.
// It draws reps of the virtual bay, of more courses than players have in it, looks at
// them as an eye does that errs a little or much, and fits a small network to them.
// "go generate" in drills/rep runs it: it takes some minutes on two cores, writes the
// weights, and prints how often the network is wrong and unsure on reps kept out.
package main

import (
	"bytes"
	"flag"
	"fmt"
	"go/format"
	"log"
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"sync"

	"drillbay/camera/sight/sighttest"
	"drillbay/camera/virtual"
	"drillbay/drills/rep"
)

// example is one rep: what was seen of its passage, and whether it was placed.
type example struct {
	features [rep.Features]float64
	placed   bool
	manner   virtual.Manner
}

func main() {
	log.SetFlags(0)
	out := flag.String("out", "weights.go", "the file to write")
	n := flag.Int("reps", 14000, "reps to learn from, a third of them whole swings that are left out")
	epochs := flag.Int("epochs", 40, "times that each is shown")
	flag.Parse()
	taught := append(reps(*n, 41, sighttest.Unfamiliar), reps(*n/3, 44, usual)...)
	log.Printf("learns from %d reps", len(taught))
	net := fit(taught, *epochs)
	if err := write(*out, net); err != nil {
		log.Fatal(err)
	}
	report("kept out, an eye that errs much", net, reps(*n/5, 42, sighttest.Unfamiliar))
	report("kept out, an eye that errs as usual", net, reps(*n/5, 43, usual))
}

func usual(*rand.Rand) sighttest.Noise { return sighttest.Usual() }

// reps draws n reps and follows them.
func reps(n int, seed uint64, eye func(*rand.Rand) sighttest.Noise) []example {
	setups := virtual.Spread(seed, n)
	all := make([]*example, n)
	var wg sync.WaitGroup
	next := make(chan int)
	for range runtime.NumCPU() {
		wg.Go(func() {
			for i := range next {
				all[i] = one(setups[i], rand.New(rand.NewPCG(seed, uint64(i))), eye)
			}
		})
	}
	for i, s := range setups {
		if s.Drill != virtual.Ordinary {
			next <- i
		}
	}
	close(next)
	wg.Wait()
	var out []example
	for _, e := range all {
		if e != nil {
			out = append(out, *e)
		}
	}
	return out
}

// one draws a rep, looks at it and follows it; nil where no track is found.
func one(s virtual.Setup, r *rand.Rand, eye func(*rand.Rand) sighttest.Noise) *example {
	s.FPS = []float64{24, 30, 30, 30, 60, 60}[r.IntN(6)]
	vary(&s.Reps[0], r)
	b, err := virtual.New(s)
	if err != nil {
		return nil
	}
	e := b.Events()[0]
	looks := sighttest.Looks(b, eye(r), e.StillFrom, e.HoldTo-0.02, r)
	set, doubt := sighttest.Told(b, r)
	m, err := set.Follow(looks, doubt, false)
	if err != nil || m.Hold < 0 {
		return nil
	}
	t := m.Times()
	if math.IsNaN(t.Start) || math.Abs(t.Catch-e.Catch) > 0.5 {
		return nil
	}
	f, _, ok := rep.Passage(&m, t)
	if !ok {
		return nil
	}
	return &example{f, !e.Manner.Swung(), s.Reps[0].Manner}
}

// vary gives a rep another course and another time.
func vary(s *virtual.RepSpec, r *rand.Rand) {
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	swung := [3]virtual.Course{"", virtual.CutShort, virtual.Driven}
	placed := [3]virtual.Course{"", "", virtual.RunsOut}
	switch s.Manner {
	case virtual.Swing, "":
		s.Course, s.Back = swung[r.IntN(3)], between(0.42, 0.85)
	case virtual.GentleSwing:
		s.Course, s.Back = swung[r.IntN(3)], between(0.8, 1.4)
	case virtual.QuickPlace:
		s.Course, s.Back = placed[r.IntN(3)], between(0.58, 1)
	case virtual.Creep:
		s.Course, s.Back = placed[r.IntN(3)], between(1, 2.3)
	case virtual.StopGo:
		s.Back = between(1.2, 2.5)
	}
}

// report prints how often a network is unsure and wrong, by how sure it must be.
func report(what string, n *rep.Network, all []example) {
	fmt.Printf("%s: %d reps\n", what, len(all))
	for _, sure := range []float64{1, 1.5, 2, 2.5, 3} {
		type count struct{ all, unsure, wrong int }
		sum, by := count{}, map[virtual.Manner]*count{}
		for _, e := range all {
			c := by[e.manner]
			if c == nil {
				c = &count{}
				by[e.manner] = c
			}
			odds := n.LogOdds(&e.features)
			for _, c := range []*count{c, &sum} {
				c.all++
				switch {
				case math.Abs(odds) <= sure:
					c.unsure++
				case (odds > 0) != e.placed:
					c.wrong++
				}
			}
		}
		share := func(n, of int) float64 { return 100 * float64(n) / float64(of) }
		fmt.Printf("  from log odds of %.1f: unsure %.1f %%, wrong %.2f %%;", sure, share(sum.unsure, sum.all), share(sum.wrong, sum.all))
		for _, m := range []virtual.Manner{virtual.Swing, virtual.GentleSwing, virtual.QuickPlace, virtual.Creep, virtual.StopGo} {
			if c := by[m]; c != nil {
				fmt.Printf(" %s %.0f, %.1f;", m, share(c.unsure, c.all), share(c.wrong, c.all))
			}
		}
		fmt.Println()
	}
}

// fit teaches a network by likelihood: Adam (Kingma & Ba 2015), labels softened by
// 1 %, weights held small.
func fit(all []example, epochs int) *rep.Network {
	const batch, rate, decay, soft = 64, 0.003, 1e-4, 0.01
	n := &rep.Network{}
	for i := range n.Mean {
		for _, e := range all {
			n.Mean[i] += e.features[i] / float64(len(all))
		}
		for _, e := range all {
			d := e.features[i] - n.Mean[i]
			n.Spread[i] += d * d / float64(len(all))
		}
		n.Spread[i] = math.Sqrt(n.Spread[i]) + 1e-9
	}
	r := rand.New(rand.NewPCG(7, 1))
	for h := range n.Hidden {
		for i := range rep.Features {
			n.Hidden[h][i] = 0.5 * r.NormFloat64() / math.Sqrt(rep.Features)
		}
	}
	var weights []*float64
	for h := range n.Hidden {
		for i := range n.Hidden[h] {
			weights = append(weights, &n.Hidden[h][i])
		}
	}
	for i := range n.Out {
		weights = append(weights, &n.Out[i])
	}
	for i := range n.Linear {
		weights = append(weights, &n.Linear[i])
	}
	gradient, mean, square := make([]float64, len(weights)), make([]float64, len(weights)), make([]float64, len(weights))
	order := r.Perm(len(all))
	step := 0
	for epoch := range epochs {
		r.Shuffle(len(order), func(i, j int) { order[i], order[j] = order[j], order[i] })
		speed := rate * (1 + math.Cos(math.Pi*float64(epoch)/float64(epochs))) / 2
		for from := 0; from+batch <= len(order); from += batch {
			clear(gradient)
			for _, k := range order[from : from+batch] {
				slope(n, &all[k], soft, gradient)
			}
			step++
			for i, w := range weights {
				g := gradient[i]/batch + decay**w
				mean[i] = 0.9*mean[i] + 0.1*g
				square[i] = 0.999*square[i] + 0.001*g*g
				*w -= speed * mean[i] / (1 - math.Pow(0.9, float64(step))) / (math.Sqrt(square[i]/(1-math.Pow(0.999, float64(step)))) + 1e-8)
			}
		}
	}
	return n
}

// slope adds the gradient of one rep's loss, in the order of fit's weights.
func slope(n *rep.Network, e *example, soft float64, gradient []float64) {
	z, hidden, odds := n.Run(&e.features)
	want := soft
	if e.placed {
		want = 1 - soft
	}
	d := 1/(1+math.Exp(-odds)) - want
	const row = rep.Features + 1
	units := len(n.Hidden)
	for h, a := range hidden {
		gradient[units*row+h] += d * a
		back := d * n.Out[h] * (1 - a*a)
		for i, x := range z {
			gradient[h*row+i] += back * x
		}
		gradient[h*row+rep.Features] += back
	}
	gradient[units*row+units] += d
	for i, x := range z {
		gradient[units*row+units+1+i] += d * x
	}
}

// write writes the weights as a Go file.
func write(path string, n *rep.Network) error {
	var b bytes.Buffer
	b.WriteString("// Code generated by drillbay/drills/rep/learn. DO NOT EDIT.\n\npackage rep\n\nvar taught = Network{\n")
	list := func(name string, v []float64) {
		fmt.Fprintf(&b, "%s{", name)
		for i, x := range v {
			if i%10 == 0 {
				b.WriteByte('\n')
			}
			fmt.Fprintf(&b, "%.5g, ", x)
		}
		b.WriteString("\n},\n")
	}
	list("Mean: [Features]float64", n.Mean[:])
	list("Spread: [Features]float64", n.Spread[:])
	fmt.Fprintln(&b, "Hidden: [units][Features + 1]float64{")
	for h := range n.Hidden {
		list("", n.Hidden[h][:])
	}
	b.WriteString("},\n")
	list("Out: [units + 1]float64", n.Out[:])
	list("Linear: [Features]float64", n.Linear[:])
	b.WriteString("}\n")
	text, err := format.Source(b.Bytes())
	if err != nil {
		return err
	}
	return os.WriteFile(path, text, 0o644)
}
