package guide

import (
	"math"

	"drillbay/camera/frame"
	"drillbay/camera/lens"
	"drillbay/camera/sight"
	"drillbay/drills"
	"drillbay/drills/bay"
)

const (
	findEvery = 1.0 // s between two looks for lines
	findOver  = 0.6 // s of pictures that are looked at
	foundFor  = 3.0 // s that lines are offered after they were found
)

// finding is the search for lines that the lens screen asks for; the fields are
// under Guide.mu but for at, which is the onlooker's.
type finding struct {
	asked float64 // s, when lines were asked for last
	lines []bay.Segment
	found float64 // s, when they were
	at    float64 // s, of the last look
}

// Find gives the lines found in the newest pictures, none when there are
// none that it is sure of, and has them looked for meanwhile.
func (gd *Guide) Find() []bay.Segment {
	gd.mu.Lock()
	defer gd.mu.Unlock()
	now := gd.o.Now()
	gd.lines.asked = now
	if now-gd.lines.found > foundFor {
		return nil
	}
	return append([]bay.Segment(nil), gd.lines.lines...)
}

// lookForLines looks for lines on the ground, when they are asked for.
func (gd *Guide) lookForLines() {
	gd.mu.Lock()
	wantedNow := gd.o.Now()-gd.lines.asked < Wanted
	gd.mu.Unlock()
	if !wantedNow || gd.o.Now()-gd.lines.at < findEvery {
		return
	}
	gd.lines.at = gd.o.Now()
	w, h, ok := gd.size()
	if !ok {
		return
	}
	pics := gd.recent(findOver, w, h)
	defer frame.ReleaseAll(pics)
	edges, _, _, _, err := lens.Along(sight.Edges(pics), w, h)
	lines := make([]bay.Segment, 0, len(edges))
	for _, e := range edges {
		lines = append(lines, bay.Segment{A: drills.Pixel{X: e.From.U, Y: e.From.V}, B: drills.Pixel{X: e.To.U, Y: e.To.V}, Sd: e.Sd})
	}
	gd.mu.Lock()
	defer gd.mu.Unlock()
	if gd.lines.lines, gd.lines.found = lines, gd.o.Now(); err != nil {
		gd.lines.lines, gd.lines.found = nil, math.Inf(-1)
	}
}
