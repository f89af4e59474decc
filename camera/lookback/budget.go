// Package lookback keeps the recent past: a ring of the last frames within a
// stated budget of memory, the loops cut from it for a rep, and the player
// that says which instant of a loop is shown at a given time.
package lookback

// LongestRep is the longest rep that the ring must still hold, s.
const LongestRep = 8.0

// Lead and Tail are the times that a loop shows before the turn-round and after the catch,
// s.
const (
	Lead = 0.2
	Tail = 0.3
)

const (
	mebibyte = 1 << 20
	// ringSlow and ringFast are the ring's memory at up to and above
	// slowRate frames a second. They leave the rest of the program's 512 MiB
	// and 800 MiB to everything else.
	ringSlow = 352 * mebibyte
	ringFast = 640 * mebibyte
	slowRate = 35.0
	// spare is the time kept beyond the longest rep, s.
	spare = 1.0
)

// Budget is the memory in bytes that a ring may hold at a picture size in
// pixels (4:2:0, 1.5 bytes a pixel) and a rate in frames a second.
func Budget(width, height int, rate float64) int {
	want := (LongestRep + spare) * rate * float64(width) * float64(height) * 1.5
	limit := ringFast
	if rate <= slowRate {
		limit = ringSlow
	}
	if !(want < float64(limit)) {
		return limit
	}
	return int(want)
}
