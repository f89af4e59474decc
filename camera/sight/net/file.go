package net

import (
	"encoding/binary"
	"errors"
	"math"
)

// Numbers is how many numbers a network consists of.
func (n *Net) Numbers() int {
	s := 0
	for _, c := range n.convs {
		s += len(c.w) + len(c.b)
	}
	return s
}

// Bytes are the numbers of the network, each the upper half of an IEEE 754
// single, little-endian, layer by layer, weights before biases.
func (n *Net) Bytes() []byte {
	out := make([]byte, 0, 2*n.Numbers())
	for _, c := range n.convs {
		for _, v := range [][]float32{c.w, c.b} {
			for _, x := range v {
				out = binary.LittleEndian.AppendUint16(out, uint16((math.Float32bits(x)+0x8000)>>16))
			}
		}
	}
	return out
}

// ErrSize says that a file is not one of this network.
var ErrSize = errors.New("not the numbers of this network")

// Read makes a network of what Bytes gave.
func Read(b []byte) (*Net, error) {
	n := New(0)
	if len(b) != 2*n.Numbers() {
		return nil, ErrSize
	}
	for _, c := range n.convs {
		for _, v := range [][]float32{c.w, c.b} {
			for i := range v {
				v[i] = math.Float32frombits(uint32(binary.LittleEndian.Uint16(b)) << 16)
				b = b[2:]
			}
		}
	}
	return n, nil
}
