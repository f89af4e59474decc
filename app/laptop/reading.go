package laptop

import (
	"errors"
	"time"

	"drillbay/camera"
	"drillbay/camera/frame"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
	"drillbay/drills/measure"
	"drillbay/drills/picture"
	"drillbay/drills/stage"
)

func seconds(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }

// timeReading reads a drawn rep of the camera's size and rate while pictures are
// turned into a window's colours as often as they come, as drawing by software
// does, and returns how long the reading took.
func timeReading(now func() time.Duration, m camera.Mode) (time.Duration, error) {
	s := virtual.Default()
	if m.Width > 0 {
		s.Width, s.Height = m.Width&^1, m.Height&^1
	}
	if m.Rate > 0 {
		s.FPS = m.Rate
	}
	s.Reps = []virtual.RepSpec{{}}
	bay, err := virtual.New(s)
	if err != nil {
		return 0, err
	}
	known, err := stage.KnownOf(s)
	if err != nil {
		return 0, err
	}
	var pics []*frame.Picture
	var span sight.Span
	var seen measure.Recall
	watch, err := measure.NewWatch(known.Setting, &seen)
	if err != nil {
		return 0, err
	}
	defer watch.Close()
	var pace measure.Pace
	caught := false
	for i := 0; i < bay.Frames() && !caught; i++ {
		p := frame.New(s.Width, s.Height, frame.Sub420)
		if err := bay.Draw(i, p); err != nil {
			return 0, err
		}
		pics = append(pics, p)
		if !pace.Due(p.Seconds()) {
			continue
		}
		if g, _ := watch.See(p); g.Caught {
			span, caught = g.Span, true
		}
	}
	if !caught {
		return 0, errors.New("the catch of a drawn rep was not seen")
	}
	for len(pics) > 0 && pics[0].Seconds() < span.From {
		pics = pics[1:]
	}
	stop, stopped := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(stopped)
		tick := time.NewTicker(seconds(1 / s.FPS))
		defer tick.Stop()
		for i := 0; ; i++ {
			select {
			case <-stop:
				return
			case <-tick.C:
				picture.RGBA(pics[i%len(pics)])
			}
		}
	}()
	reader := measure.Reader{Known: known, Drill: measure.Catch, Seen: &seen}
	from := now()
	_, ok := reader.Analyse(pics, span)
	took := now() - from
	close(stop)
	<-stopped
	if !ok {
		return took, errors.New("a drawn rep was not recognised as a rep")
	}
	return took, nil
}
