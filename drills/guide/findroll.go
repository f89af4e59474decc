package guide

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

// rolling is the measuring of the roll that the lens screen asks for; the fields are under
// Guide.mu but for at and last, which are the onlooker's.
type rolling struct {
	asked       float64 // s, when the roll was asked for last
	bay         bay.Bay
	roll, sigma float64
	err         error
	found       float64 // s, when it was answered
	at, last    float64 // s, of the last look; degrees, what it gave
}

// Roll is the roll by a club that hangs in the newest pictures, for a bay.
func (gd *Guide) Roll(b bay.Bay) (roll, sigma float64, err error) {
	gd.mu.Lock()
	defer gd.mu.Unlock()
	now := gd.o.Now()
	gd.hung.asked, gd.hung.bay = now, b
	if now-gd.hung.found > rollFor {
		return 0, 0, errLooking
	}
	return gd.hung.roll, gd.hung.sigma, gd.hung.err
}

// lookForRoll measures a club that hangs, when that is asked for.
func (gd *Guide) lookForRoll() {
	gd.mu.Lock()
	b, wantedNow := gd.hung.bay, gd.o.Now()-gd.hung.asked < Wanted
	gd.mu.Unlock()
	if !wantedNow || gd.o.Now()-gd.hung.at < rollEvery {
		return
	}
	gd.hung.at = gd.o.Now()
	roll, sigma, err := gd.measureRoll(b)
	// Two in a row agree, or it is not believed.
	last := gd.hung.last
	if gd.hung.last = roll; err != nil {
		gd.hung.last = math.NaN()
	} else if !(math.Abs(roll-last) < sameRoll) {
		err = errAgain
	}
	gd.mu.Lock()
	defer gd.mu.Unlock()
	gd.hung.roll, gd.hung.sigma, gd.hung.err, gd.hung.found = roll, sigma, err, gd.o.Now()
}

func (gd *Guide) measureRoll(b bay.Bay) (roll, sigma float64, err error) {
	w, h, ok := gd.size()
	if !ok {
		return 0, 0, errLooking
	}
	k, err := bay.Known(b, drills.Right, 0, w, h) // the roll is that of the picture as seen
	if err != nil {
		return 0, 0, err
	}
	pics := gd.recent(lookBack, w, h)
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
