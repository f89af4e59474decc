package measure

import (
	"drillbay/camera/eye"
	"drillbay/camera/frame"
	"drillbay/camera/sight"
)

// Watch is the live pass over pictures: the eye finds and follows the player,
// and the lookout tells what he does. One goroutine uses it at a time.
type Watch struct {
	eye     *eye.Eye
	finder  eye.Finder
	lookout *sight.Lookout
	before  *frame.Picture
	left    bool
	recall  *Recall
}

// NewWatch returns a live pass for a setting. What it sees is kept in a Recall,
// in place of what was there, where one is given.
func NewWatch(s sight.Setting, r *Recall) (*Watch, error) {
	net, err := eye.Taught()
	if err != nil {
		return nil, err
	}
	r.forget()
	return &Watch{eye: net.NewEye(), lookout: sight.NewLookout(s), left: s.View.Left, recall: r}, nil
}

// See looks at the next picture.
func (w *Watch) See(p *frame.Picture) (sight.Glance, sight.Look) {
	s, ok := w.finder.Follow(w.eye, p, w.before, nil, w.left)
	if w.before != nil {
		w.before.Release()
	}
	w.before = p.Retain()
	w.recall.keep(p.Seconds(), s, ok)
	l := sight.Look{At: p.Seconds()}
	if ok {
		l.Places = s.Places
	}
	return w.lookout.See(l), l
}

// Close gives the last picture back.
func (w *Watch) Close() {
	if w.before != nil {
		w.before.Release()
		w.before = nil
	}
}
