package report

import (
	"fmt"
	"math"
	"slices"
	"time"

	"drillbay/drills"
)

// Charts are drawn in a space 360 wide that scales with the page.
const (
	chartWidth = 360.0
	marginLeft = 40.0
	marginEnd  = 12.0
)

// tick is a label on an axis.
type tick struct {
	At   float64
	Text string
}

// shares is the chart of the share that counts: sessions from left to right.
type shares struct {
	Width, Height, Left, Right, Top, Bottom float64
	Across                                  []tick // dates
	Up                                      []tick // per cent
	Practice, Later                         []bar
}

// bar is a share with its interval.
type bar struct {
	X, Y, Low, High float64
	Diamond         string // a path about it
	Title           string
}

func sharesOf(p Page) shares {
	c := shares{Width: chartWidth, Height: 220, Left: marginLeft, Right: chartWidth - marginEnd, Top: 12, Bottom: 188}
	for _, v := range []float64{0, 25, 50, 75, 100} {
		c.Up = append(c.Up, tick{c.y(v / 100), fmt.Sprintf("%.0f %%", v)})
	}
	days := dates(p)
	if len(days) == 0 {
		return c
	}
	step := (c.Right - c.Left) / float64(len(days))
	x := func(t time.Time) float64 {
		return c.Left + step*(float64(slices.Index(days, day(t)))+0.5)
	}
	every := int(math.Ceil(46 / step)) // so that dates do not touch
	for i, d := range days {
		if i%every == 0 {
			c.Across = append(c.Across, tick{x(d), d.Format("2 Jan")})
		}
	}
	aside := min(step/5, 5)
	for _, s := range p.Practice {
		c.Practice = append(c.Practice, c.bar(s, x(s.Date)-aside))
	}
	for _, s := range p.Later {
		c.Later = append(c.Later, c.bar(s, x(s.Date)+aside))
	}
	return c
}

func (c shares) y(share float64) float64 { return c.Bottom - share*(c.Bottom-c.Top) }

func (c shares) bar(s Session, x float64) bar {
	low, high := s.Share.Bounds()
	y := c.y(s.Share.Value())
	return bar{X: x, Y: y, Diamond: fmt.Sprintf("M%.1f %.1fl6 6l-6 6l-6-6z", x, y-6), Low: c.y(low), High: c.y(high),
		Title: fmt.Sprintf("%s: %s, %s", s.Date.Format("2 Jan"), s.Share, bounds(s.Share))}
}

// lines is the chart of shaft lines: one row a session, newest at the bottom,
// inside on the side where the player stands in the picture.
type lines struct {
	Width, Height, Left, Right, Bottom float64
	Across                             []tick
	Top, BandFrom, BandWide, BandHigh  float64
	InsideAt, OutsideAt                float64
	InsideAnchor, OutsideAnchor        string
	Rows                               []rowOf
}

type rowOf struct {
	Y, From, To, Middle float64
	Date, Title         string
	Later               bool
}

const rowHigh = 18.0

func linesOf(p Page) lines {
	c := lines{Width: chartWidth, Left: 56, Right: chartWidth - marginEnd}
	type one struct {
		Session
		later bool
	}
	var all []one
	for _, s := range p.Practice {
		all = append(all, one{s, false})
	}
	for _, s := range p.Later {
		all = append(all, one{s, true})
	}
	all = slices.DeleteFunc(all, func(o one) bool { return math.IsNaN(o.Middle) })
	slices.SortStableFunc(all, func(a, b one) int { return a.Date.Compare(b.Date) })
	const most = 24 // rows: the newest
	all = all[max(0, len(all)-most):]
	reach := 15.0
	for _, o := range all {
		reach = max(reach, math.Abs(o.Low), math.Abs(o.High))
	}
	reach = min(5*math.Ceil(reach/5), 45)
	inside := -1.0 // to the left
	if p.Hand == drills.Left {
		inside = 1
	}
	middle, scale := (c.Left+c.Right)/2, (c.Right-c.Left)/2/reach
	x := func(degrees float64) float64 {
		return middle + inside*min(max(degrees, -reach), reach)*scale
	}
	a, b := x(p.Band), x(-p.Band)
	c.BandFrom, c.BandWide = min(a, b), math.Abs(a-b)
	step := 5.0
	if reach > 15 {
		step = 10
	}
	for v := -step * math.Floor(reach/step); v <= reach; v += step {
		c.Across = append(c.Across, tick{x(v), fmt.Sprintf("%.0f°", math.Abs(v))})
	}
	c.InsideAt, c.OutsideAt, c.InsideAnchor, c.OutsideAnchor = c.Left, c.Right, "start", "end"
	if inside > 0 {
		c.InsideAt, c.OutsideAt, c.InsideAnchor, c.OutsideAnchor = c.Right, c.Left, "end", "start"
	}
	for i, o := range all {
		from, to := x(o.Low), x(o.High)
		c.Rows = append(c.Rows, rowOf{Y: 30 + rowHigh*float64(i), From: min(from, to), To: max(from, to), Middle: x(o.Middle), Date: o.Date.Format("2 Jan"), Later: o.later,
			Title: fmt.Sprintf("%s: %s in the middle", o.Date.Format("2 Jan"), side(o.Middle))})
	}
	c.Bottom = 30 + rowHigh*float64(len(c.Rows)) - 4
	c.Height, c.Top = c.Bottom+22, 16
	c.BandHigh = c.Bottom - c.Top
	return c
}

// dates are the days with sessions, in order.
func dates(p Page) (out []time.Time) {
	for _, s := range slices.Concat(p.Practice, p.Later) {
		out = append(out, day(s.Date))
	}
	slices.SortFunc(out, time.Time.Compare)
	return slices.CompactFunc(out, time.Time.Equal)
}

func day(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, t.Location())
}
