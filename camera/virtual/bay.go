package virtual

import (
	"fmt"
	"math"
	"time"

	"drillbay/camera/frame"
)

// Bay draws the frames of one setup and knows their truth. A bay must not be
// used by two goroutines at once; two bays of one setup draw the same frames.
type Bay struct {
	setup Setup
	keys  keyPoses
	view  view
	lamp  lamp
	tint  [3]float32
	grain *texture
	bulge [shadeSteps]float64 // how far a limb bulges toward the lens, from side to side
	eye   *sensor

	first *timeline // of cycle 0
	now   *timeline // of the cycle in use
	cycle uint64

	back         []float32 // still scene, linear
	near         []bool    // furniture in front of the net
	scene        *canvas   // slow layer: shadows, passer-by, trunk
	blur         *canvas   // one sub-frame of arms and club
	sum          []float32 // difference that the sub-frames make, r g b
	sumStamp     []uint32
	sumLo, sumHi []int32
	base, work   [3][]uint8 // Y, Cb, Cr of the still and the moving scene
	limbs        []limb
}

// New checks a setup. The error names the field that is out of its range. The
// still scene is drawn with the first frame.
func New(s Setup) (*Bay, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	b := &Bay{setup: s, keys: newKeyPoses(&s, s.Arms)}
	b.view = newView(&s, b.keys.address.hands)
	b.light()
	b.first = newTimeline(&b.setup, 0)
	b.now = b.first
	return b, nil
}

// prepare draws the still scene the first time that it is called. A caller that only
// asks for the truth never waits for it.
func (b *Bay) prepare() {
	if b.grain != nil {
		return
	}
	s := &b.setup
	b.grain = newTexture(newRandom(s.Seed, 3))
	for i := range b.bulge {
		k := (float64(i)+0.5)*2/shadeSteps - 1
		b.bulge[i] = math.Sqrt(1 - k*k)
	}
	b.eye = newSensor(s.Noise/math.Sqrt(max(0.15, s.Light.Strength)), s.Seed)
	n := s.Width * s.Height
	b.back, b.near = make([]float32, 3*n), make([]bool, n)
	b.scene = newCanvas(s.Width, s.Height, nil, b.back)
	b.blur = newCanvas(s.Width, s.Height, b.scene, nil)
	b.sum, b.sumStamp = make([]float32, 3*n), make([]uint32, n)
	b.sumLo, b.sumHi = make([]int32, s.Height), make([]int32, s.Height)
	b.limbs = make([]limb, 0, 64)
	b.paintBackdrop()
	for i, size := range [3]int{n, n / 4, n / 4} {
		b.work[i] = make([]uint8, size)
	}
	b.scene.begin()
	for y := 0; y < s.Height; y += 2 {
		b.encodeRow(y, 0, s.Width-1)
	}
	for i := range b.base {
		b.base[i] = append([]uint8(nil), b.work[i]...)
	}
}

// light sets lamps and tint from the setup.
func (b *Bay) light() {
	l := b.setup.Light
	k := float32(l.Strength)
	warm := float32(l.Warmth - 0.5)
	b.tint = [3]float32{k * (1 + 0.35*warm), k, k * (1 - 0.45*warm)}
	key, sky, floor := float32(0.75), float32(0.42), float32(0.16)
	dir := vec{-0.35, 0.15, 0.92}
	if l.Kind == Outdoor {
		key, sky, floor = 0.95, 0.42, 0.2
		dir = vec{-0.6, -0.3, 0.75}
	}
	b.lamp = lamp{key: b.view.turn(dir.unit()).unit(), sky: b.view.turn(vec{0, 0, 1})}
	for i := range 3 {
		b.lamp.keyTint[i], b.lamp.skyTint[i], b.lamp.floor[i] = key*b.tint[i], sky*b.tint[i], floor*b.tint[i]
	}
}

// Frames returns the number of frames in one pass through the reps.
func (b *Bay) Frames() int { return int(math.Floor(b.first.end*b.setup.FPS)) + 1 }

// Seconds returns the duration of one pass through the reps.
func (b *Bay) Seconds() float64 { return b.first.end }

// Setup returns the setup that is drawn.
func (b *Bay) Setup() Setup { return b.setup }

// at finds the timeline and its time for a moment of the bay.
func (b *Bay) at(t float64) (*timeline, float64) {
	if !b.setup.Loop || t < b.first.end {
		return b.first, min(max(t, 0), b.first.end)
	}
	cycle := math.Floor(t / b.first.end)
	if c := uint64(cycle); c != b.cycle {
		b.cycle, b.now = c, newTimeline(&b.setup, c)
	}
	return b.now, min(t-cycle*b.first.end, b.first.end)
}

// pose returns the pose of player and club at t, with sway and tremor.
func (b *Bay) pose(t float64) (pose, vec) {
	tl, local := b.at(t)
	p, still := tl.pose(local)
	a := float64(b.setup.Seed%97) * 0.7
	wave := func(f, phase float64) float64 { return math.Sin(2*math.Pi*f*t + a + phase) }
	amp := b.setup.Player.Sway
	sway := vec{amp * (0.6*wave(0.23, 1) + 0.4*wave(0.41, 2)), amp * (0.6*wave(0.19, 3) + 0.4*wave(0.37, 4)), 0}
	p.hands = p.hands.add(sway.mul(0.2))
	if k := still * rad(b.setup.Player.Tremor); k > 0 {
		p.shaft = p.shaft.add(vec{
			k * (wave(1.3, 5) + 0.5*wave(6.1, 1)), k * (wave(1.1, 6) + 0.5*wave(7.3, 2)), k * (wave(0.9, 7) + 0.5*wave(5.2, 3)),
		}).unit()
	}
	return p, sway
}

