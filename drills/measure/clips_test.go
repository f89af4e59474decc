package measure

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/camera/clip"
	"drillbay/camera/lens"
	"drillbay/camera/virtual"
	"drillbay/drills"
)

// truthFile is the exact truth beside a reference clip.
type truthFile struct {
	Spec struct {
		Width, Height int
		FPS           float64
		Camera        struct {
			Distance float64
			Roll     float64 `json:"roll_deg"`
			Field    float64 `json:"hfov_deg"`
		}
		Club struct {
			Length float64
			Grip   float64 `json:"hands_from_butt"`
		}
		Player struct {
			Hand, Handed string
			Stature      float64
		}
	}
	Target [2]float64 `json:"target_vanishing_point"`
	Focal  float64    `json:"focal_px"`
	Events []map[string]any
	Truth  []truthRow
}

type truthRow struct {
	T           float64
	Hands, Head [3]float64
	HandsPX     [2]float64           `json:"hands_px"`
	HeadPX      [2]float64           `json:"head_px"`
	Joints      map[string][]float64 // px, then m in the bay frame; rendered people only
	Line        float64              `json:"in_out_deg"`
	Lift        float64              `json:"elevation_deg"`
}

// wanted is the truth of one rep by the definitions of the moments.
type wanted struct {
	start, turn, level, catch, top, impact float64
	line, lift, depth                      float64
	manner                                 string
	short                                  bool
}

func readTruth(t *testing.T, path string) truthFile {
	t.Helper()
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	var f truthFile
	require.NoError(t, json.Unmarshal(b, &f))
	return f
}

func number(e map[string]any, key string) float64 {
	if v, ok := e[key].(float64); ok {
		return v
	}
	return math.NaN()
}

// speed is the head's at row i, m/s.
func (f truthFile) speed(i int) float64 {
	if i <= 0 || i+1 >= len(f.Truth) {
		return 0
	}
	a, b := f.Truth[i-1], f.Truth[i+1]
	var s float64
	for k := range 3 {
		s += (b.Head[k] - a.Head[k]) * (b.Head[k] - a.Head[k])
	}
	return math.Sqrt(s) / (b.T - a.T)
}

// want derives the truth of rep n from the positions.
func (f truthFile) want(n int) wanted {
	e := f.Events[n]
	w := wanted{catch: number(e, "catch"), top: number(e, "top"), impact: number(e, "impact")}
	w.manner, _ = e["manner"].(string)
	still, end := number(e, "still_from"), number(e, "rep_end")
	stop := w.catch
	if math.IsNaN(stop) {
		stop = w.impact + 0.3
	}
	row := func(t float64) int { return min(len(f.Truth)-1, max(0, int(math.Round(t*f.Spec.FPS)))) }
	peak := 0.0
	for i := row(still); i <= row(min(stop, end)); i++ {
		peak = max(peak, f.speed(i))
	}
	i := row(still) + 1
	for ; f.speed(i) < 0.05*peak; i++ {
	}
	a, b := f.speed(i-1), f.speed(i)
	w.start = f.Truth[i-1].T + (0.05*peak-a)/(b-a)/f.Spec.FPS
	w.turn = w.start
	if !math.IsNaN(number(e, "forward_start")) {
		from, to := row(number(e, "back_start")-0.12), row(number(e, "back_start")+0.15)
		best := from
		for j := from; j <= to; j++ {
			if f.speed(j) < f.speed(best) {
				best = j
			}
		}
		w.turn = f.Truth[best].T
	}
	w.level, w.line, w.lift = math.NaN(), math.NaN(), math.NaN()
	lead := f.Truth[row(still)+2].Hands[1]
	for j := row(w.turn) + 1; j <= row(stop)+1 && j < len(f.Truth); j++ {
		p, q := f.Truth[j-1], f.Truth[j]
		if p.Lift < 0 && q.Lift >= -1e-9 && q.Lift > p.Lift {
			g := -p.Lift / (q.Lift - p.Lift)
			w.level, w.line, w.lift = p.T+g*(q.T-p.T), p.Line+g*(q.Line-p.Line), 0
			w.depth = 100 * (p.Hands[1] + g*(q.Hands[1]-p.Hands[1]) - lead)
			return w
		}
	}
	if !math.IsNaN(w.catch) {
		h := f.Truth[row(w.catch+0.1)]
		w.level, w.line, w.lift = w.catch, h.Line, h.Lift
		w.depth = 100 * (h.Hands[1] - lead)
		w.short = h.Lift < -drills.ShortOf
	}
	return w
}

