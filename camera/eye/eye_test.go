package eye

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
)

func net(t testing.TB) *Net {
	t.Helper()
	n, err := Taught()
	require.NoError(t, err)
	return n
}

// noise is a picture of blotches, so that something is there at any scale.
func noise(seed uint64, width, height int, sub frame.Subsampling) *frame.Picture {
	r := rand.New(rand.NewPCG(seed, 1))
	p := frame.New(width, height, sub)
	for i := range p.Y {
		p.Y[i] = byte(r.IntN(256))
	}
	for i := range p.Cb {
		p.Cb[i], p.Cr[i] = byte(r.IntN(256)), byte(r.IntN(256))
	}
	return p
}

func TestALookAllocatesNothing(t *testing.T) {
	e := net(t).NewEye()
	a, b := noise(1, 1280, 720, frame.Sub420), noise(2, 1280, 720, frame.Sub420)
	e.Look(Window{640, 360, 100}, b, a, a, false)
	side := 100.0
	assert.Zero(t, testing.AllocsPerRun(3, func() {
		e.Look(Window{640, 360, side}, b, a, a, false)
		side *= 1.7
	}))
}

// BenchmarkLook takes one look at the player with each of the kernels.
func BenchmarkLook(b *testing.B) {
	p, q := noise(1, 1280, 720, frame.Sub420), noise(2, 1280, 720, frame.Sub420)
	for _, k := range available() {
		b.Run(k.name, func(b *testing.B) {
			n := *net(b)
			n.kernels = k
			e := n.NewEye()
			e.Look(Window{640, 360, 650}, p, q, q, false)
			b.ReportAllocs()
			for b.Loop() {
				e.Look(Window{640, 360, 650}, p, q, q, false)
			}
		})
	}
}

// BenchmarkNetwork is the network alone, as another runtime would be timed.
func BenchmarkNetwork(b *testing.B) {
	for _, k := range available() {
		b.Run(k.name, func(b *testing.B) {
			n := *net(b)
			n.kernels = k
			l := n.layers(Side)
			for b.Loop() {
				n.run(l)
			}
		})
	}
}

func BenchmarkWindow(b *testing.B) {
	e := net(b).NewEye()
	p, q := noise(1, 1280, 720, frame.Sub420), noise(2, 1280, 720, frame.Sub420)
	for name, side := range map[string]float64{"whole": 1280, "player": 650, "close": 300} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				e.sampler.sample(&e.net.kernels, &e.layers.input, Side, Window{640, 360, side}, p, q, q, false)
			}
		})
	}
}

func BenchmarkRead(b *testing.B) {
	e := net(b).NewEye()
	for b.Loop() {
		e.net.read(e.layers, &e.spots)
	}
}

func TestTheWeightsAreReadOnce(t *testing.T) {
	assert.Same(t, net(t), net(t))
}
