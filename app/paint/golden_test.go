package paint

import (
	"cmp"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/stretchr/testify/require"

	"drillbay/app"
	"drillbay/camera/sight"
	"drillbay/drills"
	"drillbay/drills/book"
	"drillbay/drills/runner"
)

// update writes the golden pictures anew: look at each before keeping it.
var update = flag.Bool("update", false, "write the golden pictures anew")

// shown is a screen in a known state.
type shown struct {
	name  string
	all   bool // at both sizes and in both themes
	build func(s *scene)
	keys  []app.Action
}

func press(d app.Do) app.Action    { return app.Action{Kind: app.Key, Do: d} }
func typed(text string) app.Action { return app.Action{Kind: app.Typed, Text: text} }

// inPractice are the actions that lead from the start to the practice screen
// past the cautions and the set-up check.
func inPractice(more ...app.Action) []app.Action {
	return append([]app.Action{press(app.Go), press(app.Go), press(app.PageOn), press(app.PageOn), press(app.PageOn), press(app.PageOn)}, more...)
}

func screens() []shown {
	practice := func(hand drills.Hand, cue string, reps ...drills.Rep) func(*scene) {
		return func(s *scene) { s.practising(hand, cue, reps...) }
	}
	looking := func(line float64) func(*scene) {
		return func(s *scene) {
			s.practising(drills.Right, "Hold and look", rep(1, 1, drills.Swung), rep(2, line, drills.Swung))
			s.looking(3.8)
		}
	}
	return []shown{
		{"start", true, func(s *scene) {}, nil},
		{"start-first", false, func(s *scene) { s.book, s.virt = app.NoBook{}, true }, nil},
		{"start-leave", false, func(s *scene) {}, []app.Action{press(app.Back)}},
		{"caution", true, practice(drills.Right, ""), []app.Action{press(app.Go)}},
		{"check-grip", false, practice(drills.Right, ""), []app.Action{press(app.Go), press(app.Go)}},
		{"check-aim", false, practice(drills.Left, ""), []app.Action{press(app.Go), press(app.Go), press(app.PageOn), press(app.PageOn)}},
		{"check-ball", false, practice(drills.Right, ""), []app.Action{press(app.Go), press(app.Go), press(app.PageOn), press(app.PageOn), press(app.PageOn)}},
		{"check", true, practice(drills.Right, ""), []app.Action{press(app.Go), press(app.Go), press(app.PageOn)}},
		{"rest", false, func(s *scene) {
			s.practising(drills.Right, "Set done", eight()...)
			s.snap.SetDone, s.snap.Phase = true, sight.Away
		}, inPractice(app.Action{Kind: app.Size, X: 1280, Y: 720, N: 1469})},
		{"practice-clinic", false, practice(drills.Right, "Swing it back", eight()...), []app.Action{press(app.Clinic), press(app.Go), press(app.Go)}},
		{"practice-flipped", false, func(s *scene) {
			s.practising(drills.Right, "Hold and look", eight()...)
			s.flip = true
		}, inPractice()},
		{"practice", true, practice(drills.Right, "Swing it back", eight()...), inPractice()},
		{"practice-first", false, practice(drills.Right, "Step in when ready"), inPractice()},
		{"practice-left", false, practice(drills.Left, "Hold and look", eight()...), inPractice()},
		{"practice-body", false, func(s *scene) {
			s.practising(drills.Right, "Hold and look", rep(1, 3.2, drills.Swung))
			s.snap.All[0].Lost = drills.Loss{Part: drills.HandsUnder, Side: 1}
		}, inPractice()},
		{"practice-body-inside", false, func(s *scene) {
			s.practising(drills.Right, "Hold and look", rep(1, 3.2, drills.Swung), rep(2, -12, drills.Swung), rep(3, 17, drills.Swung))
			s.snap.All[2].Lost = drills.Loss{Part: drills.HandsUnder, Side: -1}
		}, inPractice()},
		{"practice-just", false, practice(drills.Right, "Hold and look", rep(1, 8.9, drills.Swung)), inPractice()},
		{"practice-placed", false, practice(drills.Right, "Hold and look", rep(1, -2, drills.Swung), rep(2, 2, drills.Placed)), inPractice()},
		{"practice-unsure", false, practice(drills.Right, "Hold and look", rep(1, 1, drills.Unsure), rep(2, 14, drills.Unsure), rep(3, -13, drills.Unsure),
			rep(4, 7.4, drills.Swung), rep(5, -8.7, drills.Swung), rep(6, -2, drills.Placed), unread(7, drills.NoReading, ""), rep(8, -1, drills.Swung), rep(9, 2, drills.Unsure)), inPractice()},
		{"practice-short", false, practice(drills.Right, "Hold and look", unread(1, drills.Short, "")), inPractice()},
		{"practice-unread", false, practice(drills.Right, "Hold and look", rep(1, 2, drills.Swung), unread(2, drills.NoReading, "the hands were hidden at the catch")), inPractice()},
		{"practice-lost", false, func(s *scene) {
			s.practising(drills.Right, "No picture", eight()...)
			s.snap.Notices = []runner.Notice{
				{Key: "signal", Text: "No picture from the camera.", To: "Check its cable; it comes back by itself."},
				{Key: "save", Text: "Rep 8 is not saved: disk full.", To: "It is kept and tried again. Free some space on the disk."},
			}
		}, inPractice()},
		{"look-up", true, func(s *scene) {
			s.practising(drills.Right, "Hold and look", eight()...)
			s.setup.View = 1
			s.seen = watched(1)
		}, inPractice()},
		{"look-up-missing", false, func(s *scene) {
			s.practising(drills.Right, "Swing it back", eight()...)
			s.setup.View = 1
			s.seen = watched(0.6)
			s.seen.Head.Chance, s.seen.Head.Lost = 0.2, 1.1
		}, inPractice()},
		{"lookback", true, looking(20), inPractice()},
		{"lookback-body", false, func(s *scene) {
			s.practising(drills.Right, "Hold and look", rep(1, 1, drills.Swung), rep(2, 3, drills.Swung))
			s.bodily(drills.Loss{Part: drills.HandsUnder, Side: 1})
			s.looking(3.8)
		}, inPractice()},
		{"lookback-spine", false, func(s *scene) {
			s.practising(drills.Right, "Hold and look", rep(1, 1, drills.Swung), rep(2, 3, drills.Swung))
			s.bodily(drills.Loss{})
			s.looking(3.8)
		}, inPractice(press(app.Lines), press(app.Lines))},
		{"lookback-head", false, func(s *scene) {
			s.practising(drills.Right, "Hold and look", rep(1, 1, drills.Swung), rep(2, 3, drills.Swung))
			s.bodily(drills.Loss{})
			s.looking(3.8)
		}, inPractice(press(app.Lines), press(app.Lines), press(app.Lines))},
		{"lookback-two", true, func(s *scene) { looking(20)(s); s.beside() }, inPractice()},
		{"lookback-two-head", false, func(s *scene) {
			s.practising(drills.Right, "Hold and look", rep(1, 1, drills.Swung), rep(2, 3, drills.Swung))
			s.bodily(drills.Loss{Part: drills.HeadBack, Side: 1})
			s.looking(3.8)
			s.beside()
		}, inPractice()},
		{"lens-two", false, func(s *scene) { s.seen, s.two = watched(0), true }, []app.Action{press(app.Lens)}},
		{"lens-other", true, func(s *scene) { s.two = true }, []app.Action{press(app.Lens), press(app.LookUp)}},
		{"lookback-told", false, func(s *scene) {
			looking(20)(s)
			s.snap.Notices = []runner.Notice{{Key: "slow", Text: "Verdicts are slow.", To: "Close other programs, or choose a smaller camera mode in the settings."}}
		}, inPractice()},
		{"lookback-unread", false, func(s *scene) {
			s.practising(drills.Right, "Hold and look", rep(1, 1, drills.Swung), unread(2, drills.NoReading, "the light is too low"))
			s.looking(1)
			s.snap.Lookback.Known = false
		}, inPractice()},
		{"lookback-coach", false, func(s *scene) {
			s.practising(drills.Right, "Hold and look", rep(1, 1, drills.Swung), rep(2, 9, drills.Swung))
			s.snap.All[1].Coach, s.snap.All[1].Note = "in line", "right elbow away from the side"
			s.looking(3.8)
		}, inPractice()},
		{"against", true, looking(20), inPractice(press(app.Against))},
		{"pencil", true, looking(20), inPractice(press(app.Pencil), app.Action{Kind: app.Press, X: 240, Y: 300}, app.Action{Kind: app.Move, X: 380, Y: 200}, app.Action{Kind: app.Let, X: 380, Y: 200})},
		{"pencil-marks", false, func(s *scene) {
			looking(20)(s)
			s.marks = book.Marks{Face: []drills.Pixel{{X: 270, Y: 210}, {X: 262, Y: 180}, {X: 262, Y: 240}, {X: 300, Y: 150}}, FaceWord: "open", Lead: []drills.Pixel{{X: 306, Y: 152}}, Under: -2}
		}, inPractice(press(app.Pencil), press(app.Next))},
		{"pencil-joint", false, func(s *scene) {
			s.practising(drills.Right, "Hold and look", rep(1, 1, drills.Swung), rep(2, 3, drills.Swung))
			s.bodily(drills.Loss{Part: drills.SpineTilt, Side: -1})
			s.looking(3.8)
			s.marks = book.Marks{Joints: []book.JointMark{{Name: "neck", At: drills.Pixel{X: 300, Y: 150}}}}
		}, inPractice(press(app.Pencil), press(app.Next), press(app.Next), press(app.Next))},
		{"pencil-two", false, func(s *scene) {
			s.practising(drills.Right, "Hold and look", rep(1, 1, drills.Swung), rep(2, 3, drills.Swung))
			s.bodily(drills.Loss{Part: drills.HeadBack, Side: 1})
			s.looking(3.8)
			s.beside()
		}, inPractice(press(app.Pencil), press(app.LookUp), press(app.Next))},
		{"lookback-joint", false, func(s *scene) {
			s.practising(drills.Right, "Hold and look", rep(1, 1, drills.Swung), rep(2, 3, drills.Swung))
			s.bodily(drills.Loss{Part: drills.SpineTilt, Side: -1})
			s.looking(3.8)
			s.marks = book.Marks{Joints: []book.JointMark{{Name: "neck", At: drills.Pixel{X: 300, Y: 150}}}, Body: drills.Body{drills.SpineTilt: {Value: -3, Sigma: 2.3}}}
		}, inPractice()},
		{"lens", true, func(s *scene) { s.seen = watched(0) }, []app.Action{press(app.Lens)}},
		{"lens-face", false, func(s *scene) { s.seen = watched(0) }, []app.Action{press(app.Lens), press(app.Against)}},
		{"lens-face-lead", false, func(s *scene) { s.seen = watched(0) }, []app.Action{press(app.Lens), press(app.Against), press(app.PageOn), press(app.PageOn)}},
		{"lens-lines", false, func(s *scene) {}, []app.Action{press(app.Lens), press(app.Lines)}},
		{"lens-hang", false, func(s *scene) {}, []app.Action{press(app.Lens), press(app.PageBack)}},
		{"lens-unseen", false, func(s *scene) { s.hands.X, s.seen = nan(), watched(0.3) }, []app.Action{press(app.Lens)}},
		{"clinic", true, func(s *scene) {}, []app.Action{press(app.Clinic)}},
		{"clinic-40", false, func(s *scene) { s.book = fullBook{crowd: 40} }, []app.Action{press(app.Clinic), press(app.Down), press(app.Down)}},
		{"clinic-stations", false, func(s *scene) { s.book = fullBook{stations: []string{"net 2", "mirror", "putting mat"}} }, []app.Action{press(app.Clinic)}},
		{"clinic-new-stations", false, func(s *scene) { s.book = app.NoBook{} }, []app.Action{press(app.Clinic), typed("Iven (L)\nSana\nMarta\nL"), press(app.Next), press(app.Next), press(app.Right), press(app.Right)}},
		{"clinic-end", false, func(s *scene) {}, []app.Action{press(app.Clinic), press(app.EndGroup)}},
		{"clinic-none", false, func(s *scene) { s.book = app.NoBook{} }, []app.Action{press(app.Clinic)}},
		{"clinic-new", true, func(s *scene) { s.book = app.NoBook{} }, []app.Action{press(app.Clinic), typed("Iven (L)\nSana\nMarta\nOluwaseun\nTeodor\nAroha\nBerit\nL")}},
		{"clinic-mend", false, func(s *scene) { s.book = app.NoBook{} }, []app.Action{press(app.Clinic), typed("Iven (L)\nSana\nMatra\nOluwaseun\nTeodor\n"), press(app.Up), press(app.Up), press(app.Up)}},
		{"clinic-new-40", false, func(s *scene) { s.book = app.NoBook{} }, []app.Action{press(app.Clinic), typed(strings.Repeat("Bartholomea-Wilhelmina Constantinopoulou\n", 40))}},
		{"clinic-late", false, func(s *scene) {}, []app.Action{press(app.Clinic), press(app.Join), typed("Li,Ko")}},
		{"answers", true, func(s *scene) {}, []app.Action{press(app.Progress), press(app.Pencil)}},
		{"delete", true, func(s *scene) {}, []app.Action{press(app.Progress), press(app.EraseOn), typed("Wil")}},
		{"delete-named", false, func(s *scene) {}, []app.Action{press(app.Progress), press(app.EraseOn), typed("marta")}},
		{"progress-deleted", false, func(s *scene) { s.book = fullBook{deleted: "Bartholomea"} }, []app.Action{press(app.Progress)}},
		{"consent", true, func(s *scene) {}, []app.Action{press(app.Progress), press(app.Agree)}},
		{"consent-back", true, func(s *scene) {}, []app.Action{press(app.Progress), press(app.Agree), press(app.Up), press(app.Go), press(app.Down)}},
		{"consent-long", false, func(s *scene) { s.book = brokenBook{} }, []app.Action{press(app.Progress), press(app.Agree), press(app.Down), press(app.Down)}},
		{"progress", true, func(s *scene) {}, []app.Action{press(app.Progress)}},
		{"progress-none", false, func(s *scene) { s.book = app.NoBook{} }, []app.Action{press(app.Progress)}},
		{"progress-long", false, func(s *scene) { s.book = brokenBook{} }, []app.Action{press(app.Progress)}},
		{"clip", false, func(s *scene) {}, []app.Action{press(app.LookBack), typed("/home/ada/Videos/range.mov"), press(app.Next)}},
		{"clip-reps", false, func(s *scene) { s.clip = true }, []app.Action{press(app.LookBack), typed("/home/ada/Videos/range.mov"), press(app.Go)}},
		{"kept", false, func(s *scene) {}, []app.Action{press(app.Progress), press(app.Keep), press(app.Down)}},
		{"kept-two", false, func(s *scene) {}, []app.Action{press(app.Progress), press(app.Keep), press(app.Against), press(app.Down), press(app.Go)}},
		{"save", false, func(s *scene) {}, []app.Action{press(app.Progress), press(app.Keep), press(app.Down), press(app.Keep)}},
		{"kept-none", false, func(s *scene) { s.book = app.NoBook{} }, []app.Action{press(app.Keep)}},
		{"keep", true, looking(20), inPractice(press(app.Keep), press(app.Next), press(app.Right))},
		{"clubs", true, func(s *scene) {}, []app.Action{press(app.Progress), press(app.Club), press(app.More), typed("8-iron")}},
		{"clubs-none", false, func(s *scene) { s.book = brokenBook{} }, []app.Action{press(app.Progress), press(app.Club)}},
		{"drills-fault", false, func(s *scene) { s.book = brokenBook{} }, []app.Action{press(app.Drills)}},
		{"drills", true, func(s *scene) {}, []app.Action{press(app.Drills)}},
		{"watched", true, func(s *scene) {}, []app.Action{press(app.Drills), press(app.Pencil), press(app.Down), press(app.Hold), press(app.More)}},
		{"coach", false, func(s *scene) {}, []app.Action{press(app.Settings), press(app.Pencil), typed("Wilhelmina Achterberg")}},
		{"settings", true, func(s *scene) {}, []app.Action{press(app.Settings)}},
		{"new-player", true, func(s *scene) {}, []app.Action{press(app.NewPlayer), typed("Wilhelmina")}},
		{"keys", true, practice(drills.Right, "Swing it back"), inPractice(press(app.Keys))},
	}
}

