package pattern

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/drills"
)

// lines are reps with these shaft lines, degrees.
func lines(values ...float64) (out []Rep) {
	for i, v := range values {
		r := Rep{Rep: drills.Rep{Number: i + 1, Moments: drills.NoMoments(), Manner: drills.Swung, ShaftLine: drills.Reading{Value: v, Sigma: 1}}, Drill: "a", Session: "s"}
		r.Verdict, _ = drills.Judge(r.ShaftLine, drills.Band)
		out = append(out, r)
	}
	return out
}

// swings are ordinary swings by takeaway, level, top, s, ratio and height at the
// top, cm.
func swings(n int, start, level, top, ratio, height float64) (out []Rep) {
	for i := range n {
		r := Rep{Rep: drills.Rep{Number: i + 1, Moments: drills.NoMoments(), ShaftLine: drills.None(), Tempo: ratio, TopHeight: drills.Reading{Value: height, Sigma: 2}}, Form: drills.FormOrdinary, Session: "s"}
		r.Moments.BackStart, r.Moments.Level, r.Moments.Top = start, level, top
		out = append(out, r)
	}
	return out
}

func times[T any](n int, v ...T) (out []T) {
	for range n {
		out = append(out, v...)
	}
	return out
}

func TestAReadingAtTheBandsEdgeIsNotBeyondIt(t *testing.T) {
	e := gather(lines(8, -8, 8.5, -8.5, 0), Beside{Band: 8})
	assert.Equal(t, drills.Share{Good: 2, Of: 5}, e.Beyond)
	assert.Equal(t, 5, e.Readings)
	assert.InDelta(t, 0, e.Line.Value, 1e-12)
	e = Of(lines(8, -8, 8.5, -8.5, 0), Beside{}).Evidence
	assert.Equal(t, drills.Share{Good: 2, Of: 5}, e.Beyond, "8° where nothing else is said")
	e = Of(lines(8, -8, 8.5, -8.5, 0), Beside{Band: 1}).Evidence
	assert.Equal(t, drills.Share{Good: 4, Of: 5}, e.Beyond)
}

// A swing's rhythm is taken from its takeaway on, whatever the clock shows; moments
// out of order are none.
func TestRhythmOnAnyClock(t *testing.T) {
	e := gather(swings(8, 100, 100.4, 100.8, 3, 60), Beside{})
	assert.InDelta(t, 0.8, e.Backswing.Value, 1e-9)
	assert.InDelta(t, 0.5, e.LevelAt.Value, 1e-9)
	assert.InDelta(t, 0.8, e.Own, 1e-9)
	assert.Equal(t, 8, e.Top.N)
	assert.Equal(t, "In ordinary swings the shaft is level after 50 % of the backswing, and the hands are 60 cm above address at the top (8 swings).", e.sentence(useTop))
	s := Sessions(swings(8, 100, 100.4, 100.8, 3, 60))[0]
	assert.InDelta(t, 0.8, s.Backswing, 1e-9)
	assert.Equal(t, 8, s.Ratio.N)
	for name, list := range map[string][]Rep{
		"no time": swings(8, 1, 1, 1, 3, 60), "back before it began": swings(8, 2, 1.5, 1, 3, 60), "no ratio": swings(8, 1, 1.4, 1.8, 0, 60),
	} {
		e := gather(list, Beside{})
		assert.Zero(t, e.Backswing.N, name)
		assert.Zero(t, e.Hasty.Of, name)
		assert.Zero(t, e.Top.N, name)
		assert.Zero(t, e.LevelAt.N, name)
	}
	assert.Equal(t, 8, gather(swings(8, 1, 1.3, 1.6, 0.5, 60), Beside{}).Ratio.N)
	assert.Equal(t, 8, Sessions(swings(8, 1, 1.3, 1.6, 0.5, 60))[0].Ratio.N)
	assert.Zero(t, Sessions(swings(8, 1, 1.3, 1.6, 0, 60))[0].Ratio.N)
	for _, level := range []float64{1, 1.8, 0.9, 2} {
		assert.Zero(t, gather(swings(8, 1, level, 1.8, 3, 60), Beside{}).LevelAt.N, "level at %v s is not within the backswing", level)
		_, top := tops(swings(8, 1, level, 1.8, 3, 60))
		assert.Len(t, top, 8)
		at, _ := tops(swings(8, 1, level, 1.8, 3, 60))
		assert.Empty(t, at)
	}
	at, top := tops(swings(30, 1, 1.2, 1.8, 3, 60))
	assert.Len(t, at, 20, "the last twenty")
	assert.Len(t, top, 20)
	at, top = tops(append(swings(10, 1, 1.2, 1.8, 3, 60), swings(15, 1, 1.4, 1.8, 3, 50)...))
	assert.Equal(t, 50.0, top[14])
	assert.Equal(t, 60.0, top[15])
	assert.InDelta(t, 0.5, at[0], 1e-9)
	e = gather(swings(7, 1, 1.4, 1.8, 3, 50), Beside{Earlier: swings(9, 1, 1.4, 1.8, 3, 70)})
	assert.Equal(t, 16, e.Top.N, "seven are too few: earlier ones serve")
	e = gather(swings(8, 1, 1.4, 1.8, 3, 50), Beside{Earlier: swings(9, 1, 1.4, 1.8, 3, 70)})
	assert.Equal(t, 8, e.Top.N)
}

