package paint

import (
	"context"
	"math"
	"sync"
	"time"

	"drillbay/app"
	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/camera/sight"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/book"
	"drillbay/drills/clips"
	"drillbay/drills/runner"
	"drillbay/drills/watch"
)

const (
	picWidth  = 640
	picHeight = 360
)

// still is a flat picture of a bay, grey so that golden pictures stay small:
// wall, floor, mat and a figure. Lift moves the arms.
func still(index int, at, lift float64) *frame.Picture {
	p := frame.New(picWidth, picHeight, frame.Sub420)
	p.Index, p.At = int64(index), time.Duration(at*float64(time.Second))
	paint := func(in func(x, y float64) bool, level byte) {
		for y := range picHeight {
			for x := range picWidth {
				if !in(float64(x), float64(y)) {
					continue
				}
				p.Y[y*p.YStride+x] = level
			}
		}
	}
	for i := range p.Cb {
		p.Cb[i], p.Cr[i] = 128, 128
	}
	limb := func(x1, y1, x2, y2, r float64) func(x, y float64) bool {
		return func(x, y float64) bool {
			dx, dy := x2-x1, y2-y1
			t := min(max(((x-x1)*dx+(y-y1)*dy)/(dx*dx+dy*dy), 0), 1)
			return math.Hypot(x-x1-t*dx, y-y1-t*dy) < r
		}
	}
	paint(func(x, y float64) bool { return true }, 96)
	paint(func(x, y float64) bool { return y > 250 }, 120)
	paint(func(x, y float64) bool { return y > 290 && y < 345 && math.Abs(x-320) < 90+(y-290)*1.2 }, 90)
	paint(limb(262, 240, 258, 322, 11), 60)
	paint(limb(262, 240, 300, 150, 22), 80)
	paint(limb(314, 118, 315, 119, 16), 140)
	hx, hy := 318.0-8*lift, 222.0-30*lift
	paint(limb(306, 152, hx, hy, 9), 150)
	sx, sy := 392.0-110*lift, 312.0-116*lift
	paint(limb(hx, hy, sx, sy, 2), 30)
	paint(limb(sx, sy, sx+1, sy, 5), 210)
	return p
}

// scene is a program in a known state, in front of a known session.
type scene struct {
	snap  runner.Snapshot
	book  app.Book
	hands drills.Pixel
	app   *app.App
	now   float64
	setup book.Setup
	ring  *lookback.Ring
	two   bool // a second camera shows the other view
	virt  bool
	flip  bool // the picture of the bay is flipped
	marks book.Marks
	clip  bool // reps of a clip are read
	seen  watch.Seen
}

// marked is a book that knows the scene's marks.
type marked struct {
	app.Book
	marks book.Marks
}

func (m marked) Marks(string) book.Marks { return m.marks }

const pictures = 40

// stills are the pictures of one rep, drawn once.
var stills = sync.OnceValue(func() (out []*frame.Picture) {
	for i := range 37 {
		at := float64(i) / 30
		out = append(out, still(i, at, min(max((at-0.2)/0.7, 0), 1)))
	}
	return out
})

func newScene(theme string) *scene {
	s := &scene{book: fullBook{}, hands: drills.Pixel{X: 318, Y: 222}, now: 3, setup: book.Defaults()}
	s.setup.Theme = theme
	s.ring = lookback.NewRing(pictures*picWidth*picHeight*2, pictures)
	for _, p := range stills() {
		if err := s.ring.Add(p, false); err != nil {
			panic(err)
		}
	}
	return s
}

