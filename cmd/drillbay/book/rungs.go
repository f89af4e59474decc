package book

import "drillbay/drills/runner"

// rung is one rung of the ladder with what is said about it.
type rung struct {
	drill runner.Drill
	how   string
	cause string
}

// ladder is the ladder that is practised, the first rung first.
func ladder() []rung {
	list := []rung{
		{runner.Drill{ID: "lead-arm-catch", Name: "Lead arm, swing and catch", Kind: runner.Catch, MovingStart: true, Beat: 60},
			"The lead arm alone swings the club forward a little, then back. The trail hand catches it when the shaft is level.",
			"The arm and the club learn the way without the trail hand steering."},
		{runner.Drill{ID: "both-hands-catch", Name: "Both hands, swing and catch", Kind: runner.Catch, MovingStart: true, Beat: 60},
			"Both hands on the club. A little forward, then back in one motion; stop it where the shaft is level.",
			"The same way with the grip of a real swing."},
		{runner.Drill{ID: "lead-arm-strike", Name: "Lead arm, catch, turn and chip", Kind: runner.CatchTurnStrike, MovingStart: true, Ball: true, Beat: 60},
			"Catch as before and look; then turn and let the lead arm chip a ball. On the way back the club passes clear above it.",
			"A caught position becomes a stroke."},
		{runner.Drill{ID: "both-hands-strike", Name: "Both hands, catch, turn and chip", Kind: runner.CatchTurnStrike, MovingStart: true, Ball: true, Beat: 60},
			"Both hands: catch, look, turn and chip. On the way back the club passes clear above the ball.",
			"The same with the grip of a real swing."},
		{runner.Drill{ID: "half-swings", Name: "Half swings from a moving start", Kind: runner.Ordinary, MovingStart: true, Ball: true, Beat: 60},
			"A moving start, back to half way and through, without a stop.",
			"The look goes; the way stays."},
		{runner.Drill{ID: "ordinary-swings", Name: "Ordinary swings", Kind: runner.Ordinary, Ball: true},
			"Whole swings at a ball from address.",
			"Whether it lasts where it counts."},
	}
	for i := range list {
		list[i].drill.Rung, list[i].drill.Rungs, list[i].drill.Reps = i+1, len(list), 10
	}
	return list
}

// Ladder are the drills of the ladder in their order.
func Ladder() []runner.Drill {
	var out []runner.Drill
	for _, r := range ladder() {
		out = append(out, r.drill)
	}
	return out
}