// Hurried: shorter than four fifths of the own median with a ratio under 2
// (common practice), of the session's swings, or of the last twenty.
func TestWhatIsHurried(t *testing.T) {
	usual := swings(20, 1, 1.4, 1.8, 3, 60)
	for _, c := range []struct {
		back, ratio float64
		want        bool
	}{{0.63, 1.9, true}, {0.63, 2, false}, {0.63, 2.1, false}, {0.65, 1.9, false}} {
		own, share := hasteOf(usual, swings(10, 5, 5.2, 5+c.back, c.ratio, 60))
		assert.InDelta(t, 0.8, own, 1e-9)
		assert.Equal(t, c.want, share.Good > 0, "%+v", c)
		assert.Equal(t, 10, share.Of, "of the session's")
	}
	quick := func(n int) []Rep { return swings(n, 5, 5.2, 5.4, 1.5, 60) }
	// A session of few swings is judged with those before it.
	_, share := hasteOf(usual, quick(7))
	assert.Equal(t, drills.Share{Good: 7, Of: 20}, share)
	_, share = hasteOf(usual, quick(8))
	assert.Equal(t, drills.Share{Good: 8, Of: 8}, share)
	// A session that is not often hurried by itself is with what came just before.
	_, share = hasteOf(append(usual, quick(9)...), append(quick(2), swings(8, 5, 5.4, 5.8, 3, 60)...))
	assert.Equal(t, drills.Share{Good: 11, Of: 20}, share)
	// One that is does not need it.
	_, share = hasteOf(append(usual, quick(3)...), quick(9))
	assert.Equal(t, drills.Share{Good: 9, Of: 9}, share)
	_, share = hasteOf(append(quick(3), usual...), append(quick(1), swings(8, 5, 5.4, 5.8, 3, 60)...))
	assert.Equal(t, drills.Share{Good: 1, Of: 9}, share)
	_, share = hasteOf(nil, append(usual, quick(3)...))
	assert.Equal(t, drills.Share{Good: 3, Of: 23}, share, "the whole session")
	e := Evidence{Hasty: drills.Share{Good: 5, Of: 8}, Own: 0.8}
	assert.Equal(t, "5 of 8 ordinary swings with a ratio under 2 to 1 and a backswing under 0.64 s, the usual one being 0.80 s.", e.sentence(useRhythm))
	e.Hasty.Of = 7
	assert.Empty(t, e.sentence(useRhythm))
}

