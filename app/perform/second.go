package perform

import (
	"fmt"

	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
	"drillbay/drills"
	"drillbay/drills/read"
	"drillbay/drills/rep"
	"drillbay/drills/runner"
	"drillbay/drills/stage"
	"drillbay/drills/table"
)

// beside is the second camera of a session without a window: it sees the same
// drawn player from the other side, and its pictures come later.
type beside struct {
	bay  *virtual.Bay
	pool *frame.Pool
	ring *lookback.Ring
	view *read.SecondView
	next int // picture
}

// ahead is by how much, s, the second camera's pictures are there before the
// first's: nothing is waited for where a session runs faster than real time, and a
// reading needs the second's later ones.
const ahead = 0.5

func newBeside(s virtual.Setup) (*beside, error) {
	s = stage.OtherView(s)
	bay, err := virtual.New(s)
	if err != nil {
		return nil, err
	}
	known, err := stage.KnownOf(s)
	if err != nil {
		return nil, err
	}
	budget := lookback.Budget(s.Width, s.Height, s.FPS)
	b := &beside{bay: bay, pool: frame.NewPool(budget + 32*s.Width*s.Height*3/2), ring: lookback.NewRing(budget, lookback.Capacity(budget, s.Width, s.Height))}
	b.view = read.NewSecondView(b.ring, func(int, int) rep.Known { return known }, nil, nil)
	return b, nil
}

// see takes the second camera's pictures to the i-th, and those ahead; g is the first
// camera's latest glance.
func (b *beside) see(i int, g sight.Glance) error {
	if b == nil {
		return nil
	}
	for ; b.next < b.bay.Frames() && b.next <= i+int(ahead*b.bay.Setup().FPS); b.next++ {
		if err := b.take(b.next, g); err != nil {
			return err
		}
	}
	return nil
}

// take takes the second camera's i-th picture.
func (b *beside) take(i int, g sight.Glance) error {
	s := b.bay.Setup()
	p := b.pool.Get(s.Width, s.Height, frame.Sub420)
	if p == nil {
		return fmt.Errorf("no memory left for a picture of %d × %d", s.Width, s.Height)
	}
	defer p.Release()
	if err := b.bay.Draw(i, p); err != nil {
		return err
	}
	return b.ring.Add(p, runner.Still(g))
}

// tied says by how much its pictures come later.
func (b *beside) tied() string {
	lag, sigma, reps := b.view.Lag()
	if reps == 0 {
		return "No rep was seen by both cameras, so that it is not known how much later the second one's pictures come."
	}
	return fmt.Sprintf("The second camera's pictures come %.0f ms later, ± %.0f ms, by %s; drawn were %.0f ms.", 1000*lag, 1000*sigma, drills.Count(reps, "rep"), 1000*b.bay.Setup().Camera.Late)
}

// faceOn is a reading of a rep's body that came from the front.
func faceOn(r drills.Rep, p drills.BodyPart) string {
	x := r.Body[p]
	if !x.Known() || r.Views.Body[p] != drills.FaceOn {
		return "–"
	}
	return table.Depth(x)
}
