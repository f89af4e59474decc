package sight

// The numbers that were chosen so that what was seen over time is understood well, each
// with its unit and what chose it. Where that was trying alone it says "by hand", and
// which of this package's tests fail at half and at double of the number: those on looks,
// or those on drawn pictures for what is seen in pictures; where it does not say so, that
// was not tried. Numbers that follow from others and sizes of tables stand where they are
// used.

// What the eye says of a point counts from this chance that it is there. What
// is hidden is less sure.
const (
	// By hand; no test notices half or double.
	leastHere = 0.4
	// Pictures of another kind are seen less surely than the eye says.
	// By hand; half fails TestTheTrackAtAnyFrameRateAndDistance, double
	// TestTheTrackAtAnyFrameRateAndDistance and 2 more.
	unknown = 2.0
	// The eye's own errors that it does not know of, m at the point's distance
	// and px; they are added to its covariance.
	// By hand; floorMetres and floorPixels: no test notices half or double.
	floorMetres, floorPixels = 0.005, 0.7
)

// How the looks of a rep are joined, and how sure of the club the eye is.
const (
	// How much of the eye's error stays the same while the club is still, as a share of
	// its variance: looking again does not take it away. Measured on drawn and rendered
	// reps.
	lasts = 0.85
	// The looks so near the end of address, and the beginning of the hold, keep
	// nodes of their own, s: the club may move already, or still. By hand.
	leaving  = 0.2
	goes     = 0.1 // and in the last part of address it may move already; by hand
	arriving = 0.04
	// How long a part of the eye's error lasts while the club moves, s. Measured on drawn
	// and rendered reps.
	afresh = 1 / 15.0
	// A club that points to the lens or away from it looks shorter than this share
	// of its reach. While it moves its head is then so many times less sure, in
	// squares, than it seems: the eye takes hands, trousers and blur for it. In a
	// catch, the hold tells. By hand.
	looksShort, endOn = 0.5, 4.0
	// How far to one side of the shaft's axis the eye may have a head all through
	// a hold, m (1 sigma): looking again does not take it away, and the eye does not know of
	// it. Heads of a kind that it never saw lie up to 2 cm aside. By hand, between what drawn
	// bays and another renderer want: with distance, target point, roll and field told as
	// wrongly as users do, 72 and 94 % of the shaft lines of 139 drawn holds lie within one
	// and two sigmas without it, 77 and 97 % with it; of 15 holds and two swings of the other
	// renderer 55 and 84 %, 57 and 86 %.
	aside = 0.007
)

// What the live pass takes the player to be doing (lookout.go).
const (
	// By hand; no test notices half or double.
	memory = 9.0 // s
	// By hand; half fails TestASwingMayLeaveThePicture, double no test.
	lost = 0.7 // s without a player until he is away
	// By hand; no test notices half or double.
	addressFor = 0.3 // s of rest that make an address
	// By hand; no test notices half or double.
	repWithin = 4.5 // s after address in which a rep ends
	// By hand; no test notices half or double.
	strikes = 0.7 // s from above the hands to where a swing is known to be over
	// By hand; no test notices half or double.
	settles = 0.4 // s more
	// Above the hands, as a share of the reach: the club of a whole swing is,
	// and that of a catch is not.
	// By hand; no test notices half or double.
	isHigh = 0.5
	// By hand; half fails no test, double TestABodyThatIsSeenRight and 12 more.
	isDown = 0.6
	// By hand; half fails no test, double TestAGlanceAllocatesNothing and 5 more.
	asLow = 0.8 // of what it was at the address before
	// By hand; half fails no test, double TestTheLookoutFindsRepsFromLooksThatAreOff.
	leans = 0.2 // from behind, the head is to the ball's side of the hands
	// Hands of a whole swing rise by so much, m.
	// By hand; no test notices half or double.
	handsHigh = 0.4
	// Hands that are lost on the way back after rising by so much, m, went on up.
	// By hand; half fails no test, double TestASwingMayLeaveThePicture.
	handsRising = 0.25
	// In a forward swing hands rise less than this, m.
	// By hand; half fails TestTheLookoutFollowsARep, double no test.
	forwardRise = 0.12
	// The neck is where it was at address in a hold, within this, m.
	// By hand; no test notices half or double.
	bent = 0.16
	// A pause is elsewhere by so much, m, and shorter, s.
	// By hand; pauses and pauseFor: no test notices half or double.
	pauses, pauseFor = 0.035, 1.0
	// A club that looks longer than this share of the reach, and has not passed
	// the ball again, is held only when it rests for turnRest, s. Before soonTurn
	// after address, s, a rest must last longer too.
	// By hand; looksLong and turnRest: no test notices half or double; soonTurn: half fails no
	// test, double TestTheLookoutFollowsARep.
	looksLong, turnRest, soonTurn = 0.35, 0.6, 0.75
	// For so long, s, hands or head may be seen elsewhere in a hold.
	// By hand; handsLost and headLost: no test notices half or double.
	handsLost, headLost = 0.06, 0.16
	// restLooks is how many looks are searched for a rest.
	// By hand.
	restLooks = 60
)

