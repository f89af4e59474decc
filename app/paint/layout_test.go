package paint

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/app"
	"drillbay/drills"
	"drillbay/drills/runner"
)

func nan() float64 { return math.NaN() }

func diagonal(w, h int) int { return int(math.Round(math.Hypot(float64(w), float64(h)))) }

// box is the rectangle of a text from the top of its capitals to its baseline.
func box(r *app.Ruler, i app.Item) app.Rect {
	tall := i.Size * app.CapHeight
	return app.Rect{X: i.X, Y: i.Y - tall, W: r.Width(i.Text, i.Size, i.Weight), H: tall}
}

func cross(a, b app.Rect) bool {
	const slack = 1
	return a.X+slack < b.Right() && b.X+slack < a.Right() && a.Y+slack < b.Bottom() && b.Y+slack < a.Bottom()
}

func TestNoTextLeavesTheWindowOrCrossesAnother(t *testing.T) {
	ruler := app.NewRuler(nil)
	for _, mat := range [][2]float64{{15.6, 3.5}, {13.3, 4}, {11.6, 3.5}, {27, 3}} {
		for _, size := range [][2]int{{1024, 600}, {1280, 720}, {1366, 768}, {1280, 800}, {1920, 1080}, {2560, 1080}, {3840, 2160}} {
			for _, x := range screens() {
				name := fmt.Sprintf("%s at %d × %d, %v inches from %v m", x.name, size[0], size[1], mat[0], mat[1])
				v := x.viewFrom("daylight", size[0], size[1], mat[0], mat[1])
				var boxes []app.Item
				for _, i := range v.Items {
					if i.Shape != app.Text {
						continue
					}
					b := box(ruler, i)
					assert.GreaterOrEqual(t, b.X, -1.0, "%s: %q", name, i.Text)
					assert.LessOrEqual(t, b.Right(), v.Width+1, "%s: %q", name, i.Text)
					assert.GreaterOrEqual(t, b.Y, -1.0, "%s: %q", name, i.Text)
					assert.LessOrEqual(t, b.Bottom(), v.Height+1, "%s: %q", name, i.Text)
					for _, j := range boxes {
						// Tags on the picture lie where the picture has them.
						if j.Role == app.Core && i.Role == app.Core {
							continue
						}
						assert.False(t, cross(b, box(ruler, j)), "%s: %q crosses %q", name, i.Text, j.Text)
					}
					boxes = append(boxes, i)
				}
				for _, h := range v.Hits {
					assert.True(t, h.X >= -7 && h.Y >= -7 && h.Right() <= v.Width+7 && h.Bottom() <= v.Height+1, "%s: what is pressed for %v leaves the window: %+v", name, h.Do, h.Rect)
				}
				v.Release()
			}
		}
	}
}

func TestANoticeMovesNothingThatIsReadFromTheMat(t *testing.T) {
	told := []runner.Notice{{Key: "slow", Text: "Verdicts are slow.", To: "Close other programs."}}
	kept := 0
	for _, x := range screens() {
		for n := 1; n <= 2; n++ {
			before := x.view("daylight", 1280, 720)
			quiet := append([]app.Item{}, before.Items...)
			before.Release()
			if s := before.Screen; s != "practice" && s != "lookback" && s != "pencil" || x.name == "practice-lost" || x.name == "lookback-told" {
				continue
			}
			kept++
			y := x
			y.build = func(s *scene) {
				x.build(s)
				s.snap.Notices = told
				if n == 2 {
					s.snap.Notices = append(told, runner.Notice{Key: "disk", Text: "The disk is nearly full.", To: "Free some space."})
				}
			}
			v := y.view("daylight", 1280, 720)
			loud := map[app.Item]bool{}
			var strip app.Rect
			for i, item := range v.Items {
				loud[item] = true
				if item.Text == told[0].Text {
					plate := v.Items[i-1]
					strip = app.Rect{X: plate.X, Y: plate.Y, W: plate.W, H: plate.H}
				}
			}
			v.Release()
			require.NotZero(t, strip.H, x.name)
			for _, item := range quiet {
				if !strip.Holds(item.X, item.Y) {
					require.True(t, loud[item], "%s: %+v moved", x.name, item)
				}
			}
		}
	}
	require.Greater(t, kept, 20)
}

// No text is cut, but names that are longer than any place for them.
func TestNoTextIsCut(t *testing.T) {
	long := map[string]bool{"clinic-40": true, "clinic-new-40": true, "consent-long": true, "progress-long": true}
	for _, size := range [][2]int{{1024, 600}, {1280, 720}, {1366, 768}, {1280, 800}, {1920, 1080}, {2560, 1600}} {
		for _, x := range screens() {
			if long[x.name] {
				continue
			}
			v := x.view("daylight", size[0], size[1])
			for _, text := range v.Texts() {
				assert.False(t, strings.HasSuffix(text, "…"), "%s at %v: %q", x.name, size, text)
			}
			v.Release()
		}
	}
}

