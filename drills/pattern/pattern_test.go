package pattern

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/drills"
)

// look describes a rep by the readings that these tests use.
type look struct {
	line, depth, height, rise float64
	late                      bool
	face                      drills.Face
	manner                    drills.Manner
	ordinary                  bool
	back, ratio               float64
}

// reps are n of a look, with noise that is the same in every run.
func reps(n int, l look) (out []Rep) {
	dice := rand.New(rand.NewPCG(3, 4))
	for i := range n {
		r := Rep{Rep: drills.Rep{Number: i + 1, Moments: drills.NoMoments(), Manner: l.manner, Elevation: drills.None(),
			ShaftLine: drills.Reading{Value: l.line + 3*dice.NormFloat64(), Sigma: 1.5}, Depth: drills.Reading{Value: l.depth + 2*dice.NormFloat64(), Sigma: 2},
			Height: drills.Reading{Value: l.height + 2*dice.NormFloat64(), Sigma: 2}, TopHeight: drills.None(), Tempo: math.NaN()},
			Drill: "both-hands-catch", Session: "s", Kind: drills.Practice, Face: l.face, At: time.Date(2026, 3, 2, 18, 0, 20*i, 0, time.UTC)}
		r.Verdict, r.Just = drills.Judge(r.ShaftLine, drills.Band)
		if l.ordinary {
			r.Form = drills.FormOrdinary
			r.TopHeight = drills.Reading{Value: r.Height.Value + l.rise, Sigma: 3}
			r.Moments.BackStart, r.Moments.Level, r.Moments.Top = 0, l.back*0.45, l.back
			if l.late {
				r.Moments.Level = l.back * 0.68
			}
			r.Tempo = l.ratio
		}
		out = append(out, r)
	}
	return out
}

func causes(p Pattern) []drills.Cause {
	var out []drills.Cause
	for _, f := range p.Causes {
		out = append(out, f.Cause)
	}
	return out
}

// The rows of the table of causes (common practice), a look for each.
func TestTheTableOfCauses(t *testing.T) {
	const open, neutral, shut = drills.Open, drills.Neutral, drills.Shut
	sw := drills.Swung
	for name, c := range map[string]struct {
		reps []Rep
		want []drills.Cause
	}{
		"drawn inward":        {reps(12, look{line: 13, depth: 13, height: 14, rise: 50, face: open, ordinary: true, back: 0.8, ratio: 3}), []drills.Cause{drills.DrawnInward}},
		"opened early":        {reps(12, look{line: 13, depth: 4, height: 14, face: open, manner: sw}), []drills.Cause{drills.OpenedEarly}},
		"pushed away":         {reps(12, look{line: -13, depth: -8, height: 14, face: neutral, manner: sw}), []drills.Cause{drills.PushedAway}},
		"held shut":           {reps(12, look{line: -13, depth: 4, height: 14, face: shut, manner: sw}), []drills.Cause{drills.HeldShut}},
		"turn alone":          {reps(12, look{line: 13, depth: 13, height: 14, rise: 15, late: true, face: neutral, ordinary: true, back: 0.8, ratio: 3}), []drills.Cause{drills.TurnAlone}},
		"low, but level soon": {reps(12, look{line: 13, depth: 13, height: 1, rise: 15, face: neutral, ordinary: true, back: 0.8, ratio: 3}), []drills.Cause{drills.DrawnInward}},
		"raised after":        {reps(12, look{line: 5, depth: 13, height: 14, rise: 55, late: true, face: neutral, ordinary: true, back: 0.8, ratio: 3}), []drills.Cause{drills.RaisedAfter}},
		"placed":              {reps(12, look{line: 0, depth: 3, height: 14, face: neutral, manner: drills.Placed}), []drills.Cause{drills.StoppedPlaced}},
		"drawn in and placed": {append(reps(12, look{line: 13, depth: 13, height: 14, face: open, manner: drills.Placed}),
			reps(8, look{line: 13, depth: 13, height: 14, rise: 50, face: open, ordinary: true, back: 0.8, ratio: 3})...), []drills.Cause{drills.DrawnInward, drills.StoppedPlaced}},
		"nothing": {reps(12, look{line: 1, depth: 3, height: 14, face: neutral, manner: sw}), nil},
		"too few": {reps(7, look{line: 20, depth: 15, height: 14, face: open, manner: drills.Placed}), nil},
		"none":    {nil, nil},
	} {
		t.Run(name, func(t *testing.T) {
			p := Of(c.reps, Beside{})
			assert.Equal(t, c.want, causes(p))
			for _, f := range p.Causes {
				assert.NotEmpty(t, f.Evidence)
				assert.NotEmpty(t, f.Else)
				assert.NotEmpty(t, f.Feel)
			}
		})
	}
}

