package eye

// plane is a feature map: height × width × channels, channels together.
type plane struct {
	height, width, channels int
	v                       []float32
}

func newPlane(height, width, channels int) plane {
	return plane{height, width, channels, make([]float32, height*width*channels)}
}

// stage is what most of the network is made of: something makes rows of many
// channels, a depthwise convolution goes over them, a pointwise one makes few
// channels of them. Few rows of the many channels exist at a time, so that
// they stay in the processor's cache (the order of Sandler et al. 2018, §5, by
// rows instead of channels).
type stage struct {
	expand   *dense // makes the rows; nil: they are the input's
	stem     bool   // expand works on patches of the network's input
	limit    limits // of expand
	upon     bool   // a map of half the size is added to the rows
	depth    depth
	within   limits // of depth
	project  dense
	held     limits // of project
	residual bool   // the input is added to the result
}

// strip is how many pixels are projected at once at least, where rows are short.
const strip = 64

// rowsAtOnce is how many rows of the result are made together.
func rowsAtOnce(width int) int { return max(1, strip/width) }

// slots is how many rows of many channels are kept.
func (s *stage) slots(width int) int { return (rowsAtOnce(width)-1)*s.depth.stride + 3 }

// scratch is the memory that stages share.
type scratch struct {
	ring    []float32 // rows of many channels, with a column of zeros on both sides
	zeros   []float32 // such a row outside the picture; never written
	rows    []float32 // after the depthwise convolution
	patches []float32 // of one row, for the stem
}

// fit makes the memory large enough for a stage over rows of width pixels.
func (m *scratch) fit(s *stage, width int) {
	out := width / s.depth.stride
	pitch := (width + 2) * s.depth.channels
	m.ring = atLeast(m.ring, s.slots(out)*pitch)
	m.zeros = atLeast(m.zeros, pitch)
	m.rows = atLeast(m.rows, rowsAtOnce(out)*out*s.depth.channels)
	if s.stem {
		m.patches = atLeast(m.patches, width*patch)
	}
}

func atLeast(v []float32, n int) []float32 {
	if len(v) >= n {
		return v
	}
	return make([]float32, n)
}

// run makes out of in, and of coarse where the stage adds one. height and
// width are those of the rows with many channels.
func (s *stage) run(k *kernels, m *scratch, in *plane, coarse *plane, out *plane, height, width int) {
	c, stride := s.depth.channels, s.depth.stride
	pitch := (width + 2) * c
	at, slots := rowsAtOnce(out.width), s.slots(out.width)
	for i := range slots {
		clear(m.ring[i*pitch : i*pitch+c])
		clear(m.ring[(i+1)*pitch-c : (i+1)*pitch])
	}
	row := func(y, from int) []float32 {
		if y < 0 || y >= height {
			return m.zeros[from:pitch]
		}
		i := y % slots * pitch
		return m.ring[i+from : i+pitch]
	}
	// TensorFlow's padding: with stride 2 nothing above and to the left.
	above, left := 1, 0
	if stride == 2 {
		above, left = 0, c
	}
	next := 0
	for y := 0; y < out.height; y += at {
		n := min(at, out.height-y)
		last := min(height, (y+n-1)*stride-above+3)
		for next < last {
			till := min(last, next+slots-next%slots)
			s.fill(k, m, in, coarse, m.ring[next%slots*pitch+c:], pitch, next, till, width)
			next = till
		}
		for i := range n {
			top := (y+i)*stride - above
			k.depthwise(m.rows[i*out.width*c:], row(top, left), row(top+1, left), row(top+2, left), &s.depth, out.width, s.within.lo, s.within.hi)
		}
		o := out.v[y*out.width*out.channels : (y+n)*out.width*out.channels]
		k.run(&s.project, o, out.channels, 0, m.rows, c, 0, 1, n*out.width, s.held)
		if s.residual {
			k.add(o, in.v[y*out.width*out.channels:(y+n)*out.width*out.channels])
		}
	}
}

// fill makes the rows from..till of many channels, pitch numbers apart.
func (s *stage) fill(k *kernels, m *scratch, in, coarse *plane, dst []float32, pitch, from, till, width int) {
	c := s.depth.channels
	switch {
	case s.stem:
		for y := from; y < till; y++ {
			cut(m.patches, in, y, width)
			k.run(s.expand, dst[(y-from)*pitch:], c, 0, m.patches, patch, 0, 1, width, s.limit)
		}
	case s.expand != nil:
		k.run(s.expand, dst, c, pitch, in.v[from*width*in.channels:], in.channels, width*in.channels, till-from, width, s.limit)
	default:
		for y := from; y < till; y++ {
			copy(dst[(y-from)*pitch:], in.v[y*width*c:(y+1)*width*c])
		}
	}
	if !s.upon {
		return
	}
	for y := from; y < till; y++ {
		for x := range width {
			i := (y/2*coarse.width + x/2) * c
			j := (y-from)*pitch + x*c
			k.add(dst[j:j+c], coarse.v[i:i+c])
		}
	}
}

// patch is a patch's length: three rows of three pixels, each padded to 16.
const patch = 48

// cut lays the patches of row y of the stem's result side by side.
func cut(dst []float32, in *plane, y, width int) {
	pitch := in.width * Channels
	for r := range 3 {
		row := in.v[(2*y+r)*pitch : (2*y+r+1)*pitch]
		for x := range width {
			*(*[16]float32)(dst[x*patch+16*r:]) = [16]float32(row[x*2*Channels:])
		}
	}
}
