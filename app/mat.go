package app

// Mat draws the view for the player on the mat, on a screen of its own and whatever the
// coach looks at: the cautions, the list that the player ticks, practice and its lookback;
// between sessions whose turn it is. It is drawn by the goroutine that steps the program,
// after a step, and changes nothing.
type Mat struct {
	of   *App
	view View
}

// Mat shows the program as the mat sees it.
func (a *App) Mat() *Mat { return &Mat{of: a} }

// View returns the view to draw now (s) on a screen of a size and diagonal in px. It is
// valid until the next call, and so are its pictures.
func (m *Mat) View(width, height, diagonal, now float64) *View {
	m.view.Release()
	a := *m.of // the same session, book and settings, and a view of its own
	a.view, a.now, a.diag = m.view, now, max(diagonal, 1)
	a.view.Width, a.view.Height = max(width, 1), max(height, 1)
	c := a.canvas()
	c.keyless = true
	s := a.seenFromMat()
	a.view.Screen = s.name()
	s.draw(&a, c)
	m.view = a.view
	return &m.view
}

// Release gives the pictures back.
func (m *Mat) Release() { m.view.Release() }

// seenFromMat is the screen that the player looks at.
func (a *App) seenFromMat() screen {
	for i := len(a.stack) - 1; i >= 0; i-- {
		switch s := a.stack[i].(type) {
		case *practiceScreen, *cautionScreen, *checkScreen:
			return s
		}
	}
	return &turnScreen{}
}

// turnScreen tells the mat whose turn it is while nobody practises.
type turnScreen struct{}

func (*turnScreen) name() string      { return "turn" }
func (*turnScreen) act(*App, Do, int) {}
func (*turnScreen) draw(a *App, c *canvas) {
	sheet, ok := a.d.Book.Clinic()
	c.again(1)
	if !ok || sheet.Up == "" {
		c.head("drillbay", nil)
		c.bar("Ready")
		return
	}
	c.head("Clinic", []string{sheet.Group})
	bar := c.bar(c.calling(sheet.Up))
	(&clinicScreen{}).drawTurn(c, Rect{c.margin, c.headHeight() + c.px(8), c.Width - 2*c.margin, bar - c.headHeight() - c.px(8)}, sheet)
}