func TestHurriedIsAgainstTheOwnBackswing(t *testing.T) {
	usual := reps(12, look{ordinary: true, back: 0.8, ratio: 3, height: 14, rise: 50})
	quick := reps(10, look{ordinary: true, back: 0.5, ratio: 1.6, height: 14, rise: 50})
	assert.Empty(t, causes(Of(quick, Beside{})), "quick as always is not hurried")
	assert.Equal(t, []drills.Cause{drills.Hurried}, causes(Of(append(usual, quick...), Beside{})))
	assert.Equal(t, []drills.Cause{drills.Hurried}, causes(Of(quick, Beside{Earlier: usual})))
}

// What the camera does not measure is asked, and the answer settles it.
func TestWhatIsOpenIsAsked(t *testing.T) {
	unmarked := reps(12, look{line: 13, depth: 4, height: 14, manner: drills.Swung})
	p := Of(unmarked, Beside{})
	assert.Empty(t, p.Causes)
	require.Len(t, p.Possible, 1)
	assert.Equal(t, drills.OpenedEarly, p.Possible[0].Cause)
	require.Len(t, p.Ask, 1)
	assert.Contains(t, p.Ask[0], "open, neutral or shut")
	assert.Equal(t, []drills.Cause{drills.OpenedEarly}, causes(Of(unmarked, Beside{Face: drills.Open})))
	assert.Empty(t, Of(unmarked, Beside{Face: drills.Neutral}).Possible)

	flat := reps(12, look{line: 13, depth: 13, manner: drills.Swung})
	for i := range flat {
		flat[i].Height = drills.Reading{}
	}
	p = Of(flat, Beside{})
	assert.Empty(t, p.Causes)
	assert.Len(t, p.Ask, 2)
	assert.Equal(t, []drills.Cause{drills.DrawnInward}, causes(Of(flat, Beside{Rise: RisesSoon})))
	assert.Equal(t, []drills.Cause{drills.TurnAlone}, causes(Of(flat, Beside{Rise: NeverHigh, Face: drills.Neutral})))
	assert.Equal(t, []drills.Cause{drills.RaisedAfter}, causes(Of(flat, Beside{Rise: RisesLate})))
}

func TestTheCoachStandsBesideTheReading(t *testing.T) {
	list := reps(12, look{line: 13, depth: 4, height: 14, face: drills.Open, manner: drills.Swung})
	for i := range 4 {
		list[i].Coach = drills.InLine
	}
	list[0].Coach = drills.Inside
	p := Of(list, Beside{})
	require.Equal(t, []drills.Cause{drills.OpenedEarly}, causes(p), "the reading is not overruled")
	assert.Contains(t, p.Causes[0].Evidence[len(p.Causes[0].Evidence)-1], "agrees with the reading in 1 of 4")
}

func TestTheShoulderMarkIsTold(t *testing.T) {
	list := reps(12, look{line: -13, depth: -8, height: 14, face: drills.Neutral, manner: drills.Swung})
	for i := range list[:8] {
		list[i].Shoulder = drills.Reading{Value: -9, Sigma: 2}
	}
	p := Of(list, Beside{})
	require.Equal(t, []drills.Cause{drills.PushedAway}, causes(p))
	assert.Contains(t, p.Causes[0].Evidence, "Hands 9 cm outside of the place under the lead shoulder, on average (8 readings; within 5 cm is good).")
}

func TestTheSummaryTellsDirectionAndSpread(t *testing.T) {
	text := Of(reps(12, look{line: 13, depth: 4, height: 14, rise: 50, ordinary: true, back: 0.8, ratio: 3, manner: drills.Swung}), Beside{}).Evidence.Summary()
	require.Len(t, text, 6)
	assert.Regexp(t, `^Direction: 1[234]° inside on average over 12 readings, the middle one 1[234]° inside, a bias \(t-test, p < 0\.001\); 1[012] of 12 not in line\.$`, text[0])
	assert.Regexp(t, `^Spread: [234]\.\d° \(standard deviation; 95 % between`, text[1])
	assert.Regexp(t, `^Hands 1[345] cm higher at level than at address \(12 readings, 95 % between 1\d cm and 1\d cm\)\.$`, text[3])
	assert.Regexp(t, `the hands are 6\d cm above address at the top \(12 swings\)`, text[4])
	assert.Contains(t, text[5], "Rhythm: 3.0 to 1 on average over 12 ordinary swings")
	text = Of(reps(12, look{line: 0.5, manner: drills.Swung}), Beside{}).Evidence.Summary()
	assert.Contains(t, text[0], "no bias is shown")
	assert.Empty(t, Of(reps(7, look{line: 20}), Beside{}).Evidence.Summary())
}

func TestEveryCauseHasItsWords(t *testing.T) {
	for _, c := range drills.Causes() {
		r := table(c)
		assert.NotEmpty(t, r.feel, c.String())
		assert.GreaterOrEqual(t, len(r.other), 2, c.String())
		assert.NotEmpty(t, r.uses, c.String())
	}
}

