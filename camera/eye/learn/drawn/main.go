// Drawn writes pictures of virtual bays with their truth, in the form of
// scene.py, for the small part of what the eye learns from that is drawn:
//
//	go run ./camera/eye/learn/drawn -bays 240 -seed 20001 -to FOLDER
//
// Tests draw bays of seeds under 1000 only.
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"sync"

	"drillbay/camera/frame"
	"drillbay/camera/virtual"
)

const (
	size    = 320 // of a picture, px
	moments = 5   // of a bay, two pictures each
	held    = 12  // every so many a bay is kept out of learning
)

// The order of the keypoints is that of points.py.
const (
	gripEnd = iota
	hands
	shaftEnd
	head
	crown
	neck
	leftShoulder
	rightShoulder
	all = 19
)

// hosel is how far the shaft's lower end lies from the sole, m (common practice).
const hosel = 0.055

type shot struct {
	File   string          `json:"file"`
	Name   string          `json:"name"`
	Kind   string          `json:"kind"`
	Speed  float64         `json:"speed"`
	Points [all][4]float64 `json:"points"`
}

type scene struct {
	Scene    int     `json:"scene"`
	Held     bool    `json:"held"`
	View     string  `json:"view"`
	Window   string  `json:"window"`
	Size     int     `json:"size"`
	Side     float64 `json:"side"`
	Focal    float64 `json:"f"`
	Pictures []shot  `json:"pictures"`
}

func main() {
	bays := flag.Int("bays", 240, "how many bays")
	seed := flag.Uint64("seed", 20001, "of the first bay")
	to := flag.String("to", "drawn", "the folder to write")
	flag.Parse()
	if err := run(*bays, *seed, *to); err != nil {
		fmt.Fprintln(os.Stderr, "drawn:", err)
		os.Exit(1)
	}
}

func run(bays int, seed uint64, to string) error {
	if err := os.MkdirAll(to, 0o755); err != nil {
		return err
	}
	const part = 10
	setups := make([]virtual.Setup, 0, bays)
	for i := 0; i < bays; i += part {
		setups = append(setups, virtual.Spread(seed+uint64(i), min(part, bays-i))...)
	}
	rows := make([][]byte, bays)
	errs := make([]error, bays)
	var wg sync.WaitGroup
	next := make(chan int, bays)
	for i := range bays {
		next <- i
	}
	close(next)
	for range runtime.NumCPU() {
		wg.Go(func() {
			for i := range next {
				rows[i], errs[i] = draw(setups[i], i, rand.New(rand.NewPCG(seed, uint64(i))), to)
			}
		})
	}
	wg.Wait()
	f, err := os.Create(filepath.Join(to, "truth-0.jsonl"))
	if err != nil {
		return err
	}
	defer f.Close()
	for i, r := range rows {
		if errs[i] != nil {
			fmt.Fprintln(os.Stderr, "bay", i, errs[i])
			continue
		}
		if _, err := f.Write(append(r, '\n')); err != nil {
			return err
		}
	}
	return f.Close()
}

// draw writes the pictures of one bay and gives its line of truth.
func draw(s virtual.Setup, number int, r *rand.Rand, to string) ([]byte, error) {
	vary(&s, r)
	b, err := virtual.New(s)
	if err != nil {
		return nil, err
	}
	p := frame.New(s.Width, s.Height, frame.Sub420)
	first := b.Truth(0.1)
	perMetre := b.Focal() / first.HandsDistance
	metres := math.Exp(math.Log(0.9) + r.Float64()*math.Log(2.8/0.9))
	side := metres * perMetre
	cx := first.HandsPX[0] + (r.NormFloat64()*0.15+0.05)*side
	cy := first.HandsPX[1] + (r.NormFloat64()*0.15+0.1)*side
	out := scene{Scene: number, Held: number%held == held-1, View: "line", Window: "whole", Size: size, Side: side, Focal: b.Focal()}
	if metres < 1.5 {
		out.Window = "close"
	}
	take := func(i int, name, kind string) error {
		i = max(0, min(i, b.Frames()-1))
		if err := b.Draw(i, p); err != nil {
			return err
		}
		x := shot{File: fmt.Sprintf("d%05d-%s.jpg", number, name), Name: name, Kind: kind}
		f, err := os.Create(filepath.Join(to, x.File))
		if err != nil {
			return err
		}
		defer f.Close()
		if err := jpeg.Encode(f, crop(p, cx, cy, side), &jpeg.Options{Quality: 90}); err != nil {
			return err
		}
		t := float64(i) / s.FPS
		x.Points, x.Speed = points(b, &s, t, cx, cy, side)
		out.Pictures = append(out.Pictures, x)
		return f.Close()
	}
	if err := take(int(0.1*s.FPS), "address", "address"); err != nil {
		return nil, err
	}
	events := b.Events()
	for k := range moments {
		e := events[r.IntN(len(events))]
		kind, t := "back", 0.0
		switch last := e.Catch; {
		case math.IsNaN(last):
			kind = "swing"
			t = e.BackStart + r.Float64()*(e.Impact+0.4-e.BackStart)
			switch k := r.Float64(); {
			case k < 0.45: // about level and a little beyond, where a swing is read
				t = e.BackStart + (0.25+0.5*r.Float64())*(e.Top-e.BackStart)
			case k < 0.6: // the head leaves the ball
				t = e.BackStart + 0.3*r.Float64()
			}
		case e.ForwardStart > 0 && r.Float64() < 0.15: // the head leaves its place
			t = e.ForwardStart + 0.3*r.Float64()
		case r.Float64() < 0.5:
			kind = "hold"
			t = last + 0.1 + 0.3*r.Float64()
		default:
			t = e.BackStart - 0.3 + r.Float64()*(last-e.BackStart+0.3)
		}
		i := int(t * s.FPS)
		step := max(1, int(math.Round(s.FPS*[]float64{1. / 30, 1. / 30, 1. / 15, 1. / 60}[r.IntN(4)])))
		if err := take(i-step, fmt.Sprintf("before-%d", k), kind); err != nil {
			return nil, err
		}
		if err := take(i, fmt.Sprintf("now-%d", k), kind); err != nil {
			return nil, err
		}
	}
	return json.Marshal(out)
}

