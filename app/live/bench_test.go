package live

import (
	"context"
	"image"
	"testing"
	"time"

	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/measure"
	"drillbay/drills/read"
	"drillbay/drills/rep"
	"drillbay/drills/runner"
	"drillbay/drills/stage"
	"drillbay/drills/watch"
)

const benchRate = 60.0 // frames a second

// decodedYUYV are pictures of a rep as a driver decodes YUYV: 4:2:2.
func decodedYUYV(b *testing.B, s virtual.Setup, n int) []*image.YCbCr {
	b.Helper()
	bay, err := virtual.New(s)
	if err != nil {
		b.Fatal(err)
	}
	p := frame.New(s.Width, s.Height, frame.Sub420)
	var out []*image.YCbCr
	for i := range n {
		if err := bay.Draw(i*bay.Frames()/n, p); err != nil {
			b.Fatal(err)
		}
		img := image.NewYCbCr(image.Rect(0, 0, s.Width, s.Height), image.YCbCrSubsampleRatio422)
		copy(img.Y, p.Y)
		for y := range s.Height {
			copy(img.Cb[y*img.CStride:], p.Cb[y/2*p.CStride:][:p.CStride])
			copy(img.Cr[y*img.CStride:], p.Cr[y/2*p.CStride:][:p.CStride])
		}
		out = append(out, img)
	}
	return out
}

type nowhere struct{}

func (nowhere) Save(context.Context, runner.Record) error { return nil }
func (nowhere) Tell(runner.Moment)                        {}

// full is a pool whose pictures have all been in use once.
func full(budget, width, height int) *frame.Pool {
	pool := frame.NewPool(budget)
	var all []*frame.Picture
	for p := pool.Get(width, height, frame.Sub420); p != nil; p = pool.Get(width, height, frame.Sub420) {
		all = append(all, p)
	}
	for _, p := range all {
		p.Release()
	}
	return pool
}

// One frame on its way from the driver to the session, all on one core: the
// copy out of the driver's hands, the hand-over to the eye and what it said, the
// look for a moved camera, the ring. 1280 × 720 at 60 frames a second from a
// decoded YUYV picture. The eye's own looks, twelve a second on another
// goroutine, and the reading of a rep are not in it: BenchmarkLiveLook and
// BenchmarkLiveReading.
func BenchmarkLivePath720p60(b *testing.B) {
	s := virtual.Default()
	s.FPS, s.Reps = benchRate, []virtual.RepSpec{{ShaftLineDeg: 5}}
	pictures := decodedYUYV(b, s, 90)
	budget := lookback.Budget(s.Width, s.Height, benchRate)
	pool := full(budget+64<<20, s.Width, s.Height)
	now := 0.0
	session := runner.NewStepper(runner.Options{
		Ring: lookback.NewRing(budget, lookback.Capacity(budget, s.Width, s.Height)), Store: nowhere{}, Speaker: nowhere{},
		Analyse: func(runner.Take) runner.Analysis { return runner.Analysis{Void: true} }, Now: func() float64 { return now },
	})
	eye := watch.New(watch.Camera{})
	still := frame.New(s.Width, s.Height, frame.Sub420)
	if err := still.CopyImage(pictures[0]); err != nil {
		b.Fatal(err)
	}
	bump := sight.NewBump(sight.NewScenery([]*frame.Picture{still, still}))
	address := func(*frame.Picture) (sight.Glance, bool) { return sight.Glance{At: now, Phase: sight.Address}, true }
	n := 0
	step := func() {
		p := pool.Get(s.Width, s.Height, frame.Sub420)
		if err := p.CopyImage(pictures[n%len(pictures)]); err != nil {
			b.Fatal(err)
		}
		now = float64(n) / benchRate
		p.At, p.Index, n = time.Duration(now*float64(time.Second)), int64(n), n+1
		eye.Offer(p)
		if n%5 == 0 { // as the eye would: it takes the newest picture and tells
			eye.Next(address)
		}
		g := eye.Take(now)
		g.Bumped = bump.Step(p)
		session.See(p, g)
		p.Release()
	}
	for range int(10 * benchRate) { // every list has grown
		step()
	}
	b.ReportAllocs()
	b.ResetTimer()
	for b.Loop() {
		step()
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/1000/float64(b.N), "ms/frame")
	session.Close()
}

// One look of the eye: where the player is, hands and club closely, and what
// they tell.
func BenchmarkLiveLook(b *testing.B) {
	s, k := benchBay(b)
	bay, err := virtual.New(s)
	if err != nil {
		b.Fatal(err)
	}
	watch, err := measure.NewWatch(k.Setting, nil)
	if err != nil {
		b.Fatal(err)
	}
	defer watch.Close()
	var pics []*frame.Picture
	for i := range 12 {
		p := frame.New(s.Width, s.Height, frame.Sub420)
		if err := bay.Draw(i*bay.Frames()/12, p); err != nil {
			b.Fatal(err)
		}
		pics = append(pics, p)
	}
	n := 0
	b.ReportAllocs()
	for b.Loop() {
		p := pics[n%len(pics)]
		p.At = time.Duration(n) * time.Second / 12
		watch.See(p)
		n++
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/1000/float64(b.N), "ms/look")
}

// benchBay is a small bay with a catch, and what is known of it.
func benchBay(b *testing.B) (virtual.Setup, rep.Known) {
	b.Helper()
	s := virtual.Default()
	s.Width, s.Height, s.Reps = 960, 540, []virtual.RepSpec{{ShaftLineDeg: 5, Still: 1.5, Hold: 1.5}}
	place, err := stage.BayOf(s)
	if err != nil {
		b.Fatal(err)
	}
	k, err := bay.Known(place, drills.Right, 0, s.Width, s.Height)
	if err != nil {
		b.Fatal(err)
	}
	return s, k
}

// The full reading of one rep at 960 × 540, 30 frames a second, after the live
// pass, by a reader that is new: the first reading of a session.
func BenchmarkLiveReading(b *testing.B) {
	s, known := benchBay(b)
	bay, err := virtual.New(s)
	if err != nil {
		b.Fatal(err)
	}
	var seen measure.Recall
	watch, err := measure.NewWatch(known.Setting, &seen)
	if err != nil {
		b.Fatal(err)
	}
	defer watch.Close()
	var pace measure.Pace
	var take runner.Take
	for i := range bay.Frames() {
		p := frame.New(s.Width, s.Height, frame.Sub420)
		if err := bay.Draw(i, p); err != nil {
			b.Fatal(err)
		}
		take.Frames = append(take.Frames, p)
		if !pace.Due(p.Seconds()) {
			continue
		}
		if g, _ := watch.See(p); g.Caught {
			take.Span = g.Span
			break
		}
	}
	if take.Span.Catch == 0 {
		b.Fatal("no rep was found")
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, told := read.NewCamera(func(int, int) rep.Known { return known }, &seen).Read(take); told.Void {
			b.Fatal("the rep was not read")
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/1000/float64(b.N), "ms/rep")
}
