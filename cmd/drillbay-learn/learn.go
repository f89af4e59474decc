package main

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"time"

	"drillbay/camera/sight"
	"drillbay/camera/sight/net"
)

func load(paths string) (out []sample, err error) {
	for _, path := range strings.Split(paths, ",") {
		f, err := os.Open(path)
		if err != nil {
			return nil, err
		}
		r := bufio.NewReaderSize(f, 1<<20)
		for {
			var x sample
			if err := binary.Read(r, binary.LittleEndian, &x); err != nil {
				if !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
					return nil, err
				}
				break
			}
			out = append(out, x)
		}
		f.Close()
	}
	return out, nil
}

// lesson cuts a patch out of a sample; with r nil the middle one as it is.
func (x *sample) lesson(r *rand.Rand) net.Lesson {
	dx, dy := margin, margin
	const n = sight.PatchSize
	gain, gamma, noise, turn := 1.0, 1.0, 0.0, false
	if r != nil {
		dx, dy = r.IntN(2*margin+1), r.IntN(2*margin+1)
		gain, gamma = math.Exp(0.3*r.NormFloat64()), math.Exp(0.25*r.NormFloat64())
		noise = math.Abs(2 * r.NormFloat64())
		turn = r.Float64() < 0.15
	}
	var curve [256]float32
	for i := range curve {
		v := float64(i) / 255
		if turn {
			v = 1 - v
		}
		curve[i] = float32(255 * gain * math.Pow(v, gamma))
	}
	var three [3][]float32
	for c, src := range []*[storedSize * storedSize]uint8{&x.Now, &x.Calm, &x.Scene} {
		dst := make([]float32, n*n)
		for y := range n {
			for i, v := range src[(y+dy)*storedSize+dx:][:n] {
				dst[y*n+i] = curve[v]
				if noise > 0 && c == 0 {
					dst[y*n+i] += float32(noise * r.NormFloat64())
				}
			}
		}
		three[c] = dst
	}
	if r != nil && r.Float64() < 0.3 {
		blot(three, x, dx, dy, r)
	}
	l := net.Lesson{Patch: make([]float32, 3*n*n)}
	sight.Channels(l.Patch, three[0], three[1], three[2])
	for i, p := range [][2]float32{x.Hands, x.Head} {
		l.At[i] = [2]float64{float64(p[0]) - float64(dx), float64(p[1]) - float64(dy)}
	}
	return l
}

// blot puts something into the picture that is not of the player: a bar or a
// box of one level, in the picture alone, or at address and in the motion too;
// not over hands and head.
func blot(three [3][]float32, x *sample, dx, dy int, r *rand.Rand) {
	const n = sight.PatchSize
	cx, cy := r.Float64()*n, r.Float64()*n
	sn, c := math.Sincos(r.Float64() * math.Pi)
	long, wide := 4+20*r.Float64(), 0.6+6*r.Float64()
	for _, p := range [][2]float32{x.Hands, x.Head} {
		if math.Hypot(float64(p[0])-float64(dx)-cx, float64(p[1])-float64(dy)-cy) < long+4 {
			return
		}
	}
	level := float32(255 * r.Float64())
	in := [3]bool{true, r.Float64() < 0.6, r.Float64() < 0.6}
	for y := range n {
		for i := range n {
			u, v := float64(i)-cx, float64(y)-cy
			if math.Abs(c*u+sn*v) < long && math.Abs(-sn*u+c*v) < wide {
				for k := range three {
					if in[k] {
						three[k][y*n+i] = level
					}
				}
			}
		}
	}
}

// test prints how far off the network is, cm at address.
func test(n *net.Net, xs []sample) {
	f := net.NewFinder(n)
	var far, sure [2][2][]float64
	for i := range xs {
		l := xs[i].lesson(nil)
		f.Look(l.Patch)
		for p, at := range l.At {
			var q net.Place
			if found := f.Places(p, 1); len(found) > 0 {
				q = found[0]
			}
			if !(at[0] > 0 && at[0] < net.Size && at[1] > 0 && at[1] < net.Size) {
				sure[xs[i].Held][p] = append(sure[xs[i].Held][p], q.Weight)
				continue
			}
			far[xs[i].Held][p] = append(far[xs[i].Held][p], 100*sight.PatchStep*math.Hypot(q.X-at[0], q.Y-at[1]))
		}
	}
	for held, name := range []string{"moving", "held"} {
		for p, what := range []string{"hands", "head"} {
			d := far[held][p]
			slices.Sort(d)
			if n := len(d); n > 0 {
				fmt.Printf("  %s %s %d: %.2f cm median, %.2f at 80 %%, %.2f at 90 %%, %.2f at 95 %%\n", name, what, n, d[n/2], d[n*80/100], d[n*90/100], d[n*95/100])
			}
			w := sure[held][p]
			slices.Sort(w)
			if n := len(w); n > 0 {
				fmt.Printf("    outside %d: taken for seen with %.2f median, %.2f at 90 %%\n", n, w[n/2], w[n*90/100])
			}
		}
	}
}

func learn(train, val, out, from string, minutes, top float64, workers int) error {
	xs, err := load(train)
	if err != nil {
		return err
	}
	vs, err := load(val)
	if err != nil {
		return err
	}
	n := net.New(5)
	if from != "" {
		b, err := os.ReadFile(from)
		if err != nil {
			return err
		}
		if n, err = net.Read(b); err != nil {
			return err
		}
	}
	fmt.Println(len(xs), "to learn from,", len(vs), "to test,", n.Numbers(), "numbers")
	t := net.NewTeacher(n, workers)
	r := rand.New(rand.NewPCG(9, 9))
	began := time.Now()
	const batch = 16
	sum, count := 0.0, 0
	next := 2.0
	for step := 0; ; step++ {
		done := time.Since(began).Minutes() / minutes
		if done >= 1 {
			break
		}
		rate := top*(0.5+0.5*math.Cos(math.Pi*done)) + 1e-5
		if step < 100 {
			rate *= float64(step+1) / 100
		}
		ls := make([]net.Lesson, batch)
		for i := range ls {
			ls[i] = xs[r.IntN(len(xs))].lesson(r)
		}
		sum += t.Step(ls, rate)
		count++
		if m := time.Since(began).Minutes(); m > next {
			next = m + max(2, minutes/12)
			fmt.Printf("%.1f min, step %d, loss %.3f, rate %.2g\n", m, step, sum/float64(count), rate)
			sum, count = 0, 0
			test(n, vs)
			if err := os.WriteFile(out, n.Bytes(), 0o644); err != nil {
				return err
			}
		}
	}
	test(n, vs)
	return os.WriteFile(out, n.Bytes(), 0o644)
}