// A sentence wants eight readings.
func TestEightReadingsMakeASentence(t *testing.T) {
	m := func(n int, v float64) drills.Mean {
		return drills.Mean{N: n, Value: v, Low: v - 1, High: v + 1, Spread: 2}
	}
	at := func(n int) Evidence {
		return Evidence{Line: m(n, -5), Beyond: drills.Share{Good: 2, Of: n}, Depth: m(n, -3), Placed: drills.Share{Good: n, Of: n}, Height: m(n, 12), Top: m(n, 60), LevelAt: m(n, 0.45),
			Hasty: drills.Share{Good: 1, Of: n}, Shoulder: m(n, 4), Ratio: m(n, 3), Backswing: m(n, 0.8)}
	}
	for u := useLine; u <= useShoulder; u++ {
		if u != useFace {
			assert.NotEmpty(t, at(8).sentence(u), u)
			assert.Empty(t, at(7).sentence(u), u)
		}
	}
	assert.Equal(t, "Shaft line 5° outside on average (8 readings, 95 % between 6° outside and 4° outside); 2 of 8 not in line.", at(8).sentence(useLine))
	assert.Equal(t, "Hands 3 cm outside of where they began, on average at level (8 readings, 95 % between 4 cm outside and 2 cm outside).", at(8).sentence(useDepth))
	assert.Equal(t, "8 of 8 placed, not swung (95 % between 68 and 100 %).", at(8).sentence(useManner))
	none := at(8)
	none.Placed.Good = 0
	assert.Equal(t, "None of 8 placed: all were swung.", none.sentence(useManner))
	assert.Equal(t, "Hands 12 cm higher at level than at address (8 readings, 95 % between 11 cm and 13 cm).", at(8).sentence(useHeight))
	half := at(8)
	half.LevelAt.N = 7
	assert.Empty(t, half.sentence(useTop))
	assert.Empty(t, Evidence{}.sentence(useFace))
	assert.Equal(t, "Face marked open 1, neutral 0, shut 2 times.", Evidence{Faces: map[drills.Face]int{drills.Open: 1, drills.Shut: 2}}.sentence(useFace))
	assert.Equal(t, "Face marked open 1, neutral 0, shut 0 times.", Evidence{Faces: map[drills.Face]int{drills.Open: 1}}.sentence(useFace))
	assert.Empty(t, Evidence{}.sentences([]use{useLine}))
	assert.Len(t, Evidence{Agreed: drills.Share{Of: 1}}.sentences(nil), 1)
	lower := Evidence{Height: drills.Mean{N: 8, Value: -3, Low: -4, High: -2}}
	assert.Equal(t, "Hands 3 cm lower at level than at address (8 readings, 95 % between 2 cm and 4 cm).", lower.sentence(useHeight))
	assert.Len(t, at(8).Summary(), 8)
	assert.Empty(t, at(7).Summary())
	for v, want := range map[float64]string{0: "0°", 0.4: "0°", -0.4: "0°", 1: "1° inside", -1: "1° outside", 12.6: "13° inside"} {
		assert.Equal(t, want, Side(v))
	}
	for v, want := range map[float64]string{0: "0 cm inside", -0.4: "0 cm inside", 1: "1 cm inside", -1: "1 cm outside"} {
		assert.Equal(t, want, inward(v))
	}
	e := gather(append(lines(1, 2), Rep{Rep: drills.Rep{ShaftLine: drills.None()}, Face: drills.Open}, Rep{Rep: drills.Rep{ShaftLine: drills.None()}, Face: drills.Open}), Beside{Band: 8})
	assert.Equal(t, 2, e.Faces[drills.Open])
}

// A bias is one from p = 0.05 down: of −1, 1 and so on with a mean of 0 there is
// none.
func TestWhenABiasIsShown(t *testing.T) {
	with := func(p float64) string {
		// Two-sided p of a t-test with 7 degrees of freedom: 2.3646 for 0.05 (NIST/
		// SEMATECH e-Handbook, 1.3.6.7.2).
		return Evidence{Line: drills.Mean{N: 8, Value: p, Low: 0, High: 1, Spread: math.Sqrt(8)}}.Summary()[0]
	}
	assert.Contains(t, with(2.34), "no bias is shown (t-test, p = 0.05)")
	assert.Contains(t, with(2.38), "a bias (t-test, p = 0.049)")
	assert.Contains(t, with(6), "a bias (t-test, p < 0.001)")
	assert.Contains(t, with(5.0), "a bias (t-test, p = 0.002)")
}