func (s *scene) begin() *app.App {
	deps := app.Deps{
		Snapshot: func() *runner.Snapshot { return &s.snap },
		Picture:  func(late float64) *frame.Picture { return s.ring.Before(1.2 - late/10) },
		Hands:    func() (float64, float64) { return s.hands.X, s.hands.Y },
		Seen:     func(float64) (watch.Seen, bool) { return s.seen, s.seen.Player },
		Book:     marked{s.book, s.marks}, Setup: s.setup, Virtual: s.virt,
		Measure: func(context.Context, clips.Job, func(float64)) (out []clips.Rep, err error) {
			for i, line := range []float64{3, 14, -12} {
				r := rep(i+1, line, drills.Swung)
				r.Moments.Start = 0.4 + float64(4*i)
				out = append(out, clips.Rep{Done: runner.Done{Rep: r, Overlay: overlay()}, Loop: s.ring.Cut(0, 1.2)})
			}
			return out, nil
		},
		Watch:  func(string) (clips.Loop, error) { return s.ring.Cut(0, 1.2), nil },
		Places: func() []string { return []string{"/media/ada/STICK", "/home/ada/Desktop", "/home/ada/Videos"} },
		Camera: func() string { return "1280 × 720, 60 a second" },
		Sound:  func() string { return "on" },
		Bay: bay.Bay{Name: "Net 2", Distance: 3.2, Club: 0.94, Set: true, Roll: -1.5, Flipped: s.flip, Width: picWidth, Height: picHeight,
			Target: drills.Pixel{X: 331, Y: 200}, Lines: []bay.Segment{{A: drills.Pixel{X: 150, Y: 340}, B: drills.Pixel{X: 241, Y: 270}}, {A: drills.Pixel{X: 470, Y: 340}, B: drills.Pixel{X: 400, Y: 270}}}},
		Lens: app.LensWork{
			Face: func(bay.Bay, watch.Seen, drills.Hand) (bay.FaceOffset, error) {
				return bay.FaceOffset{AlongCm: -28, Cm: 5, BackCm: 43}, nil
			},
			Under: func(_ bay.Bay, hands, body drills.Pixel, _ drills.Hand) (float64, error) {
				return (body.X - hands.X) / 2, nil
			},
			Meet: func([]bay.Segment, int, int) (bay.Target, error) {
				return bay.Target{Pixel: drills.Pixel{X: 331, Y: 200}, Sd: 2}, nil
			},
			Find: func() []bay.Segment { return nil },
			Roll: func(bay.Bay) (float64, float64, error) { return -1.5, 0.3, nil },
			Offset: func(bay.Bay, drills.Pixel, drills.Hand) (bay.Offset, error) {
				return bay.Offset{UpCm: -19, NearCm: 11, Cm: 2, Angle: 4.2, SigmaNow: 2.1, SigmaThere: 0.9}, nil
			},
		},
	}
	if s.two {
		work := deps.Lens
		work.Level = func() (bay.Level, bool) {
			return bay.Level{Lines: []bay.Segment{{A: drills.Pixel{X: 120, Y: 352}, B: drills.Pixel{X: 520, Y: 345}}, {A: drills.Pixel{X: 190, Y: 290}, B: drills.Pixel{X: 450, Y: 286}}}, Roll: 0.9, Sd: 0.5}, true
		}
		deps.Other = app.OtherView{
			CameraView: app.CameraView{
				Picture: func(float64) *frame.Picture { return fronts()[0].Retain() },
				Hands:   func() (float64, float64) { return nan(), nan() },
				Seen:    func(float64) (watch.Seen, bool) { return watch.Seen{}, false },
				Lens:    work,
			},
			Camera: func() string { return "USB camera" },
			Bay: func() bay.Bay {
				return bay.Bay{Name: "Net 2", Distance: 3.4, Club: 0.94, FaceOn: true, Target: drills.Pixel{X: nan(), Y: nan()}}
			},
			Tied: func() string {
				return "Its pictures come 62 ms later than the first camera's, true to about 4 ms, from 9 reps."
			},
		}
	}
	s.app = app.New(deps)
	return s.app
}

