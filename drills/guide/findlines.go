package guide

import (
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
	level bay.Level // by lines that run across, of a camera before the chest
	found float64   // s, when they were
	at    float64   // s, of the last look
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

// Level gives the roll by lines on the ground that run across the newest pictures, of
// a camera before the chest; ok is false where there are none that it is sure of. It
// has them looked for meanwhile.
func (gd *Guide) Level() (l bay.Level, ok bool) {
	gd.mu.Lock()
	defer gd.mu.Unlock()
	now := gd.o.Now()
	gd.lines.asked = now
	l = gd.lines.level
	l.Lines = append([]bay.Segment(nil), l.Lines...)
	return l, now-gd.lines.found <= foundFor && len(l.Lines) > 0
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
	edges := sight.Edges(pics)
	along, _, _, _, _ := lens.Along(edges, w, h)
	across, roll, sigma, _ := lens.LevelBy(edges, w, h)
	gd.mu.Lock()
	defer gd.mu.Unlock()
	gd.lines.lines, gd.lines.level = segments(along), bay.Level{Lines: segments(across), Roll: roll, Sd: sigma}
	gd.lines.found = gd.o.Now()
}

func segments(edges []lens.Edge) (out []bay.Segment) {
	for _, e := range edges {
		out = append(out, bay.Segment{A: drills.Pixel{X: e.From.U, Y: e.From.V}, B: drills.Pixel{X: e.To.U, Y: e.To.V}, Sd: e.Sd})
	}
	return out
}