// When hands and head rest (rest.go).
const (
	// By hand; half fails no test, double TestTheLookoutFollowsARep.
	shortestRest = 0.15 // s
	// By hand; half fails TestTheTrackAtAnyFrameRateAndDistance, double no test.
	halfRest = 0.1 // s before and after a time that are compared
	// By hand; half fails TestTheLookoutFindsRepsFromLooksThatAreOff, double no test.
	longestHalf = 0.2 // s, where looks are seldom
	// Wrong looks in a rest last at most so long, s.
	// By hand; no test notices half or double.
	longestGap = 0.35
	// By so much hands and head may have moved from the one to the other, m,
	// beside what the eye may be off.
	// By hand; no test notices half or double.
	restWithin = 0.02
	// While a club is held, hands stay within heldWithin, m, and a head that is
	// seen elsewhere by more than hopsTo is not seen there for long.
	// By hand; heldWithin and hopsTo: no test notices half or double.
	heldWithin, hopsTo = 0.035, 0.10
)

// A joint that somebody puts right (again.go).
const (
	// putSigma is how well somebody puts a joint that lies under clothes by a tap on a
	// picture that stands still, m each way (1 sigma; from memory).
	putSigma = 0.02
)

// The mode of many looks (together.go).
const (
	// mostTried is how many places at most are tried for the mode.
	// By hand.
	mostTried = 24
)

// How somebody stands (stand.go).
const (
	// leastSure is the chance from which a point of the body is taken for seen: no
	// reading rather than one of a joint that is hidden.
	// By hand; half and double fail TestABodyThatIsSeenRight.
	leastSure = 0.5
)

