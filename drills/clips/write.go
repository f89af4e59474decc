package clips

import (
	"errors"

	"drillbay/camera/clip"
	"drillbay/camera/frame"
)

// WriteClip writes pictures as a clip at the rate they came.
func WriteClip(path string, pics []*frame.Picture) error {
	if len(pics) < 2 {
		return errors.New("there are too few pictures for a clip")
	}
	// Held pictures may be thinned: the shortest step is the rate.
	step := pics[1].Seconds() - pics[0].Seconds()
	for i := 2; i < len(pics); i++ {
		step = min(step, pics[i].Seconds()-pics[i-1].Seconds())
	}
	w, err := clip.NewWriter(path, pics[0].Width, pics[0].Height, min(max(1/step, 1), 240))
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
