package virtual

// Manner says how the club comes to the catch.
type Manner string

// The manners: the first two are swung (the head's speed peaks late and the
// stop is abrupt), the rest are placed (the speed runs out before the catch).
const (
	Swing       Manner = "swing"
	GentleSwing Manner = "gentle swing" // slow, and still a swing
	StopGo      Manner = "stop-go"      // placed in two or three moves
	Creep       Manner = "creep"        // placed in one slow smooth move
	QuickPlace  Manner = "quick place"  // placed in one quick smooth move
)

// Swung reports whether the manner is a swing.
func (m Manner) Swung() bool { return m == Swing || m == GentleSwing || m == "" }

// Course is how the speed changes on the way to the catch, where reps shall differ
// more than a manner's usual ones do.
type Course string

// The courses. One that is not of the rep's manner changes nothing.
const (
	CutShort Course = "cut short" // swung: a longer smooth movement that is stopped on its way
	Driven   Course = "driven"    // swung: gains speed early and keeps most of it
	RunsOut  Course = "runs out"  // placed: fast at first, then slower and slower
)

// Interlude is something the player does before a rep that is no rep.
type Interlude string

// The interludes.
const (
	Waggle Interlude = "waggle"
	TeeUp  Interlude = "tee up"
	WalkIn Interlude = "walk in"
	Away   Interlude = "away"  // nobody is in the bay for a while
	Hang   Interlude = "hang"  // a club hangs from the fingers, swings a little and comes to rest
	Stand  Interlude = "stand" // somebody stands there, the club beside the leg
)

// RepSpec is one rep as commanded. A field that is zero takes its default.
// In ordinary swings the angles and the place of the hands are those of the
// level moment, in all other drills those of the catch.
type RepSpec struct {
	ShaftLineDeg float64 // + inside
	ElevationDeg float64 // of the shaft; + past level
	HandsX       float64 // m; default 0.36 behind the hands at address
	HandsY       float64 // m; default as at address
	HandsDZ      float64 // m above the hands at address; default 0.10
	FaceDeg      float64 // roll of the face about the shaft, 0 toe up at level, + open
	Manner       Manner  // default Swing
	Course       Course  // default: the manner's usual one
	Forward      float64 // s, moving start; negative: none
	Back         float64 // s, turn-round to catch (to the top in ordinary swings)
	Hold         float64 // s, of the catch, or of the finish in ordinary swings
	Still        float64 // s of address before the rep
	Down         float64 // s, top to impact
	Before       []Interlude
	Drill        Drill // default: the setup's
	Arms         Arms  // default: the setup's
}

// filled returns the rep with its defaults for the setup and the address.
func (r RepSpec) filled(s *Setup, address vec) RepSpec {
	if r.Drill == "" {
		r.Drill = s.Drill
	}
	if r.Arms == "" {
		r.Arms = s.Arms
	}
	def := func(p *float64, v float64) {
		if *p == 0 {
			*p = v
		}
	}
	def(&r.HandsX, address.x-0.36)
	def(&r.HandsY, address.y)
	def(&r.HandsDZ, 0.10)
	def(&r.Still, 0.8)
	def(&r.Down, 0.25)
	if r.Manner == "" {
		r.Manner = Swing
	}
	if r.Drill == Ordinary {
		r.Forward = 0
		def(&r.Back, 0.75)
		def(&r.Hold, 0.6)
		return r
	}
	def(&r.Forward, 0.55)
	r.Forward = max(r.Forward, 0)
	switch r.Manner {
	case GentleSwing:
		def(&r.Back, 1.15)
	case StopGo:
		def(&r.Back, 1.8)
	case Creep:
		def(&r.Back, 1.6)
	case QuickPlace:
		def(&r.Back, 0.75)
	default:
		def(&r.Back, 0.6)
	}
	def(&r.Hold, 1.0)
	return r
}