// What a rep lost of the body hides neither its verdict nor the set's scale, and is
// as large as the mat needs.
func TestWhatWasLostHidesNothing(t *testing.T) {
	for _, size := range [][2]int{{1024, 600}, {1280, 720}, {1366, 768}, {1280, 800}, {1920, 1080}, {2560, 1600}} {
		least := math.Floor(app.CapPixels(16, 3.5, 15.6, float64(diagonal(size[0], size[1]))))
		for part := range drills.BodyPart(drills.BodyParts) {
			for _, side := range []int{-1, 1} {
				l := drills.Loss{Part: part, Side: side}
				x := shown{"lost", false, func(s *scene) {
					s.practising(drills.Right, "Hold and look", rep(1, 3.2, drills.Swung), rep(2, 17, drills.Swung))
					s.snap.All[1].Lost = l
				}, inPractice()}
				v := x.view("daylight", size[0], size[1])
				scale, words := false, ""
				for _, i := range v.Items {
					scale = scale || i.Text == "0°"
					if i.Shape == app.Text && i.Weight == app.Regular && i.Size*app.CapHeight >= least {
						words += i.Text + " "
					}
				}
				v.Release()
				require.True(t, scale, "%v: %s", size, l)
				require.Contains(t, words, l.String(), "%v", size)
			}
		}
	}
}

func TestThreeLinesOfAVerdictAreReadableInASmallWindow(t *testing.T) {
	for _, x := range screens() {
		if x.name != "practice-unsure" {
			continue
		}
		v := x.view("daylight", 1024, 600)
		defer v.Release()
		// 16 minutes of arc at least (ISO 9241-303), from 3.5 m on 15.6 inches.
		least := app.CapPixels(16, 3.5, 15.6, float64(diagonal(1024, 600)))
		for _, i := range v.Items {
			if i.Shape == app.Text && (i.Text == "unsure" && i.Weight == app.Bold || i.Text == "2°") {
				require.GreaterOrEqual(t, i.Size*app.CapHeight, math.Floor(least), i.Text)
			}
		}
	}
}

func TestEveryScreenSaysItsWayBack(t *testing.T) {
	for _, x := range screens() {
		v := x.view("daylight", 1280, 720)
		found := false
		for _, h := range v.Hits {
			found = found || h.Do == app.Back
		}
		// On the practice screen Escape ends the session; it stands with the keys.
		if v.Screen != "practice" {
			require.True(t, found, x.name)
		}
		v.Release()
	}
}

func TestTheVerdictIsDrawnAsLargeAsTheMatNeeds(t *testing.T) {
	p, err := New(nil)
	require.NoError(t, err)
	// ISO 9241-303 asks for 20 minutes of arc, 16 at least: capital heights in
	// px of 20 minutes at 3 m and 4 m on screens of 1920 × 1080.
	for _, c := range []struct{ inches, metres, capital float64 }{
		{13.3, 3, 113.8}, {13.3, 4, 151.8}, {15.6, 3, 97.0}, {15.6, 4, 129.4}, {24, 3, 63.1}, {24, 4, 84.1},
	} {
		require.InDelta(t, c.capital, app.CapPixels(20, c.metres, c.inches, float64(diagonal(1920, 1080))), 0.06, "%+v", c)
		s := newScene("daylight")
		s.setup.ScreenInch, s.setup.ViewMetres = c.inches, c.metres
		s.practising(drills.Right, "Hold and look", rep(1, 8.9, drills.Swung), rep(2, 20, drills.Swung))
		a := s.begin()
		v := a.Step(append([]app.Action{{Kind: app.Size, X: 1920, Y: 1080, N: diagonal(1920, 1080)}}, inPractice()...), s.now)
		// "inside" has no capital: its d is as high as an ascender, so the
		// figures, as high as capitals, are measured.
		var number app.Item
		for _, i := range v.Items {
			if i.Shape == app.Text && i.Text == "20°" {
				number = i
			}
		}
		require.NotZero(t, number.Size, "%+v", c)
		got := inkHeight(p, v, number)
		v.Release()
		least := c.capital * 16 / 20
		require.GreaterOrEqual(t, got, math.Floor(least), "%+v: verdict", c)
		if c.capital < 130 {
			require.GreaterOrEqual(t, got, math.Floor(c.capital), "%+v: 20 minutes where they fit", c)
		}
	}
}

// inkHeight is the height in px of what is drawn in a text's first figure.
func inkHeight(p *Painter, v *app.View, i app.Item) float64 {
	img := pixels(p, v)
	page := Named(v.Theme)[app.Page]
	top, bottom := math.Inf(1), math.Inf(-1)
	for y := int(i.Y - i.Size); y < int(i.Y+i.Size*0.1); y++ {
		for x := int(i.X); x < int(i.X+i.Size*0.5); x++ {
			c := img.RGBAAt(x, y)
			if apart(c, toRGBA(page)) > 128 {
				top, bottom = min(top, float64(y)), max(bottom, float64(y)+1)
			}
		}
	}
	return bottom - top
}

