package net

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The gradient against central differences. Where a value is cut off at 0 within
// the step the two may differ: at few places.
func TestGradients(t *testing.T) {
	n := New(3)
	r := rand.New(rand.NewPCG(1, 2))
	l := Lesson{Patch: make([]float32, Channels*Size*Size)}
	for i := range l.Patch {
		l.Patch[i] = float32(r.NormFloat64())
	}
	l.At = [points][2]float64{{33.3, 41.2}, {60.1, 20.7}}
	w := NewTeacher(n, 1).workers[0]
	require.Greater(t, w.learn(l, 1), 1.0)
	var all [][]float32
	for _, c := range w.net.convs {
		all = append(all, append([]float32(nil), c.gw...))
	}
	off := 0
	for i, c := range w.net.convs {
		grads := all[i]
		for range 4 {
			k := r.IntN(len(c.w))
			was := c.w[k]
			const h = 2e-3
			c.w[k] = was + h
			a := w.learn(l, 1)
			c.w[k] = was - h
			b := w.learn(l, 1)
			c.w[k] = was
			num := (a - b) / (2 * h)
			if math.Abs(num-float64(grads[k])) > 0.05*math.Abs(num)+0.02 {
				off++
				t.Logf("layer %d: %.4f by difference, %.4f", i, num, grads[k])
			}
		}
	}
	assert.LessOrEqual(t, off, 2, "of %d", 4*layers)
}

func BenchmarkForward(b *testing.B) {
	n, e := New(1), newEye()
	p := make([]float32, Channels*Size*Size)
	for b.Loop() {
		n.forward(e, p)
	}
}

func BenchmarkLearn(b *testing.B) {
	w := NewTeacher(New(1), 1).workers[0]
	l := Lesson{Patch: make([]float32, Channels*Size*Size), At: [points][2]float64{{33.3, 41.2}, {60.1, 20.7}}}
	for b.Loop() {
		w.learn(l, 1)
	}
}

func TestWhatIsTaughtIsLearnt(t *testing.T) {
	n := New(2)
	teacher := NewTeacher(n, 2)
	r := rand.New(rand.NewPCG(4, 4))
	// A bright spot is the hands, a dark one the head.
	lesson := func() Lesson {
		l := Lesson{Patch: make([]float32, Channels*Size*Size)}
		for p, level := range []float32{3, -3} {
			x, y := 8+r.IntN(Size-16), 8+r.IntN(Size-16)
			l.At[p] = [2]float64{float64(x) + 0.5, float64(y) + 0.5}
			for dy := -2; dy <= 2; dy++ {
				for dx := -2; dx <= 2; dx++ {
					l.Patch[(y+dy)*Size+x+dx] = level
				}
			}
		}
		return l
	}
	first, last := 0.0, 0.0
	for i := range 25 {
		ls := make([]Lesson, 8)
		for j := range ls {
			ls[j] = lesson()
		}
		last = teacher.Step(ls, 2e-3)
		if i == 0 {
			first = last
		}
	}
	assert.Less(t, last, 0.6*first, "the loss falls")
	b, err := Read(n.Bytes())
	require.NoError(t, err)
	l := lesson()
	f := NewFinder(b)
	f.Look(l.Patch)
	for p, at := range l.At {
		q := f.Places(p, 1)[0]
		t.Logf("%.1f, %.1f is at %.1f, %.1f ± %.1f, %.2f", at[0], at[1], q.X, q.Y, q.Sigma, q.Weight)
		assert.Less(t, math.Hypot(q.X-at[0], q.Y-at[1]), 4.0)
	}
	_, err = Read([]byte("short"))
	assert.ErrorIs(t, err, ErrSize)
}