// What is known of a swing beside the looks.
const (
	// A motion's speed changes by its own size in 1/changes of a second, and
	// does so for lasting seconds; it is never calmer than that of still hands.
	// By hand; changes: half fails TestTheTrackCorrectsWhatItIsToldUnsurely, double no test;
	// lasting: half fails TestTheTrackCorrectsWhatItIsToldUnsurely, double
	// TestTheTrackAtAnyFrameRateAndDistance.
	changes, lasting = 8.0, 0.1
	// Nothing stops a whole swing on its way: its club turns more evenly, and its hands
	// must not be smoothed, or they seem to come less far toward the lens than they do.
	// By hand; swingTurns and swingMoves: no test notices half or double.
	swingTurns, swingMoves = 6.0, 14.0
	// By hand; calmTurn: half fails no test, double TestTheTrackAtAnyFrameRateAndDistance;
	// calmHands: no test notices half or double.
	calmTurn, calmHands = 0.8, 0.2 // rad/s, m/s
	// By hand; no test notices half or double.
	smoothFreedom = 4.0
	// By hand; half fails TestTheTrackReadsRepsFromLooksThatAreOff, double
	// TestTheTrackAtAnyFrameRateAndDistance.
	speedOver = 0.035 // s each way
	// By hand; half fails no test, double TestTheTrackAtAnyFrameRateAndDistance.
	stillSigma             = 0.02        // of the shaft toward the target, from what it was, while it leaves
	leanAddress, leanSigma = -0.05, 0.07 // of the shaft toward the target at address (common practice)
	// Hands go with the club: so many metres toward the lens where it points
	// there; in the backswing they hang on arms of ArmRadius besides.
	// By hand; goesWith: half fails no test, double TestTheTrackAtAnyFrameRateAndDistance and
	// 1 more; goesSigma and highSigma: no test notices half or double.
	goesWith, goesSigma, highSigma = 0.36, 0.06, 0.30
	// By hand; arcSigma and riseSigma: half fails TestTheTrackAtAnyFrameRateAndDistance,
	// double no test.
	arcSigma, riseSigma = 0.10, 0.025 // share of the way, m
	// From the hands at address to the middle of the shoulders toward the
	// target, from there to either shoulder, m, and how sure the two make the
	// lead shoulder's place toward the target.
	// By hand; shoulders and halfShoulders: no test notices half or double.
	shoulders, halfShoulders = -0.02, 0.19
	// By hand; no test notices half or double.
	shoulderSigma = 0.05
	// The lead arm, shoulder to grip: 0.377 of a stature of 1.5 to 2.0 m
	// (Drillis & Contini 1966, in Winter, fig. 4.1).
	usualArm, armSigma = 0.65, 0.06
	// In so many seconds of motion a prior says the same thing once.
	// By hand; half fails TestTheTrackAtAnyFrameRateAndDistance, double no test.
	sayOnce = 0.5
)

// What the points of the club may be off (rod.go).
const (
	// What the points of the shaft may be off along it, m: an overlapping hand
	// hides the other, hosels differ.
	// By hand; alongGrip and alongHands and alongEnd and alongHead: no test notices half or
	// double.
	alongGrip, alongHands, alongEnd, alongHead = 0.02, 0.012, 0.02, 0.006
	// How far the shaft's lower end lies above the sole (common practice), m.
	hosel = 0.05
	// Student's t of the looks: outliers of a look count little.
	freedom = 4.0
)

// Which way a club points (root.go).
const (
	// By hand; no test notices half or double.
	mostOdds = 12.0 // what one look can say against a way, in squares of sigmas
	// By hand; no test notices half or double.
	usualOdds = 2.0 // what it says by chance
	// By hand; no test notices half or double.
	usualTurn = 15.0 // rad/s, of which a sigma is counted
	// What hands and head together make wrong of a shaft that is seen square
	// on, rad, and the least share of it that points to the lens by which its
	// errors that way grow.
	// By hand; squareOn and leastToward: no test notices half or double.
	squareOn, leastToward = 0.03, 0.2
)

// How a track is fitted (solve.go).
const (
	// By hand.
	rounds = 14
	// A round moves hands and shaft by so much at most, m and rad.
	// By hand; farHands and farTurn: no test notices half or double.
	farHands, farTurn = 0.25, 0.4
)

// What counts as evidence of level (level.go).
const (
	// believed is the weight from which a look counts as evidence.
	// By hand; no test notices half or double.
	believed = 0.6
)

// What is a swing back (arc.go).
const (
	// What looks like a swing back is one forward when the arc falls again by foldedBy
	// at least, to foldedTo or less, and then rises by goesBack; degrees.
	// By hand; foldedBy: half fails no test, double TestTheTrackAtAnyFrameRateAndDistance;
	// foldedTo: half fails TestTheTrackAtAnyFrameRateAndDistance, double no test; goesBack:
	// half fails no test, double TestTheTrackAtAnyFrameRateAndDistance.
	foldedBy, foldedTo, goesBack = 20.0, 45.0, 30.0
)

