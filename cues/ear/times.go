package ear

// times tells when samples came. A chunk comes when its last sample has, or
// later, never earlier: of the last chunks, the one with the earliest zero
// shows where the stream's zero lies.
type times struct {
	zeros [64]float64
	n     int
}

// came notes that the stream reached a position at a time, s.
func (t *times) came(now float64, position int64) {
	t.zeros[t.n%len(t.zeros)] = now - float64(position)/Rate
	t.n++
}

// at returns the time at which a sample was heard, s.
func (t *times) at(position int64) float64 {
	least := t.zeros[0]
	for _, z := range t.zeros[:min(t.n, len(t.zeros))] {
		least = min(least, z)
	}
	return least + float64(position)/Rate
}
