package app

import (
	"slices"

	"drillbay/drills/book"
)

// cameraChoice is the choice of the camera, and of its mode, that is opened at the next
// start. Listing the cameras takes a while and is done on another goroutine.
type cameraChoice struct {
	name  string // "": the best
	mode  book.CameraMode
	list  []CameraLine
	found chan []CameraLine // nil: they are known, or cannot be listed
}

func newCameraChoice(a *App) cameraChoice {
	s := cameraChoice{name: a.setup.Camera, mode: a.setup.Mode}
	if list := a.d.Cameras; list != nil {
		found := make(chan []CameraLine, 1)
		s.found = found
		go func() { found <- list() }()
	}
	return s
}

// look takes the list once it is there.
func (s *cameraChoice) look(a *App, c *canvas) {
	if s.found == nil {
		return
	}
	select {
	case s.list = <-s.found:
		s.found = nil
	default:
		c.again(0.2)
	}
}

// word names what is chosen.
func (s *cameraChoice) word(a *App) string {
	switch {
	case s.found != nil && s.name == "":
		return "looking for cameras"
	case s.name == "":
		return "the best one"
	case s.found == nil && s.line() == nil:
		return s.name + ", not here"
	}
	return s.name
}

// line is the chosen camera, the one in use while none is, nil when it is not
// there.
func (s *cameraChoice) line() *CameraLine {
	i := slices.IndexFunc(s.list, func(l CameraLine) bool { return l.Name == s.name || s.name == "" && l.InUse })
	if i < 0 {
		return nil
	}
	return &s.list[i]
}

// move goes on among the best one and those that are there.
func (s *cameraChoice) move(n int) {
	names := []string{""}
	for _, l := range s.list {
		if !slices.Contains(names, l.Name) {
			names = append(names, l.Name)
		}
	}
	if s.name != "" && !slices.Contains(names, s.name) {
		names = append(names, s.name)
	}
	i := slices.Index(names, s.name)
	if to := min(max(i+n, 0), len(names)-1); to != i {
		s.name, s.mode = names[to], book.CameraMode{} // a mode is one camera's
	}
}

// moveMode goes on among the best mode and those of the chosen camera. Who
// chooses a mode of the one in use chooses that camera.
func (s *cameraChoice) moveMode(n int) {
	modes := []book.CameraMode{{}}
	l := s.line()
	if l != nil {
		modes = append(modes, l.Modes...)
	}
	i := max(slices.Index(modes, s.mode), 0)
	s.mode = modes[min(max(i+n, 0), len(modes)-1)]
	if s.mode != (book.CameraMode{}) && l != nil {
		s.name = l.Name
	}
}