func (f truthFile) bay() Bay {
	hand := drills.Right
	if f.Spec.Player.Hand == "left" || f.Spec.Player.Handed == "left" {
		hand = drills.Left
	}
	return Bay{
		Width: f.Spec.Width, Height: f.Spec.Height, Field: f.Spec.Camera.Field, Distance: f.Spec.Camera.Distance,
		Target: &lens.Point{U: f.Target[0], V: f.Target[1]}, Roll: f.Spec.Camera.Roll,
		Club: f.Spec.Club.Length, Grip: f.Spec.Club.Grip, Hand: hand,
	}
}

func referenceClips(t *testing.T) []string {
	t.Helper()
	dir := os.Getenv("DRILLBAY_CLIPS")
	if dir == "" {
		t.Skip("DRILLBAY_CLIPS is not set: the reference clips are not measured")
	}
	files, err := filepath.Glob(filepath.Join(dir, "*.truth.json"))
	require.NoError(t, err)
	require.NotEmpty(t, files, "no reference clips in DRILLBAY_CLIPS")
	if raced {
		files = files[:1]
	}
	return files
}

// TestReferenceClips holds the whole way to what it reaches on clips of another
// renderer, which nothing was learnt from. What is wanted stands in DEVELOPERS.md.
func TestReferenceClips(t *testing.T) {
	var c tally
	for _, file := range referenceClips(t) {
		base := file[:len(file)-len(".truth.json")]
		f := readTruth(t, file)
		k, err := f.bay().Known()
		require.NoError(t, err)
		src, err := clip.Open(base+".avi", 0, nil)
		require.NoError(t, err)
		reps, _, bad, err := Reps(src, k, Any, nil)
		src.Close()
		require.NoError(t, err)
		assert.Zero(t, bad)
		var out []outcome
		taken := 0
		for n := range f.Events {
			o := outcome{want: f.want(n), reps: 1, frame: 1 / f.Spec.FPS}
			if !math.IsNaN(o.want.impact) {
				o.setup.Drill = virtual.Ordinary
			}
			for _, r := range reps {
				if math.Abs(first(r.Rep.Moments.Impact, r.Rep.Moments.Catch)-first(o.want.impact, o.want.catch)) < 0.5 {
					o.got, o.found = r.Rep, true
				}
			}
			if o.found {
				taken++
				t.Log(filepath.Base(base), n+1, line(o.want, o.got))
			} else {
				t.Log(filepath.Base(base), n+1, "not found")
			}
			out = append(out, o)
		}
		one := count(out)
		one.extra = len(reps) - taken
		c = c.add(one)
	}
	t.Log(c)
	if raced {
		return
	}
	assert.GreaterOrEqual(t, c.found, c.reps*90/100, "reps found")
	assert.Zero(t, c.extra, "reps that were none")
	assert.GreaterOrEqual(t, c.read, c.readable*80/100, "reps with a reading")
	assert.LessOrEqual(t, share(c.errors, 0.5), 1.6, "median error of the shaft line, degrees")
	assert.LessOrEqual(t, c.wrongSide, 1, "verdicts on the wrong side")
	assert.LessOrEqual(t, c.wrongManner, 1, "manner the wrong way")
	assert.LessOrEqual(t, share(c.sharp, 0.5), 1.0, "median error of catch and impact, frames")
}

// first is the first of two values that is a number.
func first(a, b float64) float64 {
	if math.IsNaN(a) {
		return b
	}
	return a
}

func (c tally) add(o tally) tally {
	c.reps, c.found, c.extra, c.readable, c.read = c.reps+o.reps, c.found+o.found, c.extra+o.extra, c.readable+o.readable, c.read+o.read
	c.errors, c.sharp, c.soft = append(c.errors, o.errors...), append(c.sharp, o.sharp...), append(c.soft, o.soft...)
	c.within1, c.within2 = c.within1+o.within1, c.within2+o.within2
	c.wrongSide, c.wrongManner, c.unsureManner = c.wrongSide+o.wrongSide, c.wrongManner+o.wrongManner, c.unsureManner+o.unsureManner
	return c
}

// line is truth and reading side by side.
func line(w wanted, r drills.Rep) string {
	return fmt.Sprintf("line %6.1f read %6.1f ± %.1f (%s%s) depth %.0f/%.0f | %s/%s %.1f | start %+.0f turn %+.0f catch %+.0f level %+.0f top %+.0f impact %+.0f ms | tempo %.2f (%.2f–%.2f) %s",
		w.line, r.ShaftLine.Value, r.ShaftLine.Sigma, map[bool]string{true: "just "}[r.Just], r.Verdict, w.depth, r.Depth.Value, w.manner, r.Manner, r.Smoothness,
		1000*(r.Moments.Start-w.start), 1000*(r.Moments.BackStart-w.turn), 1000*(r.Moments.Catch-w.catch), 1000*(r.Moments.Level-w.level),
		1000*(r.Moments.Top-w.top), 1000*(r.Moments.Impact-w.impact), r.Tempo, r.TempoLow, r.TempoHigh, r.Why)
}