// Which of two tracks it is (fork.go).
const (
	// By hand; no test notices half or double.
	wrongHold = 60.0 // against a held club that points to the target
	// By hand; no test notices half or double.
	wrongSide = 8.0 // against one that is on the other side of the ball
	// A head that was awayFrom m from address passes it again within passing m.
	// By hand; awayFrom and passing: no test notices half or double.
	awayFrom, passing = 0.22, 0.16
	// Against a club that points to the target and is higher than a moving
	// start takes it.
	// By hand; wrongForward and highForward: no test notices half or double.
	wrongForward, highForward = 6.0, -0.45
	// Nor does a club that is about level point farther aside, as the sine.
	// By hand; nearLevel and mostAside: no test notices half or double.
	nearLevel, mostAside = 0.5, 0.72
	// By hand; no test notices half or double.
	turnSigma = 0.5 // of the sine of the shoulders' turn
	// By hand; no test notices half or double.
	sparsely = 0.03 // s between the looks that decide
)

// When a rep began, turned and was caught (times.go).
const (
	// Hands that stop a club take so long for it (common practice), s.
	give = 0.032
	// A rep has begun when the head passes this share of its fastest.
	// By hand; half and double fail TestTheTrackReadsRepsFromLooksThatAreOff.
	begun = 0.05
	// A turn-round is one from this many degrees ahead of address.
	// By hand; no test notices half or double.
	forwardArc = 12.0
	// Between these the way from a rest is told from what the eye is off, m
	// and degrees.
	// By hand; nearWay: half fails TestTheTrackReadsRepsFromLooksThatAreOff, double
	// TestTheTrackAtAnyFrameRateAndDistance; farWay: no test notices half or double.
	nearWay, farWay = 0.03, 0.30
	// By hand; no test notices half or double.
	nearLeave = 0.07
	// By hand; no test notices half or double.
	nearArc = 4.0
	// A head has left address once it is seen so far from there, m; as far as this
	// it tells when it began.
	// By hand; seenLeave: half fails no test, double TestTheTrackReadsRepsFromLooksThatAreOff;
	// farStart: half fails no test, double TestTheTrackAtAnyFrameRateAndDistance and 1 more.
	seenLeave, farStart = 0.015, 0.25
	// As far as such a share of the whole movement tells when it began or ended.
	// By hand; farLeave and farTurning: no test notices half or double; farRest: half fails no
	// test, double TestTheTrackAtAnyFrameRateAndDistance.
	farLeave, farTurning, farRest = 0.5, 0.4, 0.5
	// The parts of the way that are compared to tell how the club came to rest,
	// and the share of their times from which it did so by itself: 0.66 is that
	// of a movement of least jerk, 0.35 that of an even one.
	lastWay, midWay, firstWay = 0.05, 0.14, 0.40
	runsOut                   = 0.53
	// For so long before the hold the head of the club is to be seen mostly, to
	// tell how it came there, s.
	// By hand; no test notices half or double.
	lastLooks = 0.15
	// A pause is slower than this share of the fastest.
	// By hand; no test notices half or double.
	slowed = 0.12
)

// A whole swing is seen from address to a little beyond level, and again about
// impact: between the two the club is behind the player or out of the picture.
// The track is laid through the first; top and impact are read off what is seen
// of hands and head after it.
const (
	// The track ends when the hands have risen by so much, m.
	// By hand; half fails TestTheTrackReadsRepsFromLooksThatAreOff, double
	// TestTopAndStrikeOfASwingThatLeavesThePicture.
	trackTo = 0.30
	// Hands at the top have risen by this at least, m, and come down again to
	// within this of where they were at address.
	// By hand; raised: half fails no test, double
	// TestTopAndStrikeOfASwingThatLeavesThePicture; lowered: half fails no test, double
	// TestTheTrackReadsRepsFromLooksThatAreOff.
	raised, lowered = 0.35, 0.22
	// Hands that are unseen for longer than this near the top have left the
	// picture, s.
	// By hand; no test notices half or double.
	unseenTop = 0.12
	// The longest time from the track's end to impact, s.
	// By hand; no test notices half or double.
	soonImpact = 1.6
	// The head of a club goes faster than the club turns, as the hands move.
	// By hand; half and double fail TestTheTrackReadsRepsFromLooksThatAreOff.
	headOver = 1.15
	// What a swing's head reaches at least, m/s (common practice).
	slowSwing = 8.0
	// By hand; no test notices half or double.
	slowTurn = 5.0 // rad/s
	// About impact the club looks at most so many times as long as at address.
	// By hand; half fails TestTheTrackReadsRepsFromLooksThatAreOff, double no test.
	longestLook = 1.25
)