func TestSignsAreYesNoOrNotKnown(t *testing.T) {
	m := func(n int, low, high float64) drills.Mean {
		return drills.Mean{N: n, Value: (low + high) / 2, Low: low, High: high}
	}
	for _, c := range []struct {
		m    drills.Mean
		want answer
	}{{m(8, 5, 7), yes}, {m(7, 5, 7), unknown}, {m(8, 4, 7), unknown}, {m(8, 1, 3), no}, {m(8, 1, 4), unknown}, {m(8, 3, 5), unknown}} {
		assert.Equal(t, c.want, above(c.m, 4), "%+v", c.m)
	}
	// A quarter of the reps, for certain: of 8 of 20 the bounds are 0.219 and 0.613,
	// of 10 of 20 0.299 and 0.701, of 0 of 12 0 and 0.243, of 0 of 11 0 and 0.259
	// (Wilson; Newcombe 1998).
	for s, want := range map[drills.Share]answer{{Good: 8, Of: 20}: unknown, {Good: 10, Of: 20}: yes, {Of: 12}: no, {Of: 11}: unknown, {Good: 7, Of: 7}: unknown, {Good: 8, Of: 8}: yes, {}: unknown} {
		assert.Equal(t, want, often(s), "%v", s)
	}
	// Half of the band: 4° where it is 8°.
	for _, c := range []struct {
		low, high       float64
		inside, outside answer
	}{{4.5, 6, yes, no}, {2, 3.5, no, no}, {3, 5, unknown, no}, {-6, -4.5, no, yes}, {-3.5, -2, no, no}, {-5, -3, no, unknown}} {
		s := signsOf(Evidence{Line: m(8, c.low, c.high)}, Beside{Band: 8})
		assert.Equal(t, [2]answer{c.inside, c.outside}, [2]answer{s.inside, s.outside}, "%+v", c)
	}
	for _, c := range []struct {
		low, high float64
		want      answer
	}{{61, 70, yes}, {46, 59, unknown}, {30, 44, no}, {50, 65, unknown}} {
		assert.Equal(t, c.want, signsOf(Evidence{Top: m(8, c.low, c.high)}, Beside{}).rises, "hands %v to %v cm high", c.low, c.high)
	}
	for _, c := range []struct {
		low, high float64
		want      answer
	}{{0.56, 0.7, yes}, {0.51, 0.54, unknown}, {0.4, 0.49, no}} {
		assert.Equal(t, c.want, signsOf(Evidence{LevelAt: m(8, c.low, c.high)}, Beside{}).late, "level after %v to %v", c.low, c.high)
	}
	// Reps without a stop cannot be placed.
	for _, c := range []struct {
		placed, free int
		want         answer
	}{{0, 8, no}, {0, 7, unknown}, {7, 8, no}, {8, 8, yes}} {
		assert.Equal(t, c.want, signsOf(Evidence{Placed: drills.Share{Good: c.placed, Of: c.placed}, Free: c.free}, Beside{}).placed, "%+v", c)
	}
	// Most marks: 4 of 4 and 7 of 8 leave no doubt, 3 of 3 do.
	for _, c := range []struct {
		open, neutral, shut int
		want                answer
	}{{4, 0, 0, yes}, {3, 0, 0, unknown}, {7, 0, 1, yes}, {6, 1, 1, unknown}, {0, 4, 0, no}, {0, 0, 4, no}, {0, 3, 0, unknown}, {2, 1, 1, unknown}} {
		e := Evidence{Faces: map[drills.Face]int{drills.Open: c.open, drills.Neutral: c.neutral, drills.Shut: c.shut}}
		assert.Equal(t, c.want, faceIs(e, Beside{}, drills.Open), "%+v", c)
	}
}

