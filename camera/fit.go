package camera

import (
	"math"
	"time"
)

const (
	fitWindow = 256 // frames that the fit looks back over
	fitReady  = 30  // frames before its times are trusted
	fitSure   = 60  // frames before it tells a lost frame from a late one
	fitGaps   = 9   // gaps whose median tells a change of rate
)

// Fit turns arrival times into capture times. Frames are taken at an even
// period and only ever arrive late, so the capture times lie on the line that
// touches the arrivals from below: of all lines with no arrival below them,
// the one with the least mean distance. That is an edge of the lower convex
// hull, the one across the mean frame number.
//
// The zero value is ready. It allocates nothing.
type Fit struct {
	number        [fitWindow]float64
	arrival       [fitWindow]float64
	head, count   int
	hull          [fitWindow]int
	period, phase float64 // s; arrival of frame 0 on the line
	gaps          [fitGaps]float64
	gapCount      int
	last          float64 // capture time of the last frame, s
	drops         int
	total         int
}

// Reset begins a new line, for a camera that was opened again; the times that
// Add returns go on rising and drops go on counting. period is the one that the camera's mode claims, 0 when
// unknown.
func (f *Fit) Reset(period time.Duration) {
	f.restart(period.Seconds())
}

// Ready reports whether the line is trusted; before that Add returns arrivals.
func (f *Fit) Ready() bool { return f.count >= fitReady }

// Period is the fitted time from frame to frame, 0 when not known yet.
func (f *Fit) Period() time.Duration { return seconds(f.period) }

// Drops counts the missing frames, found by frames that come too late to be the next one.
func (f *Fit) Drops() int { return f.drops }

// Add takes the arrival of the next frame and returns when it was captured.
// The times it returns rise strictly.
func (f *Fit) Add(arrival time.Duration) time.Duration {
	a := arrival.Seconds()
	n := 0.0
	if f.count > 0 {
		i := (f.head + f.count - 1) % fitWindow
		gap := a - f.arrival[i]
		f.gaps[f.gapCount%fitGaps] = gap
		f.gapCount++
		if f.rateChanged() {
			f.restart(f.medianGap())
			return f.Add(arrival)
		}
		k := f.steps(gap, i, a) // may renumber
		n = f.number[i] + k
	}
	f.store(n, a)
	f.fit()
	t := a
	if f.Ready() {
		t = min(a, f.phase+f.period*n)
	}
	if f.total > 0 && t <= f.last {
		t = f.last + 1e-6
	}
	f.last = t
	f.total++
	return seconds(t)
}

// steps returns how many periods after the last frame this one was taken. That is more than
// one when it comes nearly a whole period later than the line lets the next one come or,
// before the line is trusted, after a gap of 1.8 usual ones.
func (f *Fit) steps(gap float64, last int, a float64) float64 {
	if f.count < fitSure {
		// The line is crude yet; the median gap is not.
		k := 1.0
		if usual := f.medianGap(); f.gapCount >= fitGaps && gap > 1.8*usual {
			k = math.Round(gap / usual)
		}
		f.drops += int(k) - 1
		return k
	}
	late := (a-f.phase)/f.period - (f.number[last] + 1)
	if late >= 0.9 {
		k := 1 + math.Floor(late+0.1)
		f.drops += int(k) - 1
		return k
	}
	// A frame that comes before its time had been waiting, as those before it
	// had: their gap was no loss.
	if late < -0.5 {
		back, from := math.Round(-late), f.sinceGap()
		for j := from; j < f.count; j++ {
			f.number[(f.head+j)%fitWindow] -= back
		}
		if from < f.count {
			f.drops = max(0, f.drops-int(back))
		}
	}
	return 1
}

// sinceGap is the index, from the oldest, of the first frame after the last
// gap between frame numbers.
func (f *Fit) sinceGap() int {
	for j := f.count - 1; j > 0; j-- {
		if f.number[(f.head+j)%fitWindow]-f.number[(f.head+j-1)%fitWindow] > 1 {
			return j
		}
	}
	return f.count
}

func boolToInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

func (f *Fit) store(n, a float64) {
	if f.count == fitWindow {
		f.head = (f.head + 1) % fitWindow
		f.count--
	}
	i := (f.head + f.count) % fitWindow
	f.number[i], f.arrival[i] = n, a
	f.count++
}

// fit finds the lower hull (Andrew's monotone chain, numbers are in order) and
// its edge across the mean number.
func (f *Fit) fit() {
	if f.count < 2 {
		f.phase = f.arrival[f.head] - f.period*f.number[f.head]
		return
	}
	at := func(j int) (float64, float64) {
		i := (f.head + j) % fitWindow
		return f.number[i], f.arrival[i]
	}
	m, mean := 0, 0.0
	for j := range f.count {
		x, y := at(j)
		mean += x
		for m >= 2 {
			x0, y0 := at(f.hull[m-2])
			x1, y1 := at(f.hull[m-1])
			if (x1-x0)*(y-y0)-(y1-y0)*(x-x0) > 0 {
				break
			}
			m--
		}
		f.hull[m] = j
		m++
	}
	mean /= float64(f.count)
	e := 0
	for e < m-2 {
		if x, _ := at(f.hull[e+1]); x >= mean {
			break
		}
		e++
	}
	x0, y0 := at(f.hull[e])
	x1, y1 := at(f.hull[e+1])
	if x1 <= x0 {
		return
	}
	f.period = (y1 - y0) / (x1 - x0)
	f.phase = y0 - f.period*x0
}

// rateChanged reports whether the camera has gone to another rate, as many do
// when the light fails.
func (f *Fit) rateChanged() bool {
	if f.gapCount < fitGaps || !f.Ready() || f.gapCount%fitGaps != 0 {
		return false
	}
	m := f.medianGap()
	return m > 1.2*f.period || m < 0.8*f.period
}

func (f *Fit) medianGap() float64 {
	s := f.gaps
	for i := 1; i < len(s); i++ {
		for j := i; j > 0 && s[j] < s[j-1]; j-- {
			s[j], s[j-1] = s[j-1], s[j]
		}
	}
	return s[fitGaps/2]
}

func (f *Fit) restart(period float64) {
	drops, last, total := f.drops, f.last, f.total
	*f = Fit{period: period, drops: drops, last: last, total: total}
}

func seconds(s float64) time.Duration { return time.Duration(math.Round(s * 1e9)) }
