package sound

import (
	"math"
	"sync"

	"drillbay/cues"
)

// clock tells when the samples of the stream are heard. A sink draws early or
// on time, never ahead of its buffer: of the draws of the last while the one
// with the earliest zero shows where the stream's zero lies.
type clock struct {
	mu    sync.Mutex
	zeros [64]float64 // s: time of a draw minus the stream's time then
	n     int
	last  float64 // s, time of the last draw
	delay float64 // s from draw to ear
}

// drawn notes that a sink draws the sample at a position.
func (c *clock) drawn(now float64, position int64) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.zeros[c.n%len(c.zeros)] = now - float64(position)/cues.Rate
	c.n++
	c.last = now
}

// restart forgets the draws of another sink: they were heard later or earlier.
func (c *clock) restart() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.n = 0
}

// wait begins to count the time without a draw.
func (c *clock) wait(now float64) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.last = now
}

// zero returns the time at which the stream's first sample was or would have been heard, s;
// NaN when nothing was drawn yet.
func (c *clock) zero() float64 {
	c.mu.Lock()
	defer c.mu.Unlock()
	least := math.NaN()
	for _, z := range c.zeros[:min(c.n, len(c.zeros))] {
		if !(least <= z) {
			least = z
		}
	}
	return least + c.delay + float64(cues.Delay)/cues.Rate
}

// silentFor returns the time since samples were last drawn, s.
func (c *clock) silentFor(now float64) float64 {
	c.mu.Lock()
	defer c.mu.Unlock()
	return now - c.last
}

func (c *clock) add(s float64) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.delay += s
}

func (c *clock) waits() float64 {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.delay
}
