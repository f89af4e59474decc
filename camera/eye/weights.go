package eye

import (
	_ "embed"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"math"
)

//go:embed eye.weights
var taught string

// ErrWeights is returned for weights that cannot be read.
var ErrWeights = errors.New("the eye's weights cannot be read")

const (
	magic   = "drillbay"
	version = 1
)

// tensor is one array of the weights, in PyTorch's order.
type tensor struct {
	shape  []int
	values []float32
}

// parse reads a file of weights; learn/export.py says how it is laid out.
func parse(data []byte) (map[string]tensor, error) {
	if len(data) < len(magic)+12 || string(data[:len(magic)]) != magic {
		return nil, fmt.Errorf("%w: not a file of weights", ErrWeights)
	}
	body, sum := data[:len(data)-4], binary.LittleEndian.Uint32(data[len(data)-4:])
	if got := crc32.ChecksumIEEE(body); got != sum {
		return nil, fmt.Errorf("%w: the checksum is %08x, %08x was written: the program is damaged, install it again", ErrWeights, got, sum)
	}
	r := reader{data: body[len(magic):]}
	if v := r.uint32(); v != version {
		return nil, fmt.Errorf("%w: version %d, this program reads %d", ErrWeights, v, version)
	}
	out := map[string]tensor{}
	for range r.uint32() {
		name := string(r.take(int(r.byte())))
		t, n := tensor{}, 1
		for range r.byte() {
			d := int(r.uint32())
			if d < 1 || d > 1<<16 || n > 1<<24 {
				return nil, fmt.Errorf("%w: %s has a side of %d", ErrWeights, name, d)
			}
			t.shape, n = append(t.shape, d), n*d
		}
		half := r.take(2 * n)
		if r.short {
			return nil, fmt.Errorf("%w: it ends within %q", ErrWeights, name)
		}
		t.values = make([]float32, n)
		for i := range t.values {
			t.values[i] = float(binary.LittleEndian.Uint16(half[2*i:]))
		}
		out[name] = t
	}
	if r.short || len(r.data) > 0 {
		return nil, fmt.Errorf("%w: its length is not as it says", ErrWeights)
	}
	return out, nil
}

// reader takes from the front; short says that more was asked than there is.
type reader struct {
	data  []byte
	short bool
}

func (r *reader) take(n int) []byte {
	if n > len(r.data) {
		r.short, r.data = true, nil
		return nil
	}
	b := r.data[:n]
	r.data = r.data[n:]
	return b
}

func (r *reader) byte() byte {
	if b := r.take(1); b != nil {
		return b[0]
	}
	return 0
}

func (r *reader) uint32() uint32 {
	if b := r.take(4); b != nil {
		return binary.LittleEndian.Uint32(b)
	}
	return 0
}

// float is a half float's value (IEEE 754-2008 binary16).
func float(h uint16) float32 {
	sign, exponent, fraction := uint32(h>>15)<<31, uint32(h>>10)&31, uint32(h)&1023
	switch exponent {
	case 0:
		f := float32(fraction) / (1 << 24)
		return math.Float32frombits(math.Float32bits(f) | sign)
	case 31:
		return math.Float32frombits(sign | 255<<23 | fraction<<13)
	}
	return math.Float32frombits(sign | (exponent+112)<<23 | fraction<<13)
}
