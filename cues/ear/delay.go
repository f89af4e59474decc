package ear

import (
	"context"
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/dsp/fourier"
)

// The probe is a sweep: short enough not to annoy, broad enough to be found to
// a sample in the noise of a range.
const (
	probeSeconds = 0.25
	probeFrom    = 600.0  // Hz
	probeTo      = 6000.0 // Hz
	probePeak    = 0.5
)

// Probe is the known signal that is played to measure the delay: a linear
// sweep under a Hann window, at Rate, −1 to 1.
func Probe() []float64 {
	out := make([]float64, int(probeSeconds*Rate))
	for i := range out {
		t := float64(i) / Rate
		w := 2 * math.Pi * (probeFrom*t + (probeTo-probeFrom)*t*t/(2*probeSeconds))
		out[i] = probePeak * math.Sin(w) * (1 - math.Cos(2*math.Pi*float64(i)/float64(len(out)-1))) / 2
	}
	return out
}

// ErrNotHeard says that the probe was not found in the recording.
var ErrNotHeard = errors.New("the test sound was not heard: turn the sound up, bring the microphone nearer, and try again")

// ErrUnsteady says that the delay changes from one measurement to the next.
var ErrUnsteady = errors.New("the delay of the sound changes from one time to the next: is the laptop busy, or the loudspeaker wireless?")

const (
	listenFor = 1.6   // s, for one measurement
	tries     = 7     // until two agree
	agree     = 0.008 // s
)

// Delay measures how much later sound is heard than its output says: play
// plays samples and says when, by the clock of Options, it takes them to be
// heard. It measures until two measurements in a row agree, which takes some
// four seconds. What was heard is not kept.
func (e *Ear) Delay(ctx context.Context, play func(samples []float64) (heard float64)) (seconds float64, err error) {
	last := math.NaN()
	err = ErrNotHeard
	if e.State() != Listening {
		return 0, errors.Join(ErrNotHeard, e.Err())
	}
	for range tries {
		d, once := e.delay(ctx, play)
		switch {
		case errors.Is(once, ErrNotHeard):
			continue
		case once != nil:
			return 0, once
		case math.Abs(d-last) <= agree:
			return (d + last) / 2, nil
		}
		if !math.IsNaN(last) {
			err = fmt.Errorf("%w (%.0f and %.0f ms)", ErrUnsteady, last*1000, d*1000)
		}
		last = d
	}
	return 0, err
}

// delay measures once.
func (e *Ear) delay(ctx context.Context, play func([]float64) float64) (float64, error) {
	r := &recording{want: listenFor * Rate, done: make(chan struct{})}
	select {
	case e.record <- r:
	case <-ctx.Done():
		return 0, ctx.Err()
	case <-e.quit:
		return 0, context.Canceled
	}
	probe := Probe()
	heard := play(probe)
	select {
	case <-r.done:
	case <-ctx.Done():
		return 0, ctx.Err()
	case <-e.quit:
		return 0, context.Canceled
	}
	at, err := Find(r.samples, probe)
	if err != nil {
		return 0, err
	}
	return r.began + at/Rate - heard - e.o.Distance/speedOfSound, nil
}

// Find finds the probe in what was heard, and gives where it begins, in
// samples with fractions. It is the place where the two correlate best; it is
// not heard when that does not stand out.
func Find(heard, probe []float64) (at float64, err error) {
	places := len(heard) - len(probe) + 1
	if places < 3 {
		return 0, ErrNotHeard
	}
	c := correlation(heard, probe)[:places]
	best, sum := 0, 0.0
	for i, v := range c {
		sum += v * v
		if math.Abs(v) > math.Abs(c[best]) {
			best = i
		}
	}
	// The main peak is some hundred samples wide: the rest is the noise.
	rest := math.Sqrt(sum / float64(places))
	if rest == 0 || math.Abs(c[best]) < 8*rest {
		return 0, ErrNotHeard
	}
	if best == 0 || best == places-1 {
		return float64(best), nil
	}
	// The top of the parabola through the three highest.
	l, m, r := math.Abs(c[best-1]), math.Abs(c[best]), math.Abs(c[best+1])
	return float64(best) + (l-r)/(2*(l-2*m+r)), nil
}

// correlation is Σ heard[i+k]·probe[k] for every i, by Fourier transform.
func correlation(heard, probe []float64) []float64 {
	n := 1
	for n < len(heard)+len(probe) {
		n *= 2
	}
	fft := fourier.NewFFT(n)
	a, b := make([]float64, n), make([]float64, n)
	copy(a, heard)
	copy(b, probe)
	x, y := fft.Coefficients(nil, a), fft.Coefficients(nil, b)
	for i := range x {
		x[i] *= complex(real(y[i]), -imag(y[i]))
	}
	out := fft.Sequence(nil, x)
	for i := range out {
		out[i] /= float64(n)
	}
	return out
}
