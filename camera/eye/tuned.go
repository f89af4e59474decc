package eye

// The numbers that were chosen so that the player and the club are seen well, each with
// its unit and what chose it. "Half" and "double" are what the eye's tests and those on
// rendered clips (object keypoint similarity, share of joints, hands and head in cm) say of
// half the number and of double it; as they are the clips give 0.980, 99.7 %, hands 1.1 and
// 2.5 cm off, heads 1.9 and 1.2 cm. What belongs to the network's weights stands with it.

// Where the eye looks.
const (
	// margin is how much wider a window is than what it must hold, a share. Half cuts
	// players: similarity 0.79, 80 % of the joints. Double shows them too small: 0.94,
	// 97.7 %, hands of the left-hander 7.5 cm off.
	margin = 1.35
	// player and closely are what the two windows show, m; only the one by the other
	// counts. A closer window of half the size has hands 1.2 and 3.1 cm off, heads 1.7
	// and 1.2, and loses the hands in one look more of each clip; with one of double the
	// size heads are 2.2 and 0.5 off and the drawn clip is read to ± 1.2° for ± 0.8°.
	player, closely = 2.2, 1.0
	// follow is the share by which a window moves toward what was seen, a look. By hand:
	// at half and at double of it similarity is 0.980 and 0.981, hands 1.3 cm off, and 3.2
	// and 2.5 cm.
	follow = 0.3
	// smallest is the least side of a window, px: below it nobody can be told. By hand;
	// no test of the package notices half or double.
	smallest = 48.0
	// legs is how long they are, hip to ankle, as a multiple of the way from neck to
	// hip: 0.49 and 0.29 of stature (Drillis & Contini 1966, in Winter, fig. 4.1).
	legs = 1.7
	// stray is how far off its straight way the middle of hands and club may be between
	// two sights, as a share of that way, to both sides together. By hand: half
	// and double fail TestBetweenTwoSights.
	stray = 0.5
)

// What counts as seen.
const (
	// present is the mean chance of hands, neck and hips from which there is a player:
	// as likely as not. Half of it leaves the rendered clips as they are; at 0.9 similarity
	// is 0.982.
	present = 0.5
	// counted is the chance from which a point counts for the next window: as likely as
	// not. At half of it similarity is 0.979; at 0.9 no head of the club is seen in one of
	// the clips.
	counted = 0.5
	// agree is how many standard deviations two looks at a point may differ: of looks
	// that see the same, 1 in 90 differs by more (two coordinates of a normal error). Half
	// and double leave the rendered clips as they are.
	agree = 3.0
)