// A question is asked only while its answer is not known.
func TestOnlyWhatIsOpenIsAsked(t *testing.T) {
	face, height := "How does the face", "When do the hands"
	for name, c := range map[string]struct {
		cause drills.Cause
		s     signs
		want  []string
	}{
		"opened early":           {drills.OpenedEarly, signs{open: unknown, neutral: no, shut: no}, []string{face}},
		"its neutral is open":    {drills.PushedAway, signs{open: no, neutral: unknown, shut: no}, []string{face}},
		"its shut is open":       {drills.HeldShut, signs{open: no, neutral: no, shut: unknown}, []string{face}},
		"the face is known":      {drills.OpenedEarly, signs{open: no, neutral: no, shut: yes}, nil},
		"turn alone":             {drills.TurnAlone, signs{neutral: unknown, late: unknown, rises: yes}, []string{face, height}},
		"its face is known":      {drills.TurnAlone, signs{neutral: yes, late: yes, rises: unknown}, []string{height}},
		"its height is known":    {drills.TurnAlone, signs{neutral: unknown, late: yes, rises: no}, []string{face}},
		"raised after":           {drills.RaisedAfter, signs{neutral: unknown, late: unknown, rises: yes}, []string{height}},
		"when they rise is open": {drills.DrawnInward, signs{late: yes, rises: unknown}, []string{height}},
		"all is known":           {drills.RaisedAfter, signs{late: yes, rises: yes}, nil},
		"hurried":                {drills.Hurried, signs{}, nil},
	} {
		got := questions([]Found{{Cause: c.cause}}, c.s)
		require.Len(t, got, len(c.want), name)
		for i := range got {
			assert.Contains(t, got[i], c.want[i], name)
		}
	}
}

// Each session by itself: its lines' tenths, its median backswing.
func TestASessionInNumbers(t *testing.T) {
	values := make([]float64, 11)
	for i := range values {
		values[i] = float64(i)
	}
	list := lines(values...)
	for i := range list {
		list[i].Tempo, list[i].Moments.BackStart, list[i].Moments.Top = 3, 10, 10.5+float64(i)/10
	}
	list[3].Manner = drills.Placed
	began := time.Date(2026, 3, 2, 18, 0, 0, 0, time.UTC)
	list[0].At, list[1].At = began, began.Add(time.Hour)
	s := Sessions(list)[0]
	assert.InDeltaSlice(t, []float64{1, 5, 9, 1.0}, []float64{s.Low, s.Middle, s.High, s.Backswing}, 1e-9)
	assert.Equal(t, began, s.Began)
	assert.Equal(t, "s", s.ID)
	assert.Equal(t, drills.Share{Good: 8, Of: 11}, s.Share)
	list[0].Kind = drills.Retention
	two := Sessions(list)
	require.Len(t, two, 2)
	assert.True(t, two[0].Retention)
	assert.False(t, two[1].Retention)
	list = lines(1, 2)
	list[0].Session = "first"
	assert.Equal(t, "first", Sessions(list)[0].ID)
	assert.True(t, math.IsNaN(Sessions(lines(1))[0].Backswing))
}

func TestWhichSessionIsTheLatest(t *testing.T) {
	in := func(session string, list []Rep) []Rep {
		for i := range list {
			list[i].Session = session
		}
		return list
	}
	front := func(session string, n int) []Rep {
		list := in(session, lines(times(n, 0.0)...))
		for i := range list {
			list[i].Why, list[i].ShaftLine = drills.SeenFaceOn, drills.None()
		}
		return list
	}
	all := append(append(in("a", lines(times(8, 1.0)...)), in("b", lines(times(9, 2.0)...))...), in("c", lines(times(7, 3.0)...))...)
	last, earlier := Latest(all)
	require.Len(t, last, 9)
	require.Len(t, earlier, 8)
	assert.Equal(t, "b", last[0].Session, "seven readings are too few")
	last, earlier = Latest(in("x", lines(times(7, 1.0)...)))
	assert.Nil(t, last)
	assert.Nil(t, earlier)
	last, earlier = Latest(in("x", lines(times(8, 1.0)...)))
	assert.Len(t, last, 8)
	assert.Empty(t, earlier)
	fronts := append(append(front("a", 8), front("b", 8)...), front("c", 7)...)
	got := LatestFaceOn(append(fronts, all...))
	require.Len(t, got, 8)
	assert.Equal(t, "b", got[0].Session)
	assert.Empty(t, LatestFaceOn(front("a", 7)))
	assert.Empty(t, LatestFaceOn(all))
}