// front is a flat picture of the figure from the front: it is seen by a second
// camera, whose pictures come later.
func front(index int, at, lift float64) *frame.Picture {
	p := frame.New(picWidth, picHeight, frame.Sub420)
	p.Index, p.At = int64(index), time.Duration((at+frontLate)*float64(time.Second))
	for i := range p.Cb {
		p.Cb[i], p.Cr[i] = 128, 128
	}
	for y := range picHeight {
		for x := range picWidth {
			level := byte(104)
			if y > 270 {
				level = 124
			}
			p.Y[y*p.YStride+x] = level
		}
	}
	limb := func(x1, y1, x2, y2, r float64, level byte) {
		for y := range picHeight {
			for x := range picWidth {
				dx, dy := x2-x1, y2-y1
				t := min(max(((float64(x)-x1)*dx+(float64(y)-y1)*dy)/(dx*dx+dy*dy+1e-9), 0), 1)
				if math.Hypot(float64(x)-x1-t*dx, float64(y)-y1-t*dy) < r {
					p.Y[y*p.YStride+x] = level
				}
			}
		}
	}
	limb(306, 230, 296, 320, 10, 60)
	limb(334, 230, 344, 320, 10, 60)
	limb(320, 150, 320, 226, 26, 80)
	limb(320, 112, 321, 113, 16, 140)
	hx, hy := 320-46*lift, 226-12*lift
	limb(342, 150, hx, hy, 8, 150)
	limb(hx, hy, 320-150*lift, 318-104*lift, 2, 30)
	return p
}

const frontLate = 0.062 // s

var fronts = sync.OnceValue(func() (out []*frame.Picture) {
	for i := range 37 {
		at := float64(i) / 30
		out = append(out, front(i, at, min(max((at-0.2)/0.7, 0), 1)))
	}
	return out
})

// beside has the last rep seen by a second camera too, face-on.
func (s *scene) beside() {
	s.two = true
	last := &s.snap.All[len(s.snap.All)-1]
	joints := runner.Joints{Crown: runner.Dot{X: 320, Y: 96}, Neck: runner.Dot{X: 320, Y: 134}, Hips: runner.Dot{X: 320, Y: 226}, LeadShoulder: runner.Dot{X: 342, Y: 150}, TrailHip: runner.Dot{X: 306, Y: 226}, Seen: true}
	home := joints
	home.Crown.X, home.Neck.X = 332, 328
	last.Beside = runner.Overlay{Hands: runner.Dot{At: 0.9, X: 274, Y: 214}, Head: runner.Dot{At: 0.9, X: 170, Y: 214}, Target: runner.Dot{X: nan(), Y: nan()}, Home: home, Here: joints}
	last.Rep.Body[drills.HeadBack] = drills.Reading{Value: 7, Sigma: 0.8}
	last.Rep.Views.Line = drills.DownTheLine
	for p, x := range last.Rep.Body {
		if x.Known() {
			last.Rep.Views.Body[p] = drills.ViewOf(drills.BodyPart(p).FaceOn())
		}
	}
	ring := lookback.NewRing(pictures*picWidth*picHeight*2, pictures)
	for _, p := range fronts() {
		if err := ring.Add(p, false); err != nil {
			panic(err)
		}
	}
	s.snap.Lookback.Beside, s.snap.Lookback.Later, s.snap.Lookback.Rep = ring.Cut(0, 2), frontLate, *last
}

// rep is a rep with a shaft line and a manner.
func rep(number int, line float64, m drills.Manner) drills.Rep {
	r := drills.Rep{
		Number: number, Moments: drills.NoMoments(), ShaftLine: drills.Reading{Value: line, Sigma: 0.8},
		Elevation: drills.Reading{Value: 0, Sigma: 1}, Depth: drills.Reading{Value: 4, Sigma: 1.2}, Manner: m,
		Smoothness: math.NaN(), Tempo: math.NaN(), TempoLow: math.NaN(), TempoHigh: math.NaN(),
	}
	r.Verdict, r.Just = drills.Judge(r.ShaftLine, drills.Band)
	r.Moments.Start, r.Moments.BackStart, r.Moments.Level, r.Moments.Catch = -0.3, 0.2, 0.9, 0.92
	return r
}

func unread(number int, v drills.Verdict, why string) drills.Rep {
	r := rep(number, 0, drills.Swung)
	r.Verdict, r.Why = v, why
	if v == drills.Short {
		r.Elevation.Value = -19
	}
	if v == drills.NoReading {
		r.ShaftLine, r.Depth, r.Manner = drills.None(), drills.None(), drills.Unsure
	}
	return r
}

