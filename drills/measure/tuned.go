package measure

// The numbers that were chosen so that reps are found and read well, each with its unit
// and what chose it. By hand means by trying alone; what half and double of them change
// was not tried. Definitions and sizes of tables stand where they are used.

// What is believed of a bay, and what is taken where nothing is told.
const (
	leastDistance, mostDistance = 1.0, 10.0   // m; by hand, wide about the 2 to 4 m that are right
	leastField, mostField       = 20.0, 140.0 // degrees; by hand, wide about what cameras have
	usualField                  = 68.0        // degrees, of a webcam, when neither is known (common practice)
	usualDistance               = 3.0         // m; the middle of what is right
)

// A known length on the ground.
const (
	groundEnd  = 0.0012 // px of a pixel of width: how well a point is pointed at; by hand
	tapeSigma  = 0.01   // of a length that is measured with a tape, share; by hand
	lensHeight = 0.02   // m: how well the height of a lens is measured; by hand
	anyField   = 0.15   // how far the usual field of view is off, share of the focal length; by hand
	// The hands are beside the ball along the target line, a little ahead at
	// most (common practice), m.
	handsByBall, handsSpread = 0.02, 0.05
)

// What is looked at, and how often.
const (
	keep       = 8.5      // s of a clip that are held for the full pass; a rep and what leads to it
	watchStep  = 1 / 20.0 // s between two looks of the live pass at a clip, where nobody waits; by hand
	longestRep = 6.5      // s after address for which a rep is waited for; by hand
	// How densely pictures are looked at, s: where the club rests, where it moves, and
	// shortly before it is caught or strikes. By what a rep may take to be read; at more
	// than 60 a second the eye's errors are the same ones.
	restingStep, movingStep, stoppingStep = 1 / 16.0, 1 / 64.0, 1 / 128.0
	aheadOfCatch                          = 0.3      // s before a catch that are looked at most densely; by hand
	heldFor                               = 0.9      // s of a hold that are looked at; by hand
	motionStep                            = 1 / 45.0 // s at least between a picture and the one it is compared with, as the eye was taught
	// The whole player is looked at so often, s, where he moves and where he rests.
	// Between them the body is where these lead, and the eye's errors of it would be the
	// same ones; hands and club are looked at in each picture.
	wholeMoving, wholeResting = 1 / 11.0, 1 / 4.0
	present                   = 0.5 // chance from which hands and head are taken as seen; even odds
	told                      = 0.2 // chance of being in the picture from which a point is written; by hand
)

// What is a rep.
const (
	sameStart = 0.35 // s within which two starts are one; by hand
	// Hands farther in or out than this are not at the end of a backswing: the player
	// bends down to the ball, say. cm; by hand, beyond the 15 cm of hands that are drawn in
	// badly (common practice).
	farthest = 25.0
	// A club caught lower or higher than this, or this far beside the target line, is not
	// caught in a backswing, degrees. By hand, wide about the reps of
	// TestOnlyACatchNearTheEndOfABackswingIsOne, whose bounds are common practice.
	lowest, highest, aside = -28.0, 50.0, 38.0
	// The mean error of the eye in a swing that passes level, degrees outside: it sees the
	// blurred head about 1 cm to the toe's side of the shaft's axis. In 65 drawn swings
	// the shaft line was 0.9° too far outside, standard error 0.2°, at 30 and at 60 frames
	// a second alike; in five of rendered people and of another renderer 1.6°.
	passing = 0.8
)

// Two clips that are laid on each other, by motion and by strikes.
const (
	pulseStep = 1 / 30.0 // s between two looks; by hand
	pulseRate = 120.0    // a second, of the even clock on which pulses are compared; by hand
	// Two clips must share so much time, s, and move alike by so much, and no
	// other offset farther than apartBy, s, may be nearly as good. By hand.
	leastShared, leastAlike = 2.0, 0.35
	apartBy, clearBy        = 0.4, 0.04
	fastest                 = 12.0 // sizes of the player a second: faster is a look that is wrong; by hand
	// Strikes that are heard in both clips lie this near together at most once the
	// clips are laid on each other, s: sound takes 3 ms a metre to either microphone.
	sameStrike  = 0.02
	otherOffset = 0.06 // s: another offset must be farther away than this to be another; by hand
	// How well the beginning of a strike is placed, and how much farther from the ball
	// one microphone stands than the other, as time, s (1 sigma): 2 m.
	strikeSigma, waySigma = 0.002, 0.006
)

// Two cameras that are tied together.
const (
	tieShared, tieAlike = 0.7, 0.9 // s that two swings must share, and their least correlation; by hand
	tieStep             = 1 / 120.0
	// A time without a look, s, that is bridged; a longer one where the club rests
	// within so many degrees. By hand.
	tieGap, tieRests = 0.12, 4.0
	tieKept          = 15 // reps; by hand
	// The least 1-sigma uncertainty of a tie, s: pictures last for a while; and that
	// of single reps, by drawn bays.
	tieFloor, tieSingle = 0.003, 0.01
)