// Newcombe 1998, Statistics in Medicine 17:873, Table II, method 10: 9 of 10 less 3
// of 10 is 0.60, from 0.17 to 0.81 (values from memory).
func TestLaterDaysAreComparedWithTheFirst(t *testing.T) {
	three, nine, five := drills.Share{Good: 3, Of: 10}, drills.Share{Good: 9, Of: 10}, drills.Share{Good: 5, Of: 10}
	l := laterOf([]drills.Share{three, nine})
	assert.True(t, l.Better)
	assert.False(t, l.Worse)
	assert.Equal(t, "Ordinary swings on a later day are better: 3 of 10 at first, 9 of 10 now; the change is +60 percentage points (95 % between +17 and +81).", l.String())
	l = laterOf([]drills.Share{nine, three})
	assert.True(t, l.Worse)
	assert.False(t, l.Better)
	assert.Contains(t, l.String(), "are worse: 9 of 10 at first, 3 of 10 now; the change is -60 percentage points (95 % between -81 and -17)")
	l = laterOf([]drills.Share{three, five})
	assert.False(t, l.Better || l.Worse)
	assert.Contains(t, l.String(), "no change is shown")
	assert.InDelta(t, 0.2366, l.LastLow, 1e-4)
	l = laterOf([]drills.Share{three, five, nine})
	assert.Equal(t, drills.Share{Good: 14, Of: 20}, l.Last, "the last two together")
	assert.Contains(t, laterOf([]drills.Share{three}).String(), "3 of 10 in line and swung. A second test")
	assert.Zero(t, laterOf([]drills.Share{three}).More)
}

func TestTrendsInWords(t *testing.T) {
	up := Trend{drills.TrendOf([]float64{0.1, 0.2, 0.3, 0.4, 0.5}), "the share", "session", 100, "reps in 100", ""}
	assert.Equal(t, "The share: up by about 10 reps in 100 a session, over 5 sessions (Theil–Sen; Mann–Kendall, p = 0.017).", up.String())
	down := Trend{drills.TrendOf([]float64{5, 4, 3, 2, 1}), "spread", "session", 1, "degrees", ""}
	assert.Contains(t, down.String(), "down by about 1 degree a session")
	for n, want := range map[int]string{0: "none", 1: "1", 4: "4"} {
		assert.Equal(t, "X: too early to tell. That takes 5 tests, so far "+want+".", Trend{drills.TrendOf([]float64{1, 2, 3, 4}[:n]), "x", "test", 1, "y", ""}.String())
	}
	assert.Equal(t, []string{"< 0.001", "= 0.001", "= 0.002"}, []string{probability(0.0009), probability(0.0010001), probability(0.0018)})
	var all []Rep
	for day := range 6 {
		for i, v := range []float64{-1, 1, -2, 2, -3, 3, -4, 4} {
			r := lines(v * (1 + float64(day)))[0]
			r.Session, r.Number = fmt.Sprint(day), i+1
			r.Verdict = drills.Inside
			if i < day+1 {
				r.Verdict = drills.InLine
			}
			all = append(all, r)
		}
	}
	p := ProgressOf(all)
	assert.Contains(t, p.Practice.String(), "In line and swung in practice: up by about 12 reps in 100 a session")
	assert.Contains(t, p.Spread.String(), "up by about 2.9 degrees a session")
	for i := range all {
		if all[i].Number == 8 {
			all[i].ShaftLine = drills.None()
		}
	}
	assert.Contains(t, ProgressOf(all).Spread.String(), "That takes 5 sessions with 8 readings or more, so far none", "seven readings have no spread")
}