// practising is a session with these reps; the last one was told last.
func (s *scene) practising(hand drills.Hand, cue string, reps ...drills.Rep) {
	s.snap = runner.Snapshot{
		Session: "s", Ready: true, Player: runner.Player{ID: "marta", Name: "Marta", Hand: hand}, Bay: "Net 2",
		Drill: ladder()[2].Drill, Phase: sight.Hold, Cue: cue, Set: 1,
		Beat: runner.Beat{On: true, Rate: 60, Zero: 2.35},
	}
	for i, r := range reps {
		d := runner.Done{ID: string(rune('a' + i)), Set: 1, Rep: r, Overlay: overlay()}
		s.snap.Reps = append(s.snap.Reps, d)
		s.snap.All = append(s.snap.All, d)
	}
}

// watched returns what the eye sees of the figure with the arms raised by lift.
func watched(lift float64) watch.Seen {
	spot := func(x, y float64) watch.Spot {
		return watch.Spot{Pixel: drills.Pixel{X: x, Y: y}, SdX: 1, SdY: 1, Chance: 0.9}
	}
	return watch.Seen{Player: true, Hands: spot(318-8*lift, 222-30*lift), Head: spot(392-110*lift, 312-116*lift), Hips: spot(262, 236)}
}

// eight are eight reps of a set, as mixed as a set can be.
func eight() []drills.Rep {
	return []drills.Rep{
		rep(1, 14.4, drills.Swung), rep(2, 11.3, drills.Swung), rep(3, 3, drills.Placed), rep(4, 6, drills.Swung),
		rep(5, 9.3, drills.Swung), unread(6, drills.Short, ""), rep(7, -4, drills.Swung), rep(8, -12, drills.Swung),
	}
}

func overlay() runner.Overlay {
	o := runner.Overlay{Hands: runner.Dot{At: 0.9, X: 310, Y: 192}, Head: runner.Dot{At: 0.9, X: 282, Y: 196}, Target: runner.Dot{X: 331, Y: 200}}
	for i := range 28 {
		lift := min(max((float64(i)/30-0.2)/0.7, 0), 1)
		o.Trace = append(o.Trace, runner.Dot{At: float64(i) / 30, X: 392 - 110*lift, Y: 312 - 116*lift})
	}
	return o
}

// bodily gives the last rep a body: joints as they are drawn, and readings.
func (s *scene) bodily(lost drills.Loss) {
	last := &s.snap.All[len(s.snap.All)-1]
	home := runner.Joints{Crown: runner.Dot{X: 316, Y: 100}, Neck: runner.Dot{X: 302, Y: 146}, Hips: runner.Dot{X: 262, Y: 236}, LeadShoulder: runner.Dot{X: 306, Y: 152},
		TrailElbow: runner.Dot{X: 296, Y: 196}, TrailHip: runner.Dot{X: 258, Y: 238}, Seen: true}
	here := home
	here.Crown, here.Neck = runner.Dot{X: 300, Y: 92}, runner.Dot{X: 288, Y: 142}
	last.Overlay.Home, last.Overlay.Here = home, here
	last.Rep.Body = drills.Body{drills.HandsUnder: {Value: 7, Sigma: 1.4}, drills.SpineTilt: {Value: -8, Sigma: 1.6}, drills.HeadUp: {Value: 3, Sigma: 2}, drills.HeadOut: {Value: -6, Sigma: 1.5}}
	last.Lost = lost
	read := last.Rep.Body
	last.Overlay.Again = func(_, put runner.Joints) drills.Body {
		b := read
		if put.Neck != here.Neck {
			b[drills.SpineTilt] = drills.Reading{Value: -3, Sigma: 2.3}
		}
		return b
	}
}

// looking turns the lookback of the last rep on, at quarter speed so many s
// ago.
func (s *scene) looking(ago float64) {
	last, _ := s.snap.Last()
	loop := s.ring.Cut(0, 1.2)
	s.snap.Lookback = runner.Lookback{
		On: true, ID: last.ID, Number: last.Rep.Number, Loop: loop, Known: true, Rep: last,
		Player: lookback.NewPlayer(loop.Times(), last.Rep.Moments.Level, s.now-ago),
	}
	other := s.snap.All[0]
	s.snap.Against = []runner.Compare{{Label: "best", Rep: other, Loop: s.ring.Cut(0, 1.2)}}
}