// view is a screen's view at a size.
func (x shown) view(theme string, w, h int) *app.View { return x.viewFrom(theme, w, h, 15.6, 3.5) }

// viewFrom is the view on a screen of so many inches seen from so many m.
func (x shown) viewFrom(theme string, w, h int, inches, metres float64) *app.View {
	s := newScene(theme)
	s.setup.ScreenInch, s.setup.ViewMetres = inches, metres
	x.build(s)
	a := s.begin()
	size := app.Action{Kind: app.Size, X: float64(w), Y: float64(h), N: diagonal(w, h)}
	v := a.Step([]app.Action{size}, s.now)
	for _, k := range x.keys {
		v = a.Step([]app.Action{k}, s.now)
	}
	for x.name == "kept" && v.Pictures[0] == nil || x.name == "kept-two" && v.Pictures[1] == nil || x.name == "save" && !v.Says("/home/ada/Videos") {
		runtime.Gosched()
		s.now += 0.1
		v = a.Step(nil, s.now)
	}
	for s.clip && !v.Says("3 reps") {
		runtime.Gosched() // it is read beside
		v = a.Step(nil, s.now)
	}
	return v
}

func TestEveryScreenLooksAsItDid(t *testing.T) {
	p, err := New(nil)
	require.NoError(t, err)
	for _, x := range screens() {
		for _, theme := range []string{"daylight", "indoors"} {
			for _, size := range [][2]int{{1280, 720}, {1920, 1080}} {
				if !x.all && (theme != "daylight" || size[0] != 1280) {
					continue
				}
				name := fmt.Sprintf("%s-%s-%d.png", x.name, theme, size[0])
				t.Run(name, func(t *testing.T) {
					v := x.view(theme, size[0], size[1])
					defer v.Release()
					same(t, filepath.Join("testdata", name), pixels(p, v))
				})
			}
		}
	}
}