func TestWhatIsSaidOfALapse(t *testing.T) {
	low, _ := lapseWords(drills.Loss{Part: drills.HeadUp, Side: -1})
	high, _ := lapseWords(drills.Loss{Part: drills.HeadUp, Side: 1})
	assert.Contains(t, low, "knees that bend more")
	assert.Contains(t, high, "knees that straighten")
	enough, few := Evidence{}, Evidence{}
	enough.Body[drills.HeadUp], few.Body[drills.HeadUp] = drills.Mean{N: 8, Value: 0.6, Low: 0, High: 1}, drills.Mean{N: 7}
	assert.True(t, enough.BodyRead())
	assert.False(t, few.BodyRead())
	assert.Equal(t, "On average head 1 cm up (8 readings, 95 % between 0 cm and 1 cm).", enough.partly(drills.HeadUp))
	assert.Empty(t, few.partly(drills.HeadUp))
	enough.Body[drills.HeadUp] = drills.Mean{N: 8, Value: -0.9, Low: -1.2, High: -0.6}
	assert.Equal(t, "On average head 1 cm down (8 readings, about 1 cm).", enough.partly(drills.HeadUp), "both ends are written alike")
	under := Evidence{}
	under.Body[drills.HandsUnder] = drills.Mean{N: 8, Value: 3, Low: 2, High: 4}
	assert.Empty(t, under.Summary(), "the shoulder tells it")
	assert.Len(t, enough.Summary(), 1)

	// It is told with the causes that it belongs to, the hands once.
	list := reps(12, look{line: 13, depth: 13, height: 14, face: drills.Open, manner: drills.Swung})
	for i := range list {
		list[i].Body[drills.TrailElbow], list[i].Body[drills.HandsUnder] = drills.Reading{Value: 6, Sigma: 1}, drills.Reading{Value: -6, Sigma: 1}
	}
	p := Of(list, Beside{Rise: RisesSoon})
	require.Equal(t, []drills.Cause{drills.DrawnInward}, causes(p))
	text := fmt.Sprint(p.Causes[0].Evidence)
	assert.Contains(t, text, "trail elbow 6 cm behind")
	assert.Contains(t, text, "Hands 6 cm inside of the place under the lead shoulder")
	assert.NotContains(t, text, "inside the lead shoulder")
}

// The shaft line leaves 0° for 6° at the 21st rep of a drill; a sum with a slack of
// three quarters of a deviation and a limit of five tells it two reps later. The
// other drill's reps between are counted, not judged.
func TestWhereADriftBegins(t *testing.T) {
	session := func(n int) (list []Rep) {
		for i := range n {
			v := []float64{-1, 1}[i%2]
			if i >= n-6 {
				v += 6
			}
			a, b := lines(v)[0], lines(0)[0]
			b.Drill = "b"
			list = append(list, a, b)
		}
		return list
	}
	d := driftOf(session(26))
	require.True(t, d.Found)
	assert.Equal(t, "a", d.Drill)
	assert.Equal(t, 42, d.After, "reps of the session before it was noticed")
	assert.InDelta(t, 0, d.From, 0.3)
	assert.InDelta(t, 6, d.To, 0.01, "of the two reps that showed it")
	assert.Equal(t, "After 42 reps the shaft line left 0° for 6° inside: rest before that, or end there.", d.String())
	assert.True(t, driftOf(session(16)).Found, "sixteen readings can show one")
	assert.False(t, driftOf(session(15)).Found)
	other := session(26)
	for i := range other[:10] {
		other[i].Session = "before"
	}
	assert.Equal(t, 32, driftOf(other).After)
	later := session(26)
	for i := range later {
		later[i].Kind = drills.Retention
	}
	assert.False(t, driftOf(later).Found, "a test is no practice")
	assert.Empty(t, Drift{}.String())
}

// The own backswing is the median, a rhythm under 1 to 1 is one, and a session that
// was seen from the front alone has no share.
func TestRhythmAndProgressInEveryDetail(t *testing.T) {
	own, _ := hasteOf(swings(6, 1, 1.4, 1.8, 3, 60), swings(3, 1, 1.6, 2.2, 3, 60))
	assert.InDelta(t, 0.8, own, 1e-9)
	_, share := hasteOf(nil, swings(8, 1, 1.2, 1.5, 0.5, 60))
	assert.Equal(t, 8, share.Of)
	_, top := tops(swings(8, 1, 1.2, 1.5, 0.5, 60))
	assert.Len(t, top, 8)
	one := lines(0)
	one[0].Session = "one"
	assert.Equal(t, 1, ProgressOf(one).Practice.N, "a session of one rep")
	one[0].Why = drills.SeenFaceOn
	assert.Zero(t, ProgressOf(one).Practice.N)
	var all []Rep
	for day := range 5 {
		for range 8 {
			r := lines(0)[0]
			r.Session = fmt.Sprint(day)
			r.Body[drills.HeadUp] = drills.Reading{Value: float64(day), Sigma: 1}
			all = append(all, r)
		}
	}
	require.Len(t, ProgressOf(all).Body, 1, "five sessions of eight readings")
	assert.Contains(t, ProgressOf(all).Body[0].String(), "Head height: up by about 1 cm a session")
}
