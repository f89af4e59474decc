package watch

import "drillbay/drills"

// Seen holds the places that the eye saw in one picture.
type Seen struct {
	At          float64 // s, capture clock
	Player      bool    // somebody is there
	Hands, Head Spot
	Hips, Ball  Spot // the middle of the hips
}

// Spot is a place that the eye saw, px as seen, with its 1-sigma uncertainty.
type Spot struct {
	drills.Pixel
	SdX, SdY float64
	Chance   float64 // that it is there to be seen
	Lost     float64 // s for which it was not surely seen; 0 while it is
}

// surely is the chance from which a spot is drawn.
const surely = 0.6

// Sure reports whether the spot is surely seen.
func (s Spot) Sure() bool { return s.Chance >= surely }