// pixels draws a view off the screen.
func pixels(p *Painter, v *app.View) *image.RGBA {
	w, h := int(v.Width), int(v.Height)
	img := ebiten.NewImage(w, h)
	defer img.Deallocate()
	p.Draw(img, v)
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	img.ReadPixels(out.Pix)
	return out
}

// same holds a picture against the golden one: at most 4 levels a channel
// apart, but for 0.05 % of the pixels (what software rendering may vary).
func same(t *testing.T, path string, got *image.RGBA) {
	t.Helper()
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		f, err := os.Create(path)
		require.NoError(t, err)
		e := png.Encoder{CompressionLevel: png.BestCompression}
		require.NoError(t, e.Encode(f, coarse(got)))
		require.NoError(t, f.Close())
		return
	}
	f, err := os.Open(path)
	require.NoError(t, err, "run the test with -update, then look at the picture")
	defer f.Close()
	want, err := png.Decode(f)
	require.NoError(t, err)
	require.Equal(t, want.Bounds(), got.Bounds())
	far := 0
	b := got.Bounds()
	for y := range b.Dy() {
		for x := range b.Dx() {
			if apart(color.RGBAModel.Convert(want.At(x, y)).(color.RGBA), got.RGBAAt(x, y)) > 4 {
				far++
			}
		}
	}
	most := b.Dx() * b.Dy() / 2000
	if far > most {
		out := filepath.Join(os.TempDir(), filepath.Base(path))
		if f, err := os.Create(out); err == nil {
			_ = png.Encode(f, got)
			f.Close()
		}
		t.Fatalf("%d pixels differ, at most %d may; see %s", far, most, out)
	}
}

