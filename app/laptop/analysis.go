package laptop

import (
	"fmt"
	"slices"
	"time"
)

// Timing holds how long a step takes: the median, and the time that 95 % stay under.
type Timing struct{ Median, High time.Duration } // High: 95 % are faster

// Time runs a step n times by a clock. The first tenth is not counted.
func Time(n int, now func() time.Duration, step func()) Timing {
	n = max(n, 10)
	took := make([]time.Duration, 0, n)
	for i := range n {
		t := now()
		step()
		if i >= n/10 {
			took = append(took, now()-t)
		}
	}
	slices.Sort(took)
	return Timing{took[len(took)/2], took[len(took)*95/100]}
}

// JudgeAnalysis grades the time that a look of the eye takes, for a number of
// looks a second: half the time between looks is good, all of it poor.
func JudgeAnalysis(t Timing, looks float64) Finding {
	period := time.Duration(float64(time.Second) / looks)
	f := Finding{Check: "analysis", Grade: Good,
		Figure: fmt.Sprintf("%.1f ms a look (95 %% under %.1f) of %.1f", ms(t.Median), ms(t.High), ms(period))}
	switch {
	case t.Median > period:
		f.Grade = Poor
		f.Remedy = "this laptop is too slow to watch a swing: plug in the power and close other programs"
	case t.High > period/2:
		f.Grade = Fair
		f.Remedy = "plug in the power and close other programs: there is little to spare"
	}
	return f
}

// VerdictLimit is the longest time from catch to verdict: after it the player no longer
// holds the catch.
const VerdictLimit = 1500 * time.Millisecond

// JudgeVerdict grades when the verdict of a rep comes, after its catch; where
// says what went on beside the reading.
func JudgeVerdict(after time.Duration, where string, err error) Finding {
	f := Finding{Check: "verdict", Grade: Good}
	if err != nil {
		f.Grade, f.Remedy = Poor, "no rep could be read here: "+err.Error()
		return f
	}
	f.Figure = fmt.Sprintf("%.1f s after the catch, %s", after.Seconds(), where)
	switch {
	case after > VerdictLimit:
		f.Grade = Poor
		f.Remedy = "the verdict comes too late for a catch that is held: plug in the power, close other programs, or choose a smaller picture or 30 frames a second in the settings"
	case after > VerdictLimit*4/5:
		f.Grade = Fair
		f.Remedy = "plug in the power and close other programs: there is little to spare"
	}
	return f
}

func ms(d time.Duration) float64 { return d.Seconds() * 1000 }