// What a player must know in a hold is read from the mat, in practice as in the
// lookback: the verdict with its shade, the angle with its side, how the club came,
// and why there is no reading. 16 minutes of arc at least (ISO 9241-303).
func TestWhatCountsInAHoldIsReadFromTheMat(t *testing.T) {
	unsure := rep(1, -3.4, drills.Placed)
	just := rep(1, 8.9, drills.Swung)
	for _, c := range []struct {
		rep  drills.Rep
		says []string
	}{
		{rep(1, 3.2, drills.Swung), []string{"in line", "3°", "inside"}},
		{unsure, []string{"in line", "3°", "outside", "placed"}},
		{just, []string{"just inside", "9°"}},
		{unread(1, drills.Short, ""), []string{"short", "19°", "low"}},
		{unread(1, drills.NoReading, "the hands were hidden at the catch"), []string{"no reading", "at the catch"}},
	} {
		for _, look := range []bool{false, true} {
			for _, size := range [][2]int{{1024, 600}, {1280, 720}, {1280, 800}, {1366, 768}, {1920, 1080}, {2560, 1600}} {
				s := newScene("daylight")
				s.practising(drills.Right, "Hold and look", c.rep)
				if look {
					s.looking(3.8)
				}
				a := s.begin()
				v := a.Step(append([]app.Action{{Kind: app.Size, X: float64(size[0]), Y: float64(size[1]), N: diagonal(size[0], size[1])}}, inPractice()...), s.now)
				least := app.CapPixels(16, 3.5, 15.6, float64(diagonal(size[0], size[1])))
				for _, word := range c.says {
					largest := 0.0
					for _, i := range v.Items {
						if i.Shape == app.Text && i.Text == word {
							largest = max(largest, i.Size*app.CapHeight)
						}
					}
					assert.GreaterOrEqual(t, largest, math.Floor(least), "%q at %v, lookback %v", word, size, look)
				}
				v.Release()
			}
		}
	}
}

// No screen speaks of statistics: that stands in the report.
func TestNoScreenSpeaksOfStatistics(t *testing.T) {
	terms := regexp.MustCompile(`\bp [<=]|\bZ [<=]|[^o] 95 %|long run|t-test|[Ss]igma|Theil|Mann|Wilson|standard deviation|percentage point|±|minutes of arc`)
	for _, x := range screens() {
		v := x.view("daylight", 1280, 720)
		for _, text := range v.Texts() {
			assert.False(t, terms.MatchString(text), "%s: %q", x.name, text)
		}
		v.Release()
	}
}

// Whatever the window's shape, the picture reaches from its left edge to the words
// and from the head to the beat or the cue: nothing stays empty beside it.
func TestThePictureFillsItsPlaceInAnyWindow(t *testing.T) {
	for _, size := range [][2]int{{1024, 600}, {1024, 768}, {1280, 720}, {1280, 800}, {1366, 768}, {1920, 1080}, {1920, 1200}, {2560, 1080}, {2560, 1600}, {3840, 2160}} {
		for _, x := range screens() {
			if x.name != "practice" && x.name != "look-up" && x.name != "practice-left" {
				continue
			}
			v := x.view("daylight", size[0], size[1])
			var picture, words app.Item
			for _, i := range v.Items {
				switch {
				case i.Shape == app.Picture:
					picture = i
				case i.Shape == app.Text && i.Text == "Rung 3":
					words = i
				}
			}
			k := min(v.Width/1280, v.Height/720)
			require.Zero(t, picture.X, "%s at %v", x.name, size)
			require.InDelta(t, words.X-24*k, picture.X+picture.W, 2, "%s at %v", x.name, size)
			require.Greater(t, picture.W*picture.H, 0.28*v.Width*v.Height, "%s at %v: it is large", x.name, size)
			require.InDelta(t, picture.W/picture.H, picture.Crop.W/picture.Crop.H, 0.01, "%s at %v: nothing is stretched", x.name, size)
			v.Release()
		}
	}
}

// The tails of letters do not hang into the cue bar: there they would be cut.
func TestNoLetterHangsIntoTheCueBar(t *testing.T) {
	hung := 0
	told := func(x shown) shown { // a notice takes some of the height
		build := x.build
		x.build = func(s *scene) {
			build(s)
			s.snap.Notices = []runner.Notice{{Key: "slow", Text: "Verdicts are slow.", To: "Close other programs."}}
		}
		return x
	}
	all := screens()
	for _, x := range screens() {
		all = append(all, told(x))
	}
	for _, size := range [][2]int{{1024, 600}, {1280, 720}, {1366, 768}, {1280, 800}, {1920, 1080}, {2560, 1600}} {
		for _, x := range all {
			v := x.view("daylight", size[0], size[1])
			bar := v.Height
			for _, i := range v.Items {
				if i.Shape == app.Fill && i.Role == app.Ink && i.X == 0 && i.W == v.Width && i.Y > v.Height/2 {
					bar = i.Y
				}
			}
			for _, i := range v.Items {
				if i.Shape != app.Text || i.Y > bar { // whose name it is, and with which letters, is the user's
					continue
				}
				hung++
				const tail = 0.2 // of the size: of a y of the Go fonts
				assert.LessOrEqual(t, i.Y+tail*i.Size, bar+1, "%s at %v: %q", x.name, size, i.Text)
			}
			v.Release()
		}
	}
	require.Greater(t, hung, 1000)
}
