package app

// cautionDrawing draws what a caution is about, the i-th of Cautions, in a square.
func (c *canvas) cautionDrawing(i int, r Rect) {
	k := r.W / 100
	line := func(x1, y1, x2, y2, thick float64, role Role) {
		c.line(r.X+x1*k, r.Y+y1*k, r.X+x2*k, r.Y+y2*k, max(2, thick*k), role)
	}
	disc := func(x, y, radius float64, role Role) { c.disc(r.X+x*k, r.Y+y*k, radius*k, role) }
	ring := func(x, y, radius float64) {
		c.add(Item{Shape: Ring, Role: Edge, X: r.X + x*k, Y: r.Y + y*k, R: radius * k, Thick: max(2, 2.5*k)})
	}
	box := func(x, y, w, h float64, role Role) { c.fill(Rect{r.X + x*k, r.Y + y*k, w * k, h * k}, role, 0) }
	person := func(x, foot, tall float64, role Role) {
		disc(x, foot-tall*0.88, tall*0.12, role)
		line(x, foot-tall*0.68, x, foot-tall*0.42, tall*0.24, role)
		line(x-tall*0.07, foot-tall*0.42, x-tall*0.1, foot, tall*0.1, role)
		line(x+tall*0.07, foot-tall*0.42, x+tall*0.1, foot, tall*0.1, role)
	}
	crossed := func(x, y, size float64) {
		line(x-size, y-size, x+size, y+size, 5, Ink)
		line(x-size, y+size, x+size, y-size, 5, Ink)
	}
	switch i {
	case 0: // room: seen from above, the circle that the club sweeps
		ring(50, 50, 44)
		disc(44, 50, 11, Quiet)
		line(44, 50, 62, 50, 6, Quiet)
		line(62, 50, 90, 50, 3, Ink)
	case 1: // nobody near: somebody in the circle
		ring(40, 54, 36)
		disc(36, 54, 9, Quiet)
		line(36, 54, 66, 54, 3, Ink)
		person(76, 92, 62, Quiet)
		crossed(76, 60, 18)
	case 2: // the net, clear of the wall, and a ball
		box(88, 8, 6, 84, Edge)
		for n := range 6 {
			y := 14 + 14*float64(n)
			line(56, y, 74, y, 1.5, Quiet)
			if n < 4 {
				x := 56 + 6*float64(n)
				line(x, 14, x, 84, 1.5, Quiet)
			}
		}
		line(54, 10, 54, 92, 4, Ink)
		disc(18, 86, 6, Ink)
		line(26, 80, 44, 62, 2, Quiet)
	case 3: // laptop and camera outside the circle
		ring(34, 50, 30)
		disc(30, 50, 8, Quiet)
		line(30, 50, 58, 50, 3, Ink)
		box(74, 38, 22, 16, Ink)
		box(70, 56, 28, 4, Ink)
		disc(85, 30, 4, Ink)
	case 4: // no ball where the club swings forward first
		line(8, 86, 92, 86, 2, Edge)
		line(24, 16, 52, 80, 4, Ink)
		disc(54, 81, 6, Ink)
		disc(76, 80, 6, Quiet)
		crossed(76, 80, 12)
	case 5: // a light hold: two hands on a grip
		line(20, 12, 78, 92, 4, Ink)
		disc(38, 36, 13, Quiet)
		disc(50, 53, 13, Quiet)
		line(30, 34, 12, 48, 9, Quiet)
		line(44, 62, 26, 76, 9, Quiet)
	case 6: // warm up: arms up
		person(50, 94, 78, Quiet)
		line(46, 44, 22, 14, 8, Quiet)
		line(54, 44, 78, 14, 8, Quiet)
	case 7: // a child with an adult
		person(36, 94, 84, Quiet)
		person(70, 94, 52, Ink)
		line(44, 46, 66, 66, 7, Quiet)
	}
}