// The body down the line (body.go).
const (
	// How sure it is how far from the lens a point of the body is, m: beside the
	// hands' own distance it is taken to be where it was at address; and how far
	// it may have come toward the lens since then, m.
	// By hand; bodyForward and bodyMoves: no test notices half or double.
	bodyForward, bodyMoves = 0.12, 0.08
	// In a turn the head goes a little away from the target (common practice), m.
	headGoes, headMoves = 0.04, 0.05
	// The trail elbow is so much nearer to the lens than the trail hip, m: an
	// upper arm and a half shoulder (Drillis & Contini 1966, in Winter, fig. 4.1)
	// at half their length.
	elbowNearer, elbowSigma = 0.24, 0.08
	// At the top the hands are so much nearer to the lens than at address, m.
	// By hand; topNearer and topSigma: no test notices half or double.
	topNearer, topSigma = 0.34, 0.12
	// Looks at so short a time from a moment, s, tell how the body passes it.
	// By hand; passes and passesTop: no test notices half or double.
	passes, passesTop = 0.07, 0.09
	// By hand; no test notices half or double.
	edgeShare = 0.02 // of the picture's height: what is nearer to the edge may go on beyond it
)

// The lead arm's bend (bend.go).
const (
	// Above this uncertainty, degrees, the lead arm's bend is not told, nor where
	// the arm points to the lens and shows less than this share of its length: what
	// seems sure there often is not. Down the line that is so at level, face-on
	// hardly ever.
	// By hand; mostBend: no test notices half or double; leastAcross: half fails
	// TestABodyThatIsSeenRight, double no test.
	mostBend, leastAcross = 12.0, 0.85
	// The lead elbow is taken to be half way between shoulder and hands at address,
	// as seen along the view: the 1-sigma uncertainty of that, m.
	// By hand; no test notices half or double.
	elbowSigmaHome = 0.05
	// By hand; no test notices half or double.
	handsSigma = 0.02 // of the hands at address toward the lens, m
	// By hand.
	bendRounds = 12
	// By so much, degrees, two ways of an elbow that both fit may differ.
	// By hand; no test notices half or double.
	oneBend = 12.0
	// How well the same two lengths hold at both times, m.
	// By hand; no test notices half or double.
	lengthSigma = 0.008
)

// What is read face-on (front.go).
const (
	// How much farther from the lens than the hands at address the points of a
	// body at address are, m (by stature and posture, common practice), and how
	// sure that is.
	crownBehind, neckBehind, shoulderBehind, elbowBehind = -0.20, 0.03, 0.06, 0.04
	hipBehind, thighBehind, ankleBehind, ballBehind      = 0.39, 0.33, 0.30, -0.45
	behindSigma                                          = 0.06
	// A backswing turns the shaft by so much at least, degrees.
	// By hand; no test notices half or double.
	leastArc = 45.0
	// From so far back it is one that goes on, degrees.
	// By hand; no test notices half or double.
	farBack = 25.0
	// Hands that hold a catch are so far away from the target of where they were, m.
	// By hand; no test notices half or double.
	leastBack = 0.1
	// Looks so long before the first motion are of address, s.
	// By hand; addressLast and addressGap: no test notices half or double.
	addressLast, addressGap = 1.2, 0.12
	// By hand; holdGap and holdLast: no test notices half or double.
	holdGap, holdLast = 0.06, 0.9
	// The shaft has begun to move, or is caught, this far from where it rests,
	// degrees.
	// By hand; no test notices half or double.
	stirred = 3.0
)