// coarse keeps 256 colours at most, the most frequent ones that are more than
// 3 levels apart: small files, within 3 levels but for a few pixels.
func coarse(in *image.RGBA) *image.Paletted {
	count := map[color.RGBA]int{}
	at := func(i int) color.RGBA { return color.RGBA{in.Pix[i], in.Pix[i+1], in.Pix[i+2], 255} }
	for i := 0; i < len(in.Pix); i += 4 {
		count[at(i)]++
	}
	colours := slices.SortedFunc(maps.Keys(count), func(a, b color.RGBA) int {
		if d := count[b] - count[a]; d != 0 {
			return d
		}
		return cmp.Compare(uint32(a.R)<<16|uint32(a.G)<<8|uint32(a.B), uint32(b.R)<<16|uint32(b.G)<<8|uint32(b.B))
	})
	out := image.NewPaletted(in.Rect, nil)
	index := map[color.RGBA]uint8{}
	for _, c := range colours {
		best, off := 0, 256
		for k, p := range out.Palette {
			if d := apart(c, p.(color.RGBA)); d < off {
				best, off = k, d
			}
		}
		if off > 3 && len(out.Palette) < 256 {
			best = len(out.Palette)
			out.Palette = append(out.Palette, c)
		}
		index[c] = uint8(best)
	}
	for i := 0; i < len(in.Pix); i += 4 {
		out.Pix[i/4] = index[at(i)]
	}
	return out
}

func apart(a, b color.RGBA) int {
	d := func(x, y uint8) int { return max(int(x)-int(y), int(y)-int(x)) }
	return max(d(a.R, b.R), d(a.G, b.G), d(a.B, b.B))
}
