// Package virtual is the virtual bay: a drawn practice bay with a player who
// practises, and the exact truth of what was drawn. It serves the demo and
// the tests through the same driver path as a webcam. It has its own
// projection and shares no geometry with what reads its pictures.
//
// Lengths are metres and angles degrees unless a name says otherwise. The bay
// frame: origin on the ground under the ball, X toward the target, Y from the
// ball toward the player, Z up. For a left-hander the whole bay is mirrored:
// +Y still points to the player, who then stands on the right of the picture.
package virtual

// Colour is linear light, 0..1 each: red, green, blue.
type Colour [3]float64

// Setup is everything that can be chosen about a virtual bay. It is plain
// data; start from Default and change what matters.
type Setup struct {
	Name          string
	Width, Height int // px, even
	FPS           float64
	Seed          uint64
	Camera        Camera
	Light         Light
	Scene         Scene
	Player        Player
	Club          Club
	Drill         Drill
	Arms          Arms
	Reps          []RepSpec
	Tail          float64 // s of standing still after the last rep
	Noise         float64 // sensor noise: 0 none, 1 an ordinary webcam in good light
	Shutter       float64 // exposure as a share of the frame time, 0..1
	Samples       int     // sub-frames at most for motion blur
	Loop          bool    // start again after the last rep, for ever, with variation
}

// Camera places the lens.
type Camera struct {
	Distance float64 // from the lens to the hands at address, along the target line, m
	Height   float64 // of the lens above the ground, m
	Lateral  float64 // Y of the lens, m
	HFOVDeg  float64 // horizontal field of view
	YawDeg   float64 // + turns the camera left
	PitchDeg float64 // + tilts it up
	RollDeg  float64 // + rolls it clockwise, as seen by the camera
	// FaceOn puts it before the player's chest, looking across the target line:
	// Distance is then across that line, and Lateral along it, + toward the target
	// from the hands.
	FaceOn bool
	// Late is the time that its pictures are under way, s: each shows the bay as it was
	// that much earlier. Cameras of one bay differ in it.
	Late float64
}

// Light describes the light in the bay.
type Light struct {
	Kind     LightKind
	Strength float64 // 1 bright, 0.4 dim
	Warmth   float64 // 0 cold … 1 warm
	Flicker  float64 // relative amplitude of lamp flicker
	Drift    float64 // relative amplitude of a slow change of brightness
}

// LightKind says where the bay is.
type LightKind string

// The two places for a bay.
const (
	Indoor  LightKind = "indoor"
	Outdoor LightKind = "outdoor"
)

// Scene describes the still things in the bay.
type Scene struct {
	Net      bool
	Bags     int  // bags of other clubs, 0–4
	PasserBy bool // somebody walks by behind the net
	Ball     bool // a ball lies at the origin in catch drills too; strikes always have one
	Stick    bool // alignment stick on the ground, parallel to the target line
	Wall     Colour
	Floor    Colour
}

// Player describes the player who practises.
type Player struct {
	Stature                      float64 // m
	Stance                       float64 // m, by which the feet stand toward the target from where they usually do
	Hand                         Hand
	Shirt, Trousers, Skin, Glove Colour
	Sway                         float64 // m, of the body while it stands
	Tremor                       float64 // degrees, of the shaft while it is held
}

// Hand is the player's.
type Hand string

// Right-handers stand on the left of the picture, left-handers on the right.
const (
	RightHand Hand = "right"
	LeftHand  Hand = "left"
)

// Club is the player's.
type Club struct {
	Length  float64 // m, along the shaft axis from butt to sole
	Grip    float64 // m, from the butt to the middle of the lead hand
	LieDeg  float64
	ShaftMM float64 // mean diameter of the shaft, mm
	Shaft   Colour
	Steel   bool // the shaft shines
	Head    Colour
	Wood    bool // a driver's head instead of an iron's blade
	// HeadOffset is the distance from the shaft axis to the middle of the head that is
	// seen, toward the toe, m.
	HeadOffset float64
	Tape       *Colour // a band of tape around the shaft near the head
}

// Drill is the kind of rep that is practised.
type Drill string

// The drills: a moving start with a free backswing into the catch; the same
// with a turn and a strike after the hold; ordinary swings at a ball; a catch
// after which the club swings back freely, without a ball.
const (
	Catch           Drill = "catch"
	CatchTurnStrike Drill = "catch-turn-strike"
	Ordinary        Drill = "ordinary"
	FreeReturn      Drill = "free-return"
)

// Arms says which hands hold the club.
type Arms string

// The lead arm alone, the trail hand waiting for the catch; or both.
const (
	LeadArm  Arms = "lead"
	BothArms Arms = "both"
)

// Default is a bay as a careful player would set it up, a mid iron, indoors,
// and no rep yet.
func Default() Setup {
	return Setup{
		Name: "virtual bay", Width: 1280, Height: 720, FPS: 30, Seed: 1,
		Camera: Camera{Distance: 3.2, Height: 0.8, Lateral: 0.42, HFOVDeg: 70},
		Light:  Light{Kind: Indoor, Strength: 1, Warmth: 0.5},
		Scene: Scene{Net: true, Bags: 2, Stick: true, Ball: true,
			Wall: Colour{0.35, 0.36, 0.38}, Floor: Colour{0.45, 0.42, 0.38}},
		Player: Player{Stature: 1.78, Hand: RightHand,
			Shirt: Colour{0.12, 0.18, 0.35}, Trousers: Colour{0.25, 0.23, 0.2},
			Skin: Colour{0.62, 0.42, 0.32}, Glove: Colour{0.9, 0.9, 0.88},
			Sway: 0.004, Tremor: 0.1},
		Club: Club{Length: 0.94, Grip: 0.09, LieDeg: 62, ShaftMM: 11,
			Shaft: Colour{0.75, 0.75, 0.78}, Steel: true, Head: Colour{0.3, 0.3, 0.32}, HeadOffset: 0.035},
		Drill: Catch, Arms: LeadArm, Tail: 0.6, Noise: 1, Shutter: 0.5, Samples: 12,
	}
}
