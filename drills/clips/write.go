package clips

import (
	"errors"

	"drillbay/camera/clip"
	"drillbay/camera/frame"
	"drillbay/drills"
)

// WriteClip writes pictures as a clip at the rate they came.
func WriteClip(path string, pics []*frame.Picture) error {
	if len(pics) < 2 {
		return errors.New("there are too few pictures for a clip")
	}
	w, err := clip.NewWriter(path, pics[0].Width, pics[0].Height, min(max(rate(pics), 1), 240))
	if err != nil {
		return err
	}
	for _, p := range pics {
		if err := w.Add(p); err != nil {
			w.Drop()
			return err
		}
	}
	return w.Close()
}

// mostRepeated is how often each picture is written at most, in the mean: thinned ones
// come half as often.
const mostRepeated = 2.0

// rate is how many pictures come in a second. Held pictures may be thinned, so that the
// short steps between them tell it; but of pictures that came unevenly, from a camera or
// a laptop that had much to do, some steps are too short: then a clip would be many times
// as large, each picture written again and again.
func rate(pics []*frame.Picture) float64 {
	steps := make([]float64, len(pics)-1)
	for i := range steps {
		steps[i] = pics[i+1].Seconds() - pics[i].Seconds()
	}
	mean := float64(len(steps)) / (pics[len(pics)-1].Seconds() - pics[0].Seconds())
	return min(1/drills.Quantile(steps, 0.2), mostRepeated*mean)
}
