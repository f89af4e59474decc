package eye

import (
	"fmt"
	"sync"
)

const (
	// Side is the usual width and height of the network's input, px.
	Side = 256
	// Channels are red, green, blue in -1..1, then the luma's differences to the
	// picture before and to the reference, each / 64 within ±2.
	Channels = 5
	// cell is the width of one cell of the maps, px of the input.
	cell    = 4
	details = 6
)

// Net is the taught network, packed for the processor. It does not change and
// may be shared by any number of eyes.
type Net struct {
	kernels     kernels
	trunk       []stage
	lateral32   dense
	narrow16    dense
	narrow8     dense
	smooth      [4]stage // strides 16, 8, 4 and 4 again
	maps        dense
	details     []float32 // by point, number, channel
	detailsBias []float32
	absent      []float32 // by point, channel
	absentBias  []float32
	temperature float32
	covariance  []float32
}

// block is expansion, channels out and stride of an inverted residual.
type block struct{ expansion, channels, stride int }

// blocks and taps are those of learn/model.py.
func blocks() []block {
	return []block{{1, 16, 1}, {6, 24, 2}, {6, 24, 1}, {6, 32, 2}, {6, 32, 1}, {6, 32, 1}, {6, 64, 2}, {6, 64, 1},
		{6, 64, 1}, {6, 64, 1}, {6, 96, 1}, {6, 96, 1}, {6, 96, 1}, {6, 160, 2}, {6, 160, 1}}
}

const (
	tap4, tap8, tap16, tap32 = 2, 5, 12, 14
	stemChannels             = 32
)

// Taught returns the network that the program holds. It is read once, and all
// eyes share it.
func Taught() (*Net, error) { return once() }

// once reads the weights the first time that somebody asks.
var once = sync.OnceValues(func() (*Net, error) { return Parse([]byte(taught)) })

// Parse reads a network as learn/export.py writes it.
func Parse(data []byte) (*Net, error) {
	all, err := parse(data)
	if err != nil {
		return nil, err
	}
	return build(all, available()[0])
}

func build(all map[string]tensor, k kernels) (*Net, error) {
	c := &chest{tensors: all}
	n := &Net{kernels: k}
	in := stemChannels
	var out []int
	for i, b := range blocks() {
		name := fmt.Sprintf("blocks.%d.", i)
		mid := in * b.expansion
		s := stage{limit: relu6(), within: relu6(), held: free(), residual: b.stride == 1 && in == b.channels}
		if i == 0 {
			d := c.stem("stem", stemChannels)
			s.expand, s.stem = &d, true
		} else {
			d := c.dense(name+"expand", in, mid)
			s.expand = &d
		}
		s.depth = c.depth(name+"depthwise", mid, b.stride)
		s.project = c.dense(name+"project", mid, b.channels)
		n.trunk = append(n.trunk, s)
		out = append(out, b.channels)
		in = b.channels
	}
	separable := func(lateral, name string, in, mid, out int) stage {
		s := stage{limit: free(), within: free(), held: relu6(), depth: c.depth(name+".depthwise", mid, 1), project: c.dense(name+".pointwise", mid, out)}
		if lateral != "" {
			d := c.dense(lateral, in, mid)
			s.expand, s.upon = &d, true
		}
		return s
	}
	n.lateral32 = c.dense("lateral32", out[tap32], 96)
	n.smooth[0] = separable("lateral16", "smooth16", out[tap16], 96, 96)
	n.narrow16 = c.dense("narrow16", 96, 64)
	n.smooth[1] = separable("lateral8", "smooth8", out[tap8], 64, 64)
	n.narrow8 = c.dense("narrow8", 64, 48)
	n.smooth[2] = separable("lateral4", "smooth4", out[tap4], 48, 48)
	n.smooth[3] = separable("", "last4", 48, 48, 64)
	n.maps = c.dense("maps", 64, Points)
	n.details, n.detailsBias = c.get("details.weight", Points*details, 64, 1, 1), c.get("details.bias", Points*details)
	n.absent, n.absentBias = c.get("absent.weight", Points, 96), c.get("absent.bias", Points)
	n.temperature = c.get("temperature", 1)[0]
	n.covariance = c.get("covariance", Points)
	if c.err != nil {
		return nil, c.err
	}
	return n, nil
}

// layers are the feature maps of one eye.
type layers struct {
	side    int
	input   plane // a column and a row of zeros more
	trunk   []plane
	c32     plane
	p16, n8 plane
	p8, n4  plane
	s4, p4  plane
	maps    plane
	absent  [Points]float32
	scratch scratch
}

func (n *Net) layers(side int) *layers {
	l := &layers{side: side, input: newPlane(side+1, side+2, Channels)}
	width := side / 2
	widest := side * side / 4 * n.trunk[0].project.out // no other result is larger
	turn := [2][]float32{make([]float32, widest), make([]float32, widest)}
	for i := range n.trunk {
		s := &n.trunk[i]
		l.scratch.fit(s, width)
		width /= s.depth.stride
		p := plane{height: width, width: width, channels: s.project.out}
		if size := width * width * p.channels; i == tap4 || i == tap8 || i == tap16 || i == tap32 {
			p.v = make([]float32, size)
		} else {
			p.v = turn[i%2][:size]
		}
		l.trunk = append(l.trunk, p)
	}
	at := func(stride, channels int) plane { return newPlane(side/stride, side/stride, channels) }
	l.c32, l.p16, l.n8, l.p8, l.n4 = at(32, 96), at(16, 96), at(16, 64), at(8, 64), at(8, 48)
	l.s4, l.p4, l.maps = at(4, 48), at(4, 64), at(4, n.maps.out)
	for i, w := range [4]int{16, 8, 4, 4} {
		l.scratch.fit(&n.smooth[i], side/w)
	}
	return l
}

// run makes maps, features and absent of the input.
func (n *Net) run(l *layers) {
	k, m := &n.kernels, &l.scratch
	in, width := &l.input, l.side/2
	for i := range n.trunk {
		n.trunk[i].run(k, m, in, nil, &l.trunk[i], width, width)
		in = &l.trunk[i]
		width = in.width
	}
	k.point(&n.lateral32, &l.trunk[tap32], &l.c32)
	n.smooth[0].run(k, m, &l.trunk[tap16], &l.c32, &l.p16, l.p16.height, l.p16.width)
	k.point(&n.narrow16, &l.p16, &l.n8)
	n.smooth[1].run(k, m, &l.trunk[tap8], &l.n8, &l.p8, l.p8.height, l.p8.width)
	k.point(&n.narrow8, &l.p8, &l.n4)
	n.smooth[2].run(k, m, &l.trunk[tap4], &l.n4, &l.s4, l.s4.height, l.s4.width)
	n.smooth[3].run(k, m, &l.s4, nil, &l.p4, l.p4.height, l.p4.width)
	k.point(&n.maps, &l.p4, &l.maps)
	n.absence(l)
}

// point is a pointwise convolution of a whole map.
func (k *kernels) point(d *dense, in, out *plane) {
	k.run(d, out.v, out.channels, 0, in.v, in.channels, 0, 1, in.height*in.width, free())
}

// absence is the logit of each point's not being in the picture.
func (n *Net) absence(l *layers) {
	var mean [96]float32
	for i := 0; i < len(l.p16.v); i += 96 {
		for c, v := range l.p16.v[i : i+96] {
			mean[c] += v
		}
	}
	for p := range l.absent {
		s := n.absentBias[p]
		for c, w := range n.absent[p*96 : (p+1)*96] {
			s += w * mean[c] / float32(l.p16.height*l.p16.width)
		}
		l.absent[p] = s
	}
}
