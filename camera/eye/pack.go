package eye

import (
	"fmt"
	"slices"
)

// panel is how many output channels lie together; the last panel may be half.
const panel = 16

// dense is a pointwise convolution, or a matrix: out = in × weights + bias.
// Both counts are padded: in to a multiple of 4, out to a multiple of 8. A
// panel holds the bias of its columns and then, for each input channel, their
// weights.
type dense struct {
	in, out int
	packed  []float32
}

// packDense lays out weights that are given by output channel, then input.
func packDense(weights, bias []float32, in, out int) dense {
	d := dense{in: (in + 3) &^ 3, out: (out + 7) &^ 7}
	at := func(o, i int) float32 {
		if o >= out || i >= in {
			return 0
		}
		return weights[o*in+i]
	}
	for from := 0; from < d.out; from += panel {
		columns := min(panel, d.out-from)
		for o := range columns {
			b := float32(0)
			if from+o < out {
				b = bias[from+o]
			}
			d.packed = append(d.packed, b)
		}
		for i := range d.in {
			for o := range columns {
				d.packed = append(d.packed, at(from+o, i))
			}
		}
	}
	return d
}

// depth is a 3 × 3 convolution of each channel by itself. Eight channels lie
// together: their bias, then each of the nine taps.
type depth struct {
	channels, stride int
	packed           []float32
}

const group = 8

func packDepth(weights, bias []float32, channels, stride int) depth {
	d := depth{channels: channels, stride: stride}
	for from := 0; from < channels; from += group {
		d.packed = append(d.packed, bias[from:from+group]...)
		for tap := range 9 {
			for c := range group {
				d.packed = append(d.packed, weights[(from+c)*9+tap])
			}
		}
	}
	return d
}

// chest is the named weights while they are taken out and packed; the first
// thing that is missing or of another shape is kept.
type chest struct {
	tensors map[string]tensor
	err     error
}

func (c *chest) get(name string, shape ...int) []float32 {
	t, ok := c.tensors[name]
	n := 1
	for _, s := range shape {
		n *= s
	}
	switch {
	case c.err != nil:
	case !ok:
		c.err = fmt.Errorf("%w: %s is not in it", ErrWeights, name)
	case !slices.Equal(t.shape, shape):
		c.err = fmt.Errorf("%w: %s is %v, %v is wanted", ErrWeights, name, t.shape, shape)
	default:
		return t.values
	}
	return make([]float32, n)
}

func (c *chest) dense(name string, in, out int) dense {
	return packDense(c.get(name+".weight", out, in, 1, 1), c.get(name+".bias", out), in, out)
}

func (c *chest) depth(name string, channels, stride int) depth {
	return packDepth(c.get(name+".weight", channels, 1, 3, 3), c.get(name+".bias", channels), channels, stride)
}

// stem packs the first convolution, 3 × 3 with stride 2, as a matrix over
// patches: three rows of three pixels of five channels, each row padded to 16.
func (c *chest) stem(name string, out int) dense {
	w := c.get(name+".weight", out, Channels, 3, 3)
	patches := make([]float32, out*patch)
	for o := range out {
		for ch := range Channels {
			for y := range 3 {
				for x := range 3 {
					patches[o*patch+y*patch/3+x*Channels+ch] = w[((o*Channels+ch)*3+y)*3+x]
				}
			}
		}
	}
	return packDense(patches, c.get(name+".bias", out), patch, out)
}
