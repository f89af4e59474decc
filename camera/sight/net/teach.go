package net

import (
	"math"
	"sync"
)

// Lesson is a patch with where its points are, patch px; a point may lie outside.
type Lesson struct {
	Patch []float32 // Channels × Size × Size
	At    [points][2]float64
}

// Teacher teaches a network.
type Teacher struct {
	Net     *Net
	workers []*worker
	m, v    [][]float32 // of Adam (Kingma & Ba 2015), weights and biases by turns
	steps   int
}

type worker struct {
	net  *Net
	e, g *eye
	p    []float64
}

// NewTeacher teaches with so many workers.
func NewTeacher(n *Net, workers int) *Teacher {
	t := &Teacher{Net: n}
	for range workers {
		t.workers = append(t.workers, &worker{n.sharing(), newEye(), newEye(), make([]float64, Cells*Cells)})
	}
	for _, c := range n.convs {
		t.m = append(t.m, make([]float32, len(c.w)), make([]float32, len(c.b)))
		t.v = append(t.v, make([]float32, len(c.w)), make([]float32, len(c.b)))
	}
	return t
}

// beside is what the offset of a cell counts beside the choice of the cell.
const beside = 0.3

// huber is the loss of Huber (1964), halved where it is straight.
func huber(d float64) float64 {
	if d = math.Abs(d); d > 0.5 {
		return d - 0.25
	}
	return d * d
}

// learn adds the gradient of one lesson and gives its loss.
func (w *worker) learn(l Lesson, share float32) float64 {
	w.net.forward(w.e, l.Patch)
	w.g.out.clear()
	loss := 0.0
	for p, at := range l.At {
		softmax(w.e.out, p, w.p)
		if !(at[0] >= 0 && at[0] < Size && at[1] >= 0 && at[1] < Size) {
			// Not in the patch: no place is likelier than another.
			for y := range Cells {
				g := w.g.out.row(3*p, y)
				for x := range g {
					q := w.p[y*Cells+x]
					loss -= math.Log(max(q, 1e-12)) / (Cells * Cells)
					g[x] = share * float32(q-1.0/(Cells*Cells))
				}
			}
			continue
		}
		cx, cy := int(at[0]/Cell), int(at[1]/Cell)
		loss -= math.Log(max(w.p[cy*Cells+cx], 1e-12))
		for y := range Cells {
			g := w.g.out.row(3*p, y)
			for x := range g {
				g[x] = share * float32(w.p[y*Cells+x])
			}
		}
		w.g.out.row(3*p, cy)[cx] -= share
		for y := max(0, cy-1); y <= min(Cells-1, cy+1); y++ {
			for x := max(0, cx-1); x <= min(Cells-1, cx+1); x++ {
				for k, want := range [2]float64{at[0]/Cell - float64(x) - 0.5, at[1]/Cell - float64(y) - 0.5} {
					d := float64(w.e.out.At(3*p+1+k, y, x)) - want
					loss += beside * huber(d)
					w.g.out.row(3*p+1+k, y)[x] = share * beside * float32(max(-1, min(1, 2*d)))
				}
			}
		}
	}
	w.net.backward(w.e, w.g)
	return loss
}

// Step learns from some lessons at once and gives their mean loss.
func (t *Teacher) Step(lessons []Lesson, rate float64) float64 {
	share := 1 / float32(len(lessons))
	losses := make([]float64, len(t.workers))
	var wg sync.WaitGroup
	for i, w := range t.workers {
		wg.Go(func() {
			for j := i; j < len(lessons); j += len(t.workers) {
				losses[i] += w.learn(lessons[j], share)
			}
		})
	}
	wg.Wait()
	t.steps++
	c1, c2 := 1-math.Pow(0.9, float64(t.steps)), 1-math.Pow(0.999, float64(t.steps))
	for i, c := range t.Net.convs {
		for j, w := range [][]float32{c.w, c.b} {
			m, v := t.m[2*i+j], t.v[2*i+j]
			for k := range w {
				var g float32
				for _, x := range t.workers {
					d := x.net.convs[i]
					if j == 0 {
						g += d.gw[k]
						d.gw[k] = 0
					} else {
						g += d.gb[k]
						d.gb[k] = 0
					}
				}
				m[k] += 0.1 * (g - m[k])
				v[k] += 0.001 * (g*g - v[k])
				step := rate * float64(m[k]) / c1 / (math.Sqrt(float64(v[k])/c2) + 1e-8)
				w[k] -= float32(step) + float32(rate)*1e-4*w[k]
			}
		}
	}
	sum := 0.0
	for _, l := range losses {
		sum += l
	}
	return sum / float64(len(lessons))
}
