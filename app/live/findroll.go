package live

import (
	"errors"
	"math"

	"drillbay/camera/frame"
	"drillbay/camera/lens"
	"drillbay/drills"
	"drillbay/drills/bay"
)

const (
	rollEvery = 0.7 // s between two looks for a club that hangs
	rollFor   = 3.0 // s that an answer holds
	sameRoll  = 1.0 // degrees within which two measurements agree
	anyTilt   = 8.0 // degrees (1 sigma) that a camera is tilted, as long as it has no target point
)

var (
	errLooking = errors.New("looking for a club that hangs")
	errAgain   = errors.New("the club is seen: hold it still a moment longer")
)

// rolling is what the lens screen asked for the roll; the fields are under
// Live.mu but for at and last, which are the onlooker's.
type rolling struct {
	asked       float64 // s, when the roll was asked for last
	bay         bay.Bay
	roll, sigma float64
	err         error
	found       float64 // s, when it was answered
	at, last    float64 // s, of the last look; degrees, what it gave
}

// rollOf is the roll by a club that hangs in the newest pictures, for a bay.
func (l *Live) rollOf(b bay.Bay) (roll, sigma float64, err error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	now := l.Now()
	l.hung.asked, l.hung.bay = now, b
	if now-l.hung.found > rollFor {
		return 0, 0, errLooking
	}
	return l.hung.roll, l.hung.sigma, l.hung.err
}

// lookForRoll measures a club that hangs, when that is asked for.
func (l *Live) lookForRoll() {
	l.mu.Lock()
	b, wantedNow := l.hung.bay, l.Now()-l.hung.asked < wanted
	l.mu.Unlock()
	if !wantedNow || l.Now()-l.hung.at < rollEvery {
		return
	}
	l.hung.at = l.Now()
	roll, sigma, err := l.measureRoll(b)
	// Two in a row agree, or it is not believed.
	last := l.hung.last
	if l.hung.last = roll; err != nil {
		l.hung.last = math.NaN()
	} else if !(math.Abs(roll-last) < sameRoll) {
		err = errAgain
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	l.hung.roll, l.hung.sigma, l.hung.err, l.hung.found = roll, sigma, err, l.Now()
}

func (l *Live) measureRoll(b bay.Bay) (roll, sigma float64, err error) {
	w, h, ok := l.size()
	if !ok {
		return 0, 0, errLooking
	}
	k, err := bay.Known(b, drills.Right, 0, w, h) // the roll is that of the picture as seen
	if err != nil {
		return 0, 0, err
	}
	pics := l.recent(lookBack, w, h)
	defer frame.ReleaseAll(pics)
	hung, err := k.Setting.Hanging(pics)
	if err != nil {
		return 0, 0, err
	}
	v := k.Setting.View
	target := k.Target
	if b.Width == 0 || math.IsNaN(b.Target.X) || math.IsNaN(b.Target.Y) {
		target = v.Focal * math.Tan(anyTilt*math.Pi/180)
	}
	return lens.RollFromHung(v.Camera, hung, target, k.Focal)
}
