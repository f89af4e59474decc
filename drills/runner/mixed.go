package runner

import (
	"math"

	"drillbay/camera/sight"
)

// coming is the drill of the rep of a number, from 1.
func (s *session) coming(number int) Drill {
	if len(s.mix) == 0 {
		return s.drill
	}
	return s.mix[(number-1)%len(s.mix)]
}

// turnTo changes to the drill of the rep to come, and says so. After a full
// set nothing comes until the next one is begun.
func (s *session) turnTo() {
	if len(s.mix) == 0 || s.setDone || s.full() {
		return
	}
	_, next := s.place()
	if s.drill == s.coming(next) {
		return
	}
	s.drill = s.coming(next)
	s.setBeat(s.drill.Beat)
	s.tell(Moment{Kind: DrillChanged})
}

// over turns to the next drill once a rep is over and was told, but not before
// a strike that follows its catch.
func (s *session) over() {
	if p := s.current; p != nil && p.drill.Kind == CatchTurnStrike && !math.IsNaN(p.span.Catch) {
		return
	}
	if s.waiting() == 0 && !s.holds {
		s.turnTo()
	}
}

// turnIn turns to the next drill when a phase says that the rep is over for
// certain.
func (s *session) turnIn(was sight.Phase) {
	switch {
	case len(s.mix) == 0 || !s.takes():
	case s.phase == sight.Away, s.phase == sight.Address, s.phase == sight.Settling && was == sight.Finish:
		s.turnTo()
	case s.full() && (s.phase == sight.Forward || s.phase == sight.Back):
		_, next := s.place()
		s.drill = s.coming(next) // the next set begins without an order
	}
}
