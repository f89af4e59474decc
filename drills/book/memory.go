package book

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"

	"github.com/google/uuid"

	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/ledger"
)

// setupKey is the name of the settings among the ledger's own.
const setupKey = "setup"

// Setup are the settings as they were kept, or the defaults.
func (b *Book) Setup(ctx context.Context) (Setup, error) { return SetupOf(ctx, b.ledger) }

// SetupOf are the settings that a ledger keeps.
func SetupOf(ctx context.Context, l *ledger.Ledger) (Setup, error) {
	s := Defaults()
	text, err := l.Setting(ctx, setupKey)
	if err != nil || text == "" {
		return s, err
	}
	if err := json.Unmarshal([]byte(text), &s); err != nil {
		return Defaults(), fmt.Errorf("the settings cannot be read, the usual ones are taken: %w", err)
	}
	s.ScreenInch, s.ViewMetres = orUsual(s.ScreenInch, 7, 85, 15.6), orUsual(s.ViewMetres, 1, 8, 3.5)
	for _, q := range []*int{&s.Quieter.Voice, &s.Quieter.Beat, &s.Quieter.Tones} {
		*q = min(max(*q, 0), 9)
	}
	s.Late, s.Minutes = orUsual(s.Late, 1, 8, 3), orUsual(s.Minutes, 10, 120, 30)
	if s.Theme != "daylight" && s.Theme != "indoors" {
		s.Theme = "daylight"
	}
	return s, nil
}

// orUsual is a value that lies in a range, else the usual one.
func orUsual(v, least, most, usual float64) float64 {
	if v >= least && v <= most {
		return v
	}
	return usual
}

// KeepSetup keeps the settings.
func (b *Book) KeepSetup(ctx context.Context, s Setup) error {
	text, err := json.Marshal(s)
	if err != nil {
		return err
	}
	return b.ledger.PutSetting(ctx, setupKey, string(text))
}

// kept is a bay as it is kept: what is not a number cannot be written.
type kept struct {
	bay.Bay
	Found *drills.Pixel // the target point
}

// Bay is the set-up kept for a camera, ok is false when there is none.
func (b *Book) Bay(ctx context.Context, camera string) (bay bay.Bay, ok bool, err error) {
	text, err := b.ledger.Setting(ctx, "bay "+camera)
	if err != nil || text == "" {
		return bay, false, err
	}
	var k kept
	if err := json.Unmarshal([]byte(text), &k); err != nil {
		return bay, false, fmt.Errorf("the bay of camera %q cannot be read: set the lens again: %w", camera, err)
	}
	bay = k.Bay
	bay.Target = drills.Pixel{X: math.NaN(), Y: math.NaN()}
	if k.Found != nil {
		bay.Target = *k.Found
	}
	return bay, true, nil
}

// KeepBay keeps the set-up of a camera: all of it for this laptop, and what
// another laptop can use among the ledger's bays.
func (b *Book) KeepBay(ctx context.Context, camera string, bay bay.Bay) error {
	k := kept{Bay: bay}
	k.Target = drills.Pixel{}
	if math.IsNaN(k.TargetSd) {
		k.TargetSd = 0
	}
	found := !math.IsNaN(bay.Target.X) && !math.IsNaN(bay.Target.Y)
	out := ledger.Bay{
		ID: uuid.NewSHA1(uuid.NameSpaceOID, []byte("drillbay/bay/"+camera+"/"+bay.Name)).String(), Name: bay.Name, Camera: camera,
		Distance: orNone(bay.Distance), Focal: math.NaN(), FOV: orNone(bay.Field), Width: bay.Width, Height: bay.Height,
		TargetX: math.NaN(), TargetY: math.NaN(), TargetSigma: math.NaN(), Roll: bay.Roll, Flipped: bay.Flipped, View: ledger.DownTheLine,
	}
	if bay.FaceOn {
		out.View = ledger.FaceOn
	}
	if found {
		target := bay.Target
		k.Found = &target
		out.TargetX, out.TargetY, out.TargetSigma = target.X, target.Y, bay.TargetSd
	}
	text, err := json.Marshal(k)
	if err != nil {
		return err
	}
	if err := b.ledger.PutSetting(ctx, "bay "+camera, string(text)); err != nil {
		return err
	}
	_, err = b.ledger.PutBay(ctx, out)
	return err
}

func orNone(v float64) float64 {
	if v == 0 {
		return math.NaN()
	}
	return v
}

// SecondAt names the camera that shows the other view beside another, by the ledger
// of a file; "" where there is none or it cannot be read.
func SecondAt(path, camera string) (second string) {
	if camera == "" {
		return ""
	}
	peek(path, func(l *ledger.Ledger) {
		if b, _, err := (&Book{ledger: l}).Bay(context.Background(), camera); err == nil {
			second = b.Second
		}
	})
	return second
}

// SetupAt returns the settings in the ledger of a file, the usual ones where there is
// none or it cannot be read.
func SetupAt(path string) Setup {
	out := Defaults()
	peek(path, func(l *ledger.Ledger) {
		if s, err := SetupOf(context.Background(), l); err == nil {
			out = s
		}
	})
	return out
}

// peek opens the ledger of a file for look, if there is one that can be read.
func peek(path string, look func(*ledger.Ledger)) {
	if _, err := os.Stat(path); err != nil {
		return
	}
	l, err := ledger.Open(path)
	if err != nil {
		return
	}
	defer l.Close()
	look(l)
}
