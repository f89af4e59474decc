package app

import (
	"math"

	"drillbay/camera/frame"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/watch"
)

// CameraView is one camera as its lens is set. Its functions are those of Deps.
type CameraView struct {
	Picture func(late float64) *frame.Picture
	Hands   func() (x, y float64)
	Seen    func(at float64) (watch.Seen, bool)
	Lens    LensWork
	KeepBay func(bay.Bay) error
}

// OtherView is the second camera. Functions that are nil say that there can be
// none.
type OtherView struct {
	CameraView
	// Camera names it, "" while there is none; Bay is its set-up.
	Camera func() string
	Bay    func() bay.Bay
	// Leads reports whether its pictures are those of the practice: the first camera
	// is lost.
	Leads func() bool
	// Tied says in one sentence by how much its pictures come later.
	Tied func() string
}

// otherView names the second camera; two is false where there is none.
func (a *App) otherView() (camera string, two bool) {
	if a.d.Other.Camera == nil {
		return "", false
	}
	camera = a.d.Other.Camera()
	return camera, camera != ""
}

// target is the first camera's target point in the picture of the practice, NaN
// when that is the other camera's.
func (a *App) target(p *frame.Picture) drills.Pixel {
	if a.d.Other.Leads != nil && a.d.Other.Leads() {
		return drills.Pixel{X: math.NaN(), Y: math.NaN()}
	}
	return a.bay.TargetIn(p.Width, p.Height)
}

// view is the camera whose lens is set.
func (s *lensScreen) view(a *App) CameraView {
	if s.second {
		return a.d.Other.CameraView
	}
	return CameraView{a.d.Picture, a.d.Hands, a.d.Seen, a.d.Lens, a.d.KeepBay}
}

// bay is the set-up of that camera.
func (s *lensScreen) bay(a *App) *bay.Bay {
	if s.second {
		return &a.other
	}
	return &a.bay
}

// picture is its newest one, with a reference for the caller, or nil.
func (s *lensScreen) picture(a *App) *frame.Picture {
	if !s.second {
		return a.live(0, liveLens)
	}
	if _, two := a.otherView(); !two {
		s.second = false // it was taken away
		s.begin(a)
		return a.live(0, liveLens)
	}
	if a.view.Again == 0 || liveLens < a.view.Again {
		a.view.Again = liveLens
	}
	return a.d.Other.Picture(0)
}

// keep stores the set-up.
func (s *lensScreen) keep(a *App) {
	if !s.second {
		a.keepBay()
		return
	}
	if keep := a.d.Other.KeepBay; keep != nil {
		if err := keep(a.other); err != nil {
			a.tell("bay", "The bay is not stored: "+err.Error()+".", "It is used until you close drillbay.")
		}
	}
}

// begin starts with the set-up as it is.
func (s *lensScreen) begin(a *App) {
	b := s.bay(a)
	if b.Distance == 0 && b.Field == 0 {
		b.Distance = 3
	}
	if b.Club == 0 {
		b.Club = 0.94
	}
	if b.Grip == 0 {
		b.Grip = 0.09
	}
	s.step = drawLines
	if b.Set {
		s.step = standBy
	}
}

// turn goes on to the other camera's lens.
func (s *lensScreen) turn(a *App) {
	if _, two := a.otherView(); !two {
		a.tell("two views", "There is one camera.", "J lets another join, as the other view.")
		return
	}
	if !s.usual {
		s.keep(a)
	}
	second := !s.second
	*s = lensScreen{drag: -1, hand: s.hand, second: second}
	if second {
		a.other = a.d.Other.Bay()
	}
	s.begin(a)
}

// views writes at the right end which cameras there are, and the keys for them,
// where there is room from x on.
func (s *lensScreen) views(a *App, c *canvas, x, right, base float64) {
	if a.d.Other.Camera == nil {
		return
	}
	join, keys := "add the other view", []button{}
	if _, two := a.otherView(); two {
		join = "another second camera"
		to := "set the other view"
		if s.second {
			to = "set the first view"
		}
		keys = append(keys, button{do: LookUp, word: to})
	}
	keys = append(keys, button{do: Join, word: join})
	wide := 0.0
	for _, k := range keys {
		wide += c.buttonWidth(k, c.body) + c.px(24)
	}
	at := max(right-wide+c.px(24), x)
	for _, k := range keys {
		if at+c.buttonWidth(k, c.body) > right+c.px(4) {
			return
		}
		at = c.button(at, base-math.Round(c.body*CapHeight/2), c.body, k, Ink) + c.px(24)
	}
}
