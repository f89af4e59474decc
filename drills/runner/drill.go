// Package runner runs a session: it takes pictures with what was seen in
// them, sounds and commands, has each rep read and stored, and then tells it.
// It knows no window and no device, and it never waits for any of them.
package runner

import "drillbay/drills"

// Kind says how a rep of a drill goes; the phases follow from it.
type Kind uint8

const (
	// Catch: swung back and caught. Verdict and lookback come while the
	// catch is still held.
	Catch Kind = iota
	// CatchTurnStrike: caught, looked at, turned and struck. The verdict
	// comes at the catch, the lookback after the finish.
	CatchTurnStrike
	// Ordinary: a swing without a stop; all comes after the finish.
	Ordinary
)

// Drill holds what the runner needs to know of a drill.
type Drill struct {
	ID          string
	Name        string // "Lead arm, swing and catch"
	Rung, Rungs int    // 3 of 8; 0 when not on the ladder
	Kind        Kind
	MovingStart bool           // the club swings forward first
	Ball        bool           // a ball is struck
	LeadArm     bool           // the lead arm holds the club alone
	Reps        int            // in a set; 0: no end
	Beat        float64        // beats a minute, 0: no metronome
	Band        float64        // degrees each way, 0: drills.Band
	Watched     drills.Watched // of the body, beside the shaft line
	Later       bool           // a test on a later day: no verdict is told
	Mixed       string         // id of the mixed practice that its reps are part of, "" in a set of one drill
}

// Width is the drill's band in degrees each way.
func (d Drill) Width() float64 {
	if d.Band > 0 {
		return d.Band
	}
	return drills.Band
}

// Player is the player who practises.
type Player struct {
	ID, Name string
	Hand     drills.Hand
}