// A steady player must seldom be told that form drifts, one who tires must be.
func TestDriftIsFoundAndNotImagined(t *testing.T) {
	dice := rand.New(rand.NewPCG(5, 6))
	session := func(shift float64) []Rep {
		list := reps(40, look{manner: drills.Swung})
		for i := range list {
			list[i].ShaftLine.Value = 2 + 3*dice.NormFloat64()
			if i >= 24 {
				list[i].ShaftLine.Value += shift
			}
		}
		return list
	}
	imagined, seen := 0, 0
	const lives = 1000
	for range lives {
		if driftOf(session(0)).Found {
			imagined++
		}
		if d := driftOf(session(8)); d.Found && d.After >= 24 {
			seen++
		}
	}
	t.Logf("of %d steady sessions %d were called drifting, of as many with a shift of 8° after 24 reps %d were seen", lives, imagined, seen)
	assert.Less(t, imagined, lives*3/100)
	assert.Greater(t, seen, lives*9/10)
}

func TestProgressKeepsPracticeAndRetentionApart(t *testing.T) {
	var all []Rep
	good := []int{2, 4, 5, 7, 8, 10}
	for week, n := range good {
		for _, kind := range []drills.SetKind{drills.Retention, drills.Practice} {
			list := reps(10, look{line: 20, manner: drills.Swung})
			for i := range list {
				list[i].Kind, list[i].Session, list[i].At = kind, string(rune('a'+week)), list[i].At.AddDate(0, 0, 7*week)
				list[i].Verdict = drills.Inside
				if i < n || (kind == drills.Practice && i < 6) {
					list[i].Verdict = drills.InLine
				}
				if kind == drills.Practice && i >= 6 {
					list[i].Verdict = drills.Inside
				}
			}
			all = append(all, list...)
		}
	}
	p := ProgressOf(all)
	require.Len(t, p.Sessions, 12)
	assert.Equal(t, drills.Share{Good: 2, Of: 10}, p.Sessions[0].Share)
	assert.True(t, p.Retention.Shown())
	assert.Contains(t, p.Retention.String(), "up by about 15")
	assert.Contains(t, p.Practice.String(), "no trend over")
	assert.True(t, p.Later.Better)
	assert.Contains(t, p.Later.String(), "are better: 2 of 10 at first, 18 of 20 now")
	few := ProgressOf(all[:40])
	assert.Contains(t, few.Retention.String(), "That takes 5 tests, so far 2")
	assert.Contains(t, ProgressOf(nil).Later.String(), "not tested")
}

// Each rep of a mixed set is evidence as what it is: rhythm only of ordinary
// swings, all of it practice.
func TestAMixedSetIsEvidenceByTheDrillOfEachRep(t *testing.T) {
	mixed := append(reps(8, look{ordinary: true, ratio: 3, back: 0.8, manner: drills.Swung}), reps(8, look{manner: drills.Swung})...)
	for i := range mixed {
		mixed[i].Kind = drills.Mixed
	}
	e := gather(mixed, Beside{Band: drills.Band})
	assert.Equal(t, 8, e.Ratio.N)
	assert.Equal(t, 8, e.Free)
	s := Sessions(mixed)
	require.Len(t, s, 1)
	assert.False(t, s[0].Retention)
	assert.Equal(t, 16, s[0].Share.Of)
}

// Where no cause is named it is said why, and the feel is that of a cause that is open: of
// the player's own side.
func TestWhyNoCauseIsNamed(t *testing.T) {
	out := Of(reps(12, look{line: -16, depth: 0, height: 14, manner: drills.Swung}), Beside{})
	require.Empty(t, out.Causes)
	assert.Equal(t, "No cause is named yet. It may be: face held shut, head outside.", out.Unnamed)
	assert.Equal(t, table(drills.HeldShut).feel, out.Feel)
	two := Of(reps(12, look{line: -16, depth: -4, height: 14, manner: drills.Swung}), Beside{})
	assert.Equal(t, "No cause is named yet. It may be: hands pushed away; or face held shut, head outside.", two.Unnamed)
	in := Of(reps(12, look{line: 16, depth: 4, height: 14, manner: drills.Swung}), Beside{})
	assert.Equal(t, table(drills.OpenedEarly).feel, in.Feel, "the other side has another")
	assert.Equal(t, "No cause is named yet: that takes a session with 8 readings.", Of(reps(7, look{line: -16}), Beside{}).Unnamed)
	level := Of(reps(12, look{line: 1, depth: 3, height: 14, manner: drills.Swung}), Beside{})
	assert.Equal(t, "No cause is named: the readings lean plainly to neither side.", level.Unnamed)
	assert.Empty(t, level.Feel)
	neutral := Of(reps(12, look{line: -16, depth: 0, height: 14, face: drills.Neutral, manner: drills.Swung}), Beside{})
	assert.Equal(t, "No cause is named: the readings show the signs of none.", neutral.Unnamed)
	assert.Empty(t, Of(reps(12, look{manner: drills.Placed}), Beside{}).Unnamed, "one is named")
}
