package app

import "math"

// bob draws the metronome's beat as motion: between two posts, at a post on
// every beat. On whole swings it goes left in three parts and right in one.
func (a *App) bob(c *canvas, y float64) {
	beat := a.d.Snapshot().Beat
	post, tall := c.px(8), c.px(44)
	l, r := c.px(38), c.Width-c.px(38)
	if !beat.On || beat.Rate <= 0 {
		return
	}
	c.fill(Rect{l + post, y - math.Round(1.5*c.k), r - l - 2*post, max(2, math.Round(3*c.k))}, Edge, 0)
	c.fill(Rect{l, y - tall/2, post, tall}, Ink, 0)
	c.fill(Rect{r - post, y - tall/2, post, tall}, Ink, 0)
	share := swingShare((a.now-beat.Zero)*beat.Rate/60, beat.Whole)
	if a.setup.Still {
		share = math.Round(share)
		c.again(1.0 / 15)
	} else {
		c.again(1.0 / 30)
	}
	radius := c.px(20)
	from, to := l+post+radius, r-post-radius
	c.disc(to-(to-from)*share, y, radius, Ink)
}

// swingShare returns the place of the bob after so many beats: 0 at the right post, 1 at
// the left one.
func swingShare(beats float64, whole bool) float64 {
	if math.IsNaN(beats) || math.IsInf(beats, 0) {
		return 0
	}
	if whole {
		// Four beats a swing: three back, one down.
		t := beats - 4*math.Floor(beats/4)
		if t < 3 {
			return eased(t / 3)
		}
		return 1 - eased(t-3)
	}
	t := beats - 2*math.Floor(beats/2)
	if t > 1 {
		t = 2 - t
	}
	return eased(t)
}

// eased slows the bob down at the posts, like anything that swings.
func eased(t float64) float64 { return (1 - math.Cos(math.Pi*t)) / 2 }
