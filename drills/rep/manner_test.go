package rep

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"drillbay/camera/sight"
	"drillbay/drills"
)

// arcs is a track whose club turns from −50° to 90° by a law of its time.
func arcs(long float64, law func(x float64) float64) sight.Track {
	t := sight.Track{Held: &sight.Held{}}
	const frame = 1.0 / 30
	for at := 0.0; at < long; at += frame {
		t.Samples = append(t.Samples, sight.Sample{At: at, Arc: 2 * math.Round((-50+140*law(at/long))/2)})
	}
	t.Samples = append(t.Samples, sight.Sample{At: long, Arc: 90})
	return t
}

// placed is a minimum-jerk movement (Flash & Hogan 1985).
func placed(x float64) float64 { return x * x * x * (10 - 15*x + 6*x*x) }

// swung speeds up to the catch and is stopped there.
func swung(x float64) float64 {
	return 0.35*x*x + 0.65*(1-math.Cos(math.Pi*x*0.72))/(1-math.Cos(math.Pi*0.72))
}

func moves(x float64) float64 {
	x *= 3
	n := math.Floor(x)
	return (n + placed(math.Min(1, 1.5*(x-n)))) / 3
}

func TestMannerIsToldWhateverTheTempo(t *testing.T) {
	cases := []struct {
		name string
		long float64
		law  func(float64) float64
		want drills.Manner
	}{
		{"a swing", 0.6, swung, drills.Swung},
		{"a gentle slow swing", 1.2, swung, drills.Swung},
		{"a slow smooth placement", 1.6, placed, drills.Placed},
		{"a quick smooth placement", 0.7, placed, drills.Placed},
		{"a placement in moves", 1.9, moves, drills.Placed},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, smooth := manner(arcs(c.long, c.law))
			assert.Equal(t, c.want, got)
			assert.False(t, math.IsNaN(smooth))
		})
	}
}

func TestPathIsCarriedOnToLevel(t *testing.T) {
	p := path{}
	for lift := -45.0; lift <= -8; lift += 6 {
		x := lift / 45
		p.lift, p.line, p.sigma = append(p.lift, lift), append(p.line, 4+18*x-14*x*x), append(p.sigma, 2.5)
	}
	line, sigma, ok := p.at(0)
	assert.True(t, ok)
	assert.InDelta(t, 4, line, 1.5)
	assert.Greater(t, sigma, 1.0)
	_, _, ok = path{}.at(0)
	assert.False(t, ok)
}
