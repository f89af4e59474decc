package runner

import (
	"fmt"

	"drillbay/camera/sight"
)

// cue says what to do now, in at most 18 letters: so many fit on one line that is read
// from the mat.
func cue(s *Snapshot) string {
	switch {
	case s.Session == "":
		return "Choose a drill"
	case !s.Ready:
		return "Read the cautions"
	case s.Paused:
		return "Paused"
	case signalLost(s.Notices):
		return "No picture"
	case s.SetDone && judged(s.Reps) == 0:
		return "Set done"
	case s.SetDone: // until a rep of the next set is caught
		return fmt.Sprintf("%d of %d counted", counted(s.Reps), judged(s.Reps))
	}
	if s.SetFull && s.Waiting > 0 && (s.Phase == sight.Away || s.Phase == sight.Settling || s.Phase == sight.Address) {
		return fmt.Sprintf("%d still to read", s.Waiting)
	}
	switch s.Phase {
	case sight.Away:
		return "Step in when ready"
	case sight.Settling:
		return "Set up, hold still"
	case sight.Address:
		if s.Drill.MovingStart {
			return "Swing it forward"
		}
		return "Swing it back"
	case sight.Forward:
		return "And back"
	case sight.Back:
		if s.Drill.Kind == Ordinary {
			return "Swing"
		}
		return "Catch it"
	case sight.Hold:
		if s.Drill.Kind == CatchTurnStrike {
			return "Look, then turn"
		}
		return "Hold and look"
	case sight.Finish:
		return "Hold the finish"
	}
	return ""
}

func signalLost(notices []Notice) bool {
	for _, n := range notices {
		if n.Key == NoPicture {
			return true
		}
	}
	return false
}