// Draw draws frame i into a 4:2:0 picture of the setup's size, and sets its
// index and time. The exposure lies evenly about the frame's time i/FPS, less
// what the camera is late.
// Frames may be drawn in any order and come out the same. It allocates
// nothing but for the first frame and at the start of a new cycle of a loop.
func (b *Bay) Draw(i int, dst *frame.Picture) error {
	if dst == nil || dst.Width != b.setup.Width || dst.Height != b.setup.Height || dst.Sub != frame.Sub420 {
		return fmt.Errorf("virtual bay: draws 4:2:0 pictures of %d × %d only", b.setup.Width, b.setup.Height)
	}
	if i < 0 || (!b.setup.Loop && i >= b.Frames()) {
		return fmt.Errorf("virtual bay: frame %d is not within 0 … %d", i, b.Frames()-1)
	}
	b.prepare()
	t := float64(i) / b.setup.FPS
	b.paint(t - b.setup.Camera.Late)
	b.develop(i, t, dst)
	dst.Full = true
	dst.Index = int64(i)
	dst.At = time.Duration(math.Round(t * 1e9))
	return nil
}

// moving is the linear colour of a texel with all layers.
func (b *Bay) moving(p int) (r, g, bl float32) {
	if b.scene.stamp[p] == b.scene.pass {
		t := &b.scene.px[p]
		r, g, bl = t.r, t.g, t.b
	} else {
		r, g, bl = b.back[3*p], b.back[3*p+1], b.back[3*p+2]
	}
	if b.sumStamp[p] == b.scene.pass {
		r, g, bl = r+b.sum[3*p], g+b.sum[3*p+1], bl+b.sum[3*p+2]
	}
	return r, g, bl
}

// span is the moving columns of two rows of pixels, widened to even ones.
func (b *Bay) span(y int) (lo, hi int) {
	l, h := int32(b.setup.Width), int32(-1)
	for k := y &^ 1; k <= y|1; k++ {
		l, h = min(l, b.scene.lo[k], b.sumLo[k]), max(h, b.scene.hi[k], b.sumHi[k])
	}
	if h < l {
		return 0, -1
	}
	return int(l) &^ 1, int(h) | 1
}

// develop codes the moving scene and lays the sensor's noise over all.
func (b *Bay) develop(i int, t float64, dst *frame.Picture) {
	w, h := b.setup.Width, b.setup.Height
	l := b.setup.Light
	gain := 1 + l.Flicker*math.Sin(2*math.Pi*2.3*t) + l.Drift*math.Sin(2*math.Pi*t/60)
	b.eye.expose(gain)
	rnd := newRandom(b.setup.Seed, 9, uint64(i))
	for y := 0; y < h; y += 2 {
		lo, hi := b.span(y)
		if hi >= lo {
			b.encodeRow(y, lo, hi)
		}
		for k := y; k < y+2; k++ {
			n := b.eye.noise[rnd.next()&noiseMask:]
			o := k * w
			b.eye.develop(dst.Y[k*dst.YStride:][:w], b.base[0][o:], b.work[0][o:], lo, hi, &b.eye.luma, n)
		}
		o, cw := y/2*(w/2), w/2
		clo, chi := lo/2, hi/2
		if hi < lo {
			clo, chi = 0, -1
		}
		b.eye.develop(dst.Cb[y/2*dst.CStride:][:cw], b.base[1][o:], b.work[1][o:], clo, chi, &b.eye.chroma, b.eye.noise[rnd.next()&noiseMask:])
		b.eye.develop(dst.Cr[y/2*dst.CStride:][:cw], b.base[2][o:], b.work[2][o:], clo, chi, &b.eye.chroma, b.eye.noise[rnd.next()&noiseMask:])
	}
}

// touched reports whether a texel differs from the still scene.
func (b *Bay) touched(p int) bool {
	return b.scene.stamp[p] == b.scene.pass || b.sumStamp[p] == b.scene.pass
}

// encodeRow codes columns lo … hi of rows y and y+1 into the work planes.
func (b *Bay) encodeRow(y, lo, hi int) {
	w := b.setup.Width
	for x := lo; x <= hi; x += 2 {
		p := y*w + x
		c := y/2*(w/2) + x/2
		if len(b.base[0]) > 0 && !b.touched(p) && !b.touched(p+1) && !b.touched(p+w) && !b.touched(p+w+1) {
			for _, q := range [4]int{p, p + 1, p + w, p + w + 1} {
				b.work[0][q] = b.base[0][q]
			}
			b.work[1][c], b.work[2][c] = b.base[1][c], b.base[2][c]
			continue
		}
		var cb, cr int32
		for _, q := range [4]int{p, p + 1, p + w, p + w + 1} {
			yy, u, v := b.eye.ycc(b.moving(q))
			b.work[0][q] = uint8(yy)
			cb, cr = cb+u, cr+v
		}
		b.work[1][c], b.work[2][c] = uint8(min((cb+2)>>2, 255)), uint8(min((cr+2)>>2, 255))
	}
}
