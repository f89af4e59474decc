package drills

// Pixel is a place in the picture, px as seen.
type Pixel struct{ X, Y float64 }
