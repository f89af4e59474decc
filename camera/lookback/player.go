package lookback

import "math"

// Freeze is the time for which a lap stands still at the moment that matters, s.
const Freeze = 0.5

// Speeds of a lookback, as shares of real time.
const (
	Quarter = 0.25
	Half    = 0.5
	Full    = 1.0
)

// Player says which instant of a loop is shown at a given time. It is a
// value: each method returns the changed player, and the instant shown is a
// function of the time that is passed in alone. Times of the loop are seconds
// of the capture clock, now is seconds of any one steady clock.
type Player struct {
	times  []float64
	moment float64 // NaN: no freeze
	speed  float64
	since  float64 // now, when the lap that runs would have begun
	still  bool
	place  float64 // the instant shown while still
}

// Position says which picture a player shows.
type Position struct {
	At    float64 // s, capture clock
	Frame int     // index of the picture shown
	Held  bool    // standing still: frozen at the moment, or held by the user
	Lap   int     // laps done, while running
}

// NewPlayer plays pictures of the given times at quarter speed from now on,
// freezing at moment (NaN or outside the loop: nowhere). It panics without a
// picture: a loop has at least one.
func NewPlayer(times []float64, moment, now float64) Player {
	if len(times) == 0 {
		panic("lookback: a player needs at least one picture")
	}
	p := Player{times: times, moment: moment, speed: Quarter, since: now}
	if !(moment >= p.from() && moment <= p.to()) {
		p.moment = math.NaN()
	}
	return p
}

func (p Player) from() float64 { return p.times[0] }
func (p Player) to() float64   { return p.times[len(p.times)-1] }

// frameTime is the mean spacing of the pictures, s: the last picture is shown
// as long as the others.
func (p Player) frameTime() float64 {
	if len(p.times) < 2 {
		return 1.0 / 30
	}
	return (p.to() - p.from()) / float64(len(p.times)-1)
}

// lap returns the time that one lap takes, s of the clock.
func (p Player) lap() float64 {
	d := (p.to() - p.from() + p.frameTime()) / p.speed
	if !math.IsNaN(p.moment) {
		d += Freeze
	}
	return d
}

// Moment returns the moment at which the player freezes, NaN when there is none.
func (p Player) Moment() float64 { return p.moment }

// Speed is the share of real time at which the player runs.
func (p Player) Speed() float64 { return p.speed }

// Still reports whether the user holds the player.
func (p Player) Still() bool { return p.still }

// From and To are the first and the last instant of the loop.
func (p Player) From() float64 { return p.from() }

// To is the last instant of the loop.
func (p Player) To() float64 { return p.to() }

// At returns the position at a time.
func (p Player) At(now float64) Position {
	if p.still {
		return Position{At: p.place, Frame: shown(p.times, p.place), Held: true}
	}
	t := max(now-p.since, 0)
	laps := math.Floor(t / p.lap())
	at, held := p.within(t - laps*p.lap())
	return Position{At: at, Frame: shown(p.times, at), Held: held, Lap: int(laps)}
}

// within is the instant shown t seconds into a lap.
func (p Player) within(t float64) (at float64, held bool) {
	if !math.IsNaN(p.moment) {
		reach := (p.moment - p.from()) / p.speed
		if t >= reach-1e-9 && t < reach+Freeze {
			return p.moment, true
		}
		if t >= reach+Freeze {
			t -= Freeze
		}
	}
	return min(p.from()+t*p.speed, p.to()), false
}

// into is the inverse of within: the time into a lap at which an instant is shown first.
func (p Player) into(at float64) float64 {
	t := (at - p.from()) / p.speed
	if at > p.moment {
		t += Freeze
	}
	return t
}

// AtSpeed runs on from what is shown now at another speed. Speeds outside
// 0.05–4 are brought inside.
func (p Player) AtSpeed(speed, now float64) Player {
	at := p.At(now).At
	p.speed = min(max(speed, 0.05), 4)
	p.since, p.still = now-p.into(at), false
	return p
}

// Hold stands still at what is shown now; Hold on a player that stands still
// runs on.
func (p Player) Hold(now float64) Player {
	if p.still {
		p.since, p.still = now-p.into(p.place), false
		return p
	}
	p.place, p.still = p.At(now).At, true
	return p
}

// Scrub stands still at an instant, brought inside the loop.
func (p Player) Scrub(at float64) Player {
	if math.IsNaN(at) {
		return p
	}
	p.place, p.still = min(max(at, p.from()), p.to()), true
	return p
}

// Step stands still n pictures later (earlier when n < 0), stopping at the
// ends.
func (p Player) Step(n int, now float64) Player {
	i := min(max(p.At(now).Frame+n, 0), len(p.times)-1)
	return p.Scrub(p.times[i])
}

// FreezeAt freezes laps at another moment (NaN: nowhere) and goes on from
// what is shown now.
func (p Player) FreezeAt(moment, now float64) Player {
	at := p.At(now).At
	p.moment = moment
	if !(moment >= p.from() && moment <= p.to()) {
		p.moment = math.NaN()
	}
	if !p.still {
		p.since = now - p.into(at)
	}
	return p
}

// Longer goes on with a longer loop that begins at the same picture.
func (p Player) Longer(times []float64, now float64) Player {
	if len(times) == 0 || times[0] != p.from() {
		return NewPlayer(times, p.moment, now)
	}
	// A first lap does not depend on the loop's end.
	was := p.At(now)
	p.times = times
	if was.Lap > 0 && !p.still {
		p.since = now - p.into(was.At)
	}
	return p
}
