package rep

// The numbers that were chosen so that reps are read well, each with its unit and what
// chose it. Of those that were chosen by hand it is said which tests of this package fail
// at half and at double of them. What the network's features are made of stands with
// them: it belongs to its weights.

// What is a rep.
const (
	// The time from the turn-round to a catch that is believed, s. By hand: half and
	// double of either fail TestARepFromTheFrontTellsWhatIsSeenThere, half of the longer
	// one TestMannerIsToldWhateverTheTempo too.
	shortest, longest = 0.28, 2.7
	// The times of an ordinary swing that are believed, back to the top and down to the
	// strike, s. By hand, wide about what players take (common practice: about 0.75 to 1
	// s back, a third of it down). Double of the least back fails
	// TestTheHandsHeightAtTheTop, half of the most
	// TestASwingIsReadWhereItsHeadWasSeenAboutLevel and TestTheTrackOfASwingDoesNotBend;
	// no test notices the others.
	quickBack, slowBack = 0.4, 1.7
	quickDown, slowDown = 0.12, 0.65
)

// Where a rep is read.
const (
	// A club that is held this little above level was level when it was caught: what is
	// between is within what the hold is read to, degrees. By hand; no test notices half
	// or double.
	asLevel = 3.0
	// A swing is read at level only where the head of the club was seen so often
	// within so many degrees of it, and so often on the way there and on: at 30
	// frames a second a club turns 10 to 15 degrees from one to the next. How sure a
	// reading of so few looks is, its sigma tells: of 36 drawn swings, 24 of them at
	// 30 frames a second, the errors were 0.8 of what it says.
	seenAtLevel, nearLevel = 1, 20.0 // looks, degrees
	seenAbout, aboutLevel  = 3, 45.0 // looks, degrees
	// A placed club comes to rest at most so long before or after the moment that its last
	// movement seen points to, s. By hand.
	latest = 0.4
	// No swing's plane lies flatter than 45° to the ground (common practice: 45 to
	// 65); where the track's does, something else was taken for the head. Its
	// cotangent.
	flattest = 1.0
)

// How a swing is told from a placement by its arc over time; sight.Times has
// the other sign, how its last part ends. A swing is stopped: that part
// takes little of its time. A placement stops by itself: a minimum-jerk
// movement (Flash & Hogan 1985) takes 0.28 of its time for the last 14 % of
// the way. A placement in moves dwells on the way.
const (
	lastPart  = 0.14 // share of the way
	dwellPart = 0.06 // share of the way
	// The even clock on which a club's speed is taken, a second. By hand: half fails
	// TestTheSmoothnessFromTheFront and TestTheSpeedOfTheClub, double the latter.
	speedRate = 60.0
	// For so long before the catch looks are counted, s: a feature of the network, which
	// was taught with it.
	lastLooks = 0.15
	// A feature counts as this many of its spreads off its mean at most: beyond it nothing
	// was taught. By hand; no test notices half or double.
	farthest = 3.5
	// From these log odds on a manner is told; nearer to even it is unsure. Of 2200 reps of
	// every course in like numbers that were kept out of learning, 0.2 % are wrong and 9 %
	// unsure where the eye errs as usual, 0.2 and 23 % where it errs much; from 3 on 0.1 and
	// 0.05 % would be wrong, 13 and 29 % unsure. Of 147 drawn catches with the eye itself 4 %
	// are unsure, 7 % from 3 on, and one is wrong with either.
	sure = 2.5
)

// What the ways to a catch look like face-on, measured on drawn and rendered reps: the
// middle between placed and swung, and by how much reps of one manner differ.
const (
	endingMiddle, endingSpread = 0.495, 0.05  // of sight.Times's Ending
	lastMiddle, lastSpread     = 0.215, 0.035 // of lastShare
	peakMiddle, peakSpread     = 0.58, 0.21   // share of the time at which the club is fastest
	// In sums of these spreads, + placed: what is nearer to the middle is unsure. By
	// hand; no test of the package notices half or double.
	surely = 1.3
	// Nobody swings back for longer than this (common practice), s.
	longSwing = 1.35
	// A pause on the way is one from so long, s. By hand; no test of the package notices
	// half or double.
	pause = 0.15
)
