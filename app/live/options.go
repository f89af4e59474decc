package live

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"drillbay/camera/virtual"
	"drillbay/drills/ledger"
	"drillbay/drills/stage"
)

// Options are the flags of the window, the same for the command that starts
// it and the program that is it.
type Options struct {
	Camera     string  `help:"Name of the camera; default: the best one, or the virtual bay." placeholder:"NAME"`
	Second     string  `help:"Name of a second camera, which shows the other view; default: the one that the bay had." placeholder:"NAME"`
	Virtual    bool    `help:"Take the virtual bay whatever cameras there are."`
	Ledger     string  `help:"File of the ledger; default: the user's own." placeholder:"FILE"`
	Seed       uint64  `help:"Seed of the virtual bay." default:"1"`
	Size       string  `help:"Size of the virtual bay's picture." default:"1280x720" placeholder:"WxH"`
	Rate       float64 `help:"Frames a second of the virtual bay." default:"30"`
	FaceOn     bool    `help:"See the virtual bay from the front."`
	Both       bool    `help:"See the virtual bay from both sides at once, by two cameras."`
	FullScreen bool    `help:"Fill the screen."`
	Silent     bool    `help:"No sound."`
	Microphone string  `help:"Name of the microphone; default: the system's own choice." placeholder:"NAME"`
	Taps       bool    `help:"Two taps of the club on the mat, or two claps, say the last verdict again; after a set they begin the next."`
	Deaf       bool    `help:"Open no microphone."`
}

// Arguments are the options as flags again.
func (o Options) Arguments() []string {
	args := []string{"--seed", fmt.Sprint(o.Seed), "--size", o.Size, "--rate", fmt.Sprint(o.Rate)}
	add := func(name, value string) {
		if value != "" {
			args = append(args, name+"="+value)
		}
	}
	add("--camera", o.Camera)
	add("--second", o.Second)
	add("--ledger", o.Ledger)
	add("--microphone", o.Microphone)
	for name, on := range map[string]bool{"--virtual": o.Virtual, "--face-on": o.FaceOn, "--both": o.Both, "--full-screen": o.FullScreen, "--silent": o.Silent, "--taps": o.Taps, "--deaf": o.Deaf} {
		if on {
			args = append(args, name)
		}
	}
	return args
}

// drawn is the virtual bay of the options.
func (o Options) drawn() (virtual.Setup, error) {
	var w, h int
	if n, err := fmt.Sscanf(strings.ToLower(o.Size), "%dx%d", &w, &h); n != 2 || err != nil {
		return virtual.Setup{}, fmt.Errorf("the size %q is not WxH in pixels, 1280x720 say", o.Size)
	}
	s := stage.Practice(o.Seed, w, h, o.Rate)
	if o.FaceOn {
		s.Camera = stage.FaceOnCamera()
	}
	if _, err := virtual.NewDevice(s, virtual.AsRead); err != nil {
		return virtual.Setup{}, err
	}
	return s, nil
}

// Pixels is the size of the virtual bay's picture.
func (o Options) Pixels() (width, height int) {
	s, _ := o.drawn()
	return s.Width, s.Height
}

// Check says what is wrong with the options.
func (o Options) Check() error { _, err := o.drawn(); return err }

// Start opens the ledger and the session of the options.
func Start(ctx context.Context, o Options) (*Live, error) {
	drawn, err := o.drawn()
	if err != nil {
		return nil, err
	}
	l, err := ledger.Open(o.Ledger)
	if err != nil {
		return nil, err
	}
	cfg := Config{Ledger: l, Camera: o.Camera, Virtual: o.Virtual, Drawn: drawn, Sound: !o.Silent,
		Microphone: o.Microphone, Taps: o.Taps, Deaf: o.Deaf, Show: openFile}
	if cfg.Second = o.Second; o.Both {
		cfg.Second, cfg.Virtual = stage.DrawnOther, true
	}
	if o.Camera == "" && !cfg.Virtual {
		chosen(ctx, &cfg)
	}
	s, err := Open(ctx, cfg)
	if err != nil {
		l.Close()
		return nil, err
	}
	return s, nil
}

// AtOnce is the time within which a session ends that was ended from outside.
const AtOnce = 800 * time.Millisecond

// errHangs says that a device or the disk does not answer at the end.
var errHangs = errors.New("the session ended, but a device or the disk did not answer: every rep that was told is in the ledger")

// Finish ends a session that Start began, within a time, and its ledger. What
// is not read by half of that is stored without a reading. Once ctx is done,
// AtOnce is all the time there is.
func (l *Live) Finish(ctx context.Context, within time.Duration) error {
	ended := make(chan error, 1)
	until, give := context.WithTimeout(context.Background(), within*9/10)
	defer give()
	go func() {
		err := errors.Join(l.Close(until), l.later.wait(until), l.part(context.Background()))
		ended <- errors.Join(err, l.cfg.Ledger.Close())
	}()
	hurry, over := time.After(within/2), time.After(within)
	outside := ctx.Done()
	for {
		select {
		case err := <-ended:
			return err
		case <-outside:
			outside = nil
			hurry, over = time.After(min(within, AtOnce)/2), time.After(min(within, AtOnce))
		case <-hurry:
			l.runner.Hurry()
		case <-over:
			return errHangs
		}
	}
}
