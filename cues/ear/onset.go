// Package ear listens: it finds when a ball is struck, two taps of the club,
// and how long sound takes from the output to the microphone. What it hears
// is never stored.
package ear

import "math"

// Rate is the sample rate of what is heard, Hz.
const Rate = 48000

const (
	hop      = Rate / 1000 // samples: the energy is looked at every millisecond
	fine     = hop / 4     // samples: the beginning is placed to a quarter of that
	overLow  = 9.0         // dB over the noise floor, 3 to 7 kHz
	overHigh = 7.0         // dB over the noise floor, above that
	sudden   = 8.0         // dB over what was heard 4 to 12 ms before
	falls    = 9.0         // dB that it falls within 40 to 70 ms
	again    = 80          // ms until the next can begin
	after    = 70          // ms that are heard before it is judged
	deaf     = -95.0       // dB of full scale: a band this quiet has no sound in it
	settle   = 300         // ms until the floor is known
)

// Onset is a sudden, short, broad sound.
type Onset struct {
	At       int64   // its first sample
	Strength float64 // dB over the noise floor
}

// Detector finds onsets in a stream of samples. The noise floor of each band
// is the running median of its energy, so it follows a range that gets louder
// or quieter. It allocates nothing.
type Detector struct {
	low, high band
	first     int64      // position of the first sample
	floors    [2]float64 // dB
	ms        int64      // hops so far
	inHop     int
	sums      [2]float64
	fineSum   float64
	energies  [2][128]float64 // dB by hop, a ring
	fines     [1024]float64   // power of low + high by quarter hop, a ring
	quiet     int64           // no onset before this hop
	candidate int64           // hop of the loudest since it began, −1 without one
	began     int64
	loudest   float64
	strength  float64
}

// NewDetector returns a detector that has heard nothing.
func NewDetector() *Detector {
	return &Detector{low: lowBand(), high: highBand(), candidate: -1, began: -1}
}

// origin is the position of the first sample that is heard.
func (d *Detector) origin(position int64) { d.first = position }

// Hear takes samples, −1 to 1, and calls found for each onset, 70 ms after it.
func (d *Detector) Hear(samples []float32, found func(Onset)) {
	for _, s := range samples {
		x := float64(s)
		a, b := d.low.step(x), d.high.step(x)
		d.sums[0] += a * a
		d.sums[1] += b * b
		d.fineSum += a*a + b*b
		d.inHop++
		if d.inHop%fine == 0 {
			d.fines[(d.ms*hop/fine+int64(d.inHop/fine)-1)%int64(len(d.fines))] = d.fineSum
			d.fineSum = 0
		}
		if d.inHop < hop {
			continue
		}
		d.step(found)
		d.ms++
		d.inHop, d.sums = 0, [2]float64{}
	}
}

// step takes in one hop.
func (d *Detector) step(found func(Onset)) {
	slot := d.ms % int64(len(d.energies[0]))
	for i, sum := range d.sums {
		e := max(10*math.Log10(sum/hop+1e-12), -110)
		d.energies[i][slot] = e
		d.follow(i, e)
	}
	if d.ms < settle {
		return
	}
	if d.candidate < 0 && d.ms >= d.quiet && d.stands() {
		d.began, d.candidate, d.loudest = d.ms, d.ms, -200
		d.strength = 0
	}
	if d.candidate < 0 {
		return
	}
	if e := d.energies[0][slot]; d.ms < d.began+5 && e > d.loudest {
		d.candidate, d.loudest = d.ms, e
		d.strength = e - d.floors[0]
	}
	if d.ms == d.began+after {
		if d.fell() {
			found(Onset{At: d.first + d.beginning(), Strength: d.strength})
		}
		d.quiet, d.candidate = max(d.began+again, d.ms), -1
	}
}

// follow keeps the floor of a band: a median goes up as often as down. At
// first it takes big steps.
func (d *Detector) follow(i int, e float64) {
	if d.ms == 0 {
		d.floors[i] = e
	}
	step := 0.01 + 0.5*math.Exp(-float64(d.ms)/60)
	if e > d.floors[i] {
		d.floors[i] += step
	} else {
		d.floors[i] -= step
	}
}

// stands reports whether this hop stands out of the noise, in both bands and
// all at once.
func (d *Detector) stands() bool {
	over := [2]float64{overLow, overHigh}
	for i := range d.energies {
		if i == 1 && d.floors[i] < deaf && d.at(i, 0) < deaf {
			continue // this microphone hears nothing up there
		}
		if d.at(i, 0) < max(d.floors[i], deaf)+over[i] {
			return false
		}
	}
	return d.at(0, 0) > d.mean(0, 4, 12)+sudden
}

// fell reports whether the sound was short.
func (d *Detector) fell() bool { return d.mean(0, 0, 30) < d.loudest-falls }

// at is the energy of a band so many hops ago, dB.
func (d *Detector) at(i int, ago int64) float64 {
	n := int64(len(d.energies[i]))
	return d.energies[i][((d.ms-ago)%n+n)%n]
}

// mean is the mean power of hops from..to ago, dB.
func (d *Detector) mean(i int, from, to int64) float64 {
	sum := 0.0
	for ago := from; ago < to; ago++ {
		sum += math.Pow(10, d.at(i, ago)/10)
	}
	return 10 * math.Log10(sum/float64(to-from))
}

// beginning is the first sample of the onset: of the quarter milliseconds
// around where it stands out, the first with a fifth of the most power.
func (d *Detector) beginning() int64 {
	n := int64(len(d.fines))
	first, last := (d.began-2)*hop/fine, (d.candidate+1)*hop/fine
	most := 0.0
	for q := first; q < last; q++ {
		most = max(most, d.fines[(q%n+n)%n])
	}
	for q := first; q < last; q++ {
		if d.fines[(q%n+n)%n] >= most/5 {
			return q * fine
		}
	}
	return d.began * hop
}