// The body face-on (frontbody.go).
const (
	// How level a camera is that was set by eye, degrees.
	// By hand; no test notices half or double.
	tiltSigma = 0.7
	// frontArmSigma is the 1-sigma uncertainty of how far the lead arm is behind the
	// hands at address, m.
	// By hand; no test notices half or double.
	frontArmSigma = 0.05
)

// Which pictures are looked at for what moves (pictures.go).
const (
	// lookStep is how far apart pictures are that are looked at for what is there
	// at one time and not at another, s.
	// By hand; half fails no test, double TestTheRollIsMeasuredFromAHungClub.
	lookStep = 0.2
)

// Lines on the ground (edges.go).
const (
	// By hand; half fails no test, double TestLinesOnTheGroundAreFound.
	shortestEdge = 0.05 // of the picture's width
	// By hand.
	leastSlope = 1.6 // levels a reduced px, least gradient of an edge
	// By hand.
	straight = 0.8 // reduced px that the points of an edge are off at most (rms)
	// Parts of one edge lie within this of one line, reduced px.
	// By hand.
	inLine = 1.6
	// How well a straight edge is where it is seen, px of a picture 1280
	// wide: lenses bend lines a little.
	// By hand.
	bentBy = 0.5
)

// A thin line (thin.go).
const (
	// thinLevel is how many levels a shaft stands out from both its sides.
	// By hand; half fails TestTheRollIsMeasuredFromAHungClub, double no test.
	thinLevel = 2.5
)

// A club that hangs (hang.go).
const (
	// By hand.
	uprightBy = 14.0 // degrees from the vertical that a hung club is looked for
	// By hand.
	hangFind = 0.45 // of the club from hands to head that is looked for
	// By hand.
	hangLength = 0.50 // and that must be thin all the way
	// By hand.
	hangScore = 3.0 // in units of the noise
	// By hand.
	hangGap = 0.03 // of the line that may be missing at a time
	// By hand; half fails TestWithoutAStillHungClubThereIsNoRoll, double
	// TestTheRollIsMeasuredFromAHungClub.
	hangOver  = 1.2 // s over which it is watched
	hangParts = 6   // of that time, each measured
	// By hand; half fails no test, double TestWithoutAStillHungClubThereIsNoRoll.
	hangSd = 0.5 // degrees that it may move within that time (1 sigma)
	// By hand; no test notices half or double.
	hangMoves = 0.012 // m that its middle may
	// By hand; no test notices half or double.
	hangEvery = 1.5 // s before, from which on the club was elsewhere
)

// The still background (scenery.go).
const (
	// By hand.
	leastTiles = 12 // with fewer nothing can be told
	// A piece has structure both ways, levels² a reduced px, and does not
	// change meanwhile, levels.
	// By hand; no test notices half or double.
	leastTexture = 3.0
	// By hand; no test notices half or double.
	restless = 3.0
)

// A camera that was moved (bump.go).
const (
	// A piece is found where it correlates so well.
	// By hand; half fails no test, double TestAMovedCameraIsTold and 1 more.
	alike = 0.75
	// The camera was moved when the picture shifted by so much, px of one
	// 1280 wide; what a lens does by focusing is no shift.
	// By hand; half fails no test, double TestAMovedCameraIsTold.
	bumpedBy = 3.0
	// Pieces agree within this, reduced px, and a share of the shift: what is
	// near shifts more than what is far.
	// By hand; agreeBy and agreeShare: no test notices half or double.
	agreeBy, agreeShare = 0.6, 0.2
	// By hand.
	leastAgree = 8
	// By hand.
	confirm = 2 // times that the answer must come
	// By hand.
	lostFor = 40 // times; a minute at 30 pictures a second
	// By hand.
	guessStep = 12 // reduced px between two guesses
)