// points is the truth at t seconds in a window's pixels, and the head's
// speed in them a second. What the figure does not tell is marked not known.
func points(b *virtual.Bay, s *virtual.Setup, t, cx, cy, side float64) (out [all][4]float64, speed float64) {
	w, j := b.Truth(t), b.Joints(t)
	for i := range out {
		out[i][3] = -1
	}
	put := func(i int, at [3]float64) {
		px, depth := b.See(at)
		u, v := (px[0]-cx)/side*size+size/2, (px[1]-cy)/side*size+size/2
		out[i] = [4]float64{u, v, depth, 2}
		inPicture := px[0] >= 0 && px[0] < float64(s.Width) && px[1] >= 0 && px[1] < float64(s.Height)
		if u < 0 || u >= size || v < 0 || v >= size || !inPicture {
			out[i][3] = 0
		}
	}
	along := func(d float64) (at [3]float64) { // from the hands toward the head, m
		for i := range at {
			at[i] = w.Hands[i] + (w.Head[i]-w.Hands[i])/b.HandsToHead()*d
		}
		return at
	}
	put(gripEnd, along(-s.Club.Grip))
	put(hands, w.Hands)
	put(shaftEnd, along(b.HandsToHead()-hosel))
	put(head, w.Head)
	put(crown, j.Crown)
	put(neck, j.Neck)
	pairs := [][2][3]float64{{j.LeadShoulder, j.TrailShoulder}, {j.LeadElbow, j.TrailElbow}, {j.LeadWrist, j.TrailWrist},
		{j.LeadHip, j.TrailHip}, {j.LeadKnee, j.TrailKnee}, {j.LeadAnkle, j.TrailAnkle}}
	for k, pair := range pairs {
		lead, trail := leftShoulder+2*k, rightShoulder+2*k
		if s.Player.Hand == virtual.LeftHand {
			lead, trail = trail, lead
		}
		put(lead, pair[0])
		put(trail, pair[1])
	}
	const dt = 1.0 / 240
	a, c := b.Truth(t-dt).HeadPX, b.Truth(t+dt).HeadPX
	return out, math.Hypot(c[0]-a[0], c[1]-a[1]) / (2 * dt) / side * size
}

// crop is a square window of a picture, size px wide, each pixel the mean of
// 3 × 3 samples; grey beyond the picture.
func crop(p *frame.Picture, cx, cy, side float64) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, size, size))
	const n = 3
	for y := range size {
		for x := range size {
			var r, g, b float64
			for k := range n * n {
				u := cx + ((float64(x)+(float64(k%n)+0.5)/n)/size-0.5)*side
				v := cy + ((float64(y)+(float64(k/n)+0.5)/n)/size-0.5)*side
				if u < 0 || v < 0 || u >= float64(p.Width) || v >= float64(p.Height) {
					r, g, b = r+127, g+127, b+127
					continue
				}
				c := int(v)/2*p.CStride + int(u)/2
				r8, g8, b8 := color.YCbCrToRGB(luma(p, u-0.5, v-0.5), p.Cb[c], p.Cr[c])
				r, g, b = r+float64(r8), g+float64(g8), b+float64(b8)
			}
			img.SetRGBA(x, y, color.RGBA{uint8(r/(n*n) + 0.5), uint8(g/(n*n) + 0.5), uint8(b/(n*n) + 0.5), 255})
		}
	}
	return img
}

// luma is a level between pixels, bilinear.
func luma(p *frame.Picture, x, y float64) uint8 {
	x, y = min(max(x, 0), float64(p.Width)-1.001), min(max(y, 0), float64(p.Height)-1.001)
	i, j := int(x), int(y)
	a, b := x-float64(i), y-float64(j)
	at := func(i, j int) float64 { return float64(p.Y[j*p.YStride+i]) }
	return uint8((1-b)*((1-a)*at(i, j)+a*at(i+1, j)) + b*((1-a)*at(i, j+1)+a*at(i+1, j+1)) + 0.5)
}
