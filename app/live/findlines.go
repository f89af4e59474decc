package live

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

// finding is what is looked for when the lens screen asks; the fields are
// under Live.mu but for at, which is the onlooker's.
type finding struct {
	asked float64 // s, when lines were asked for last
	lines []bay.Segment
	found float64 // s, when they were
	at    float64 // s, of the last look
}

// find gives the lines found in the newest pictures, none when there are
// none that it is sure of, and has them looked for meanwhile.
func (l *Live) find() []bay.Segment {
	l.mu.Lock()
	defer l.mu.Unlock()
	now := l.Now()
	l.lines.asked = now
	if now-l.lines.found > foundFor {
		return nil
	}
	return append([]bay.Segment(nil), l.lines.lines...)
}

// lookForLines looks for lines on the ground, when they are asked for.
func (l *Live) lookForLines() {
	l.mu.Lock()
	wantedNow := l.Now()-l.lines.asked < wanted
	l.mu.Unlock()
	if !wantedNow || l.Now()-l.lines.at < findEvery {
		return
	}
	l.lines.at = l.Now()
	w, h, ok := l.size()
	if !ok {
		return
	}
	pics := l.recent(findOver, w, h)
	defer frame.ReleaseAll(pics)
	edges, _, _, _, err := lens.Along(sight.Edges(pics), w, h)
	lines := make([]bay.Segment, 0, len(edges))
	for _, e := range edges {
		lines = append(lines, bay.Segment{A: drills.Pixel{X: e.From.U, Y: e.From.V}, B: drills.Pixel{X: e.To.U, Y: e.To.V}, Sd: e.Sd})
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.lines.lines, l.lines.found = lines, l.Now(); err != nil {
		l.lines.lines, l.lines.found = nil, math.Inf(-1)
	}
}
