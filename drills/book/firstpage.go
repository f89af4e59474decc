package book

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"time"

	"drillbay/drills"
	"drillbay/drills/ledger"
	"drillbay/drills/pattern"
	"drillbay/drills/report"
	"drillbay/drills/runner"
)

// firstPage writes the part of a report for the player: what got better, what to work
// on and how that is done; shown is the drill that it names.
func (b *Book) firstPage(p *report.Page, v View, now time.Time) (shown runner.Drill) {
	p.Better = b.better(v, now)
	d := b.ladder.Rungs[v.Standing.Here]
	switch {
	case len(v.Pattern.Causes) > 0:
		f := v.Pattern.Causes[0]
		p.Work, p.Feel = drills.Sentence(f.Cause.String()), f.Feel
		if works, ok := b.ladder.For(f.Cause); ok {
			d = works
		}
	case len(v.Pattern.Lapses) > 0:
		l := v.Pattern.Lapses[0]
		p.Work, p.Feel = drills.Sentence(l.Loss.String()), l.Feel
	default:
		p.Work = fmt.Sprintf("Rung %d is next: %s.", d.Rung, drills.LowerFirst(d.Name))
		if r := v.Standing.Rungs[v.Standing.Here]; r.Last.Of > 0 {
			p.Work = fmt.Sprintf("Rung %d, %s: %s.", d.Rung, drills.LowerFirst(d.Name), b.inLastSet(r.Last, d.ID))
		}
		p.Feel = v.feel(d)
	}
	p.Drill = d.Name
	return b.forRunner(d)
}

// better is one sentence on what got better: what is sure comes first, and where
// nothing is, it says so.
func (b *Book) better(v View, now time.Time) string {
	var practised []pattern.Session
	for _, s := range v.Progress.Sessions {
		if !s.Retention && s.Share.Of > 0 {
			practised = append(practised, s)
		}
	}
	if len(practised) == 0 {
		return "There is no practice to compare yet."
	}
	first, last := practised[0], practised[len(practised)-1]
	day := func(t time.Time) string { return t.In(now.Location()).Format("2 January") }
	if l := v.Progress.Later; l.Better {
		return fmt.Sprintf("Ordinary swings on a later day: %s counted at first, %s now.", l.First, l.Last)
	}
	if t := v.Progress.Practice; t.N >= drills.FewestForTrend && t.Shown() && t.S > 0 {
		return fmt.Sprintf("More reps count from session to session: %s on %s, %s on %s.", first.Share, day(first.Began), last.Share, day(last.Began))
	}
	if t := v.Progress.Spread; t.N >= drills.FewestForTrend && t.Shown() && t.S < 0 {
		return "The reps are more alike from session to session: the shaft line varies less."
	}
	for _, d := range slices.Backward(v.Standing.Said) {
		if d.Outcome == drills.Passed {
			if drill, ok := b.ladder.Drill(d.Drill); ok {
				return fmt.Sprintf("Rung %d was passed on %s: %s counted.", drill.Rung, day(d.At), d.Share)
			}
		}
	}
	if _, low, _ := last.Share.Difference(first.Share); len(practised) > 1 && low > 0 {
		return fmt.Sprintf("More reps count: %s on %s, %s on %s.", first.Share, day(first.Began), last.Share, day(last.Began))
	}
	if len(practised) == 1 {
		return fmt.Sprintf("This was the first session: %s counted. The next one can be compared with it.", first.Share)
	}
	return fmt.Sprintf("Nothing is surely better yet: %s counted on %s, %s on %s.", first.Share, day(first.Began), last.Share, day(last.Began))
}

// Kept is a rep that a report shows.
type Kept struct {
	Word string // "Best", "Typical", and of what
	Rep  ledger.Record
	Of   int    // readings whose middle it lies nearest, 0 for the best
	File string // in the ledger's clip folder, "" when no clip of it is kept
	Line LineMark
}

// LineMark is drawn over the picture of a kept rep: hands, head and target
// point where the shaft is level, px as seen; NaN when that was not kept.
type LineMark struct {
	Hands, Head, Target drills.Pixel
	At                  float64 // s, of the clip
}

// Known reports whether there is something to draw.
func (m LineMark) Known() bool { return !math.IsNaN(m.Hands.X + m.Head.X + m.Target.X) }

// BestAndTypical are two reps of a player's last session with readings: of those
// that count the one nearest the line, and of those of the commonest manner the one
// nearest the middle of all, where there are three or more. One of which a clip
// is kept comes before one that is as good (within 1°); without clips, or without
// consent to them, there are only the readings.
func (b *Book) BestAndTypical(ctx context.Context, player string) (found []Kept, err error) {
	clips, err := b.ledger.Clips(ctx, player)
	if err != nil {
		return nil, err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	if i := b.find(player); i < 0 || b.players[i].Consent == "" {
		clips = nil // consent may have been taken back since
	}
	files := map[string]string{}
	for _, c := range clips {
		// Of two views the first is that in which the line was read.
		if ext := filepath.Ext(c.File); !c.Missing && files[c.Rep] == "" && (ext == ".avi" || ext == ".mp4") {
			files[c.Rep] = c.File
		}
	}
	read := func(r ledger.Record) bool { return r.Rep.ShaftLine.OK() && r.Rep.Verdict != drills.NoReading }
	session := ""
	for _, r := range b.counted(player) {
		if read(r) {
			session = r.Session
		}
	}
	var all, counts []ledger.Record
	var lines []float64
	manners, most := map[drills.Manner]int{}, 0
	for _, r := range b.counted(player) {
		if r.Session != session || !read(r) {
			continue
		}
		all, lines = append(all, r), append(lines, r.Rep.ShaftLine.Value)
		manners[r.Rep.Manner]++
		most = max(most, manners[r.Rep.Manner])
		if r.Counts() {
			counts = append(counts, r)
		}
	}
	nearest := func(list []ledger.Record, to float64) (ledger.Record, bool) {
		if len(list) == 0 {
			return ledger.Record{}, false
		}
		away := func(r ledger.Record) float64 { return math.Abs(r.Rep.ShaftLine.Value - to) }
		best := slices.MinFunc(list, func(x, y ledger.Record) int { return cmp.Compare(away(x), away(y)) })
		for _, r := range list {
			if files[best.ID] == "" && files[r.ID] != "" && away(r) <= away(best)+1 {
				best = r
			}
		}
		return best, true
	}
	put := func(word string, of int, r ledger.Record) {
		found = append(found, Kept{Word: word, Of: of, Rep: r, File: files[r.ID], Line: b.lineOf(r.ID)})
	}
	if best, ok := nearest(counts, 0); ok {
		put("Best", 0, best)
		all = slices.DeleteFunc(all, func(r ledger.Record) bool { return r.ID == best.ID })
	}
	rarer := func(r ledger.Record) bool { return manners[r.Rep.Manner] < most }
	if left := slices.DeleteFunc(slices.Clone(all), rarer); len(left) > 0 {
		all = left
	}
	if typical, ok := nearest(all, drills.Quantile(lines, 0.5)); ok && len(lines) > 2 {
		put("Typical", len(lines), typical)
	}
	return found, nil
}

// lineOf gives the mark of a rep's shaft at level.
func (b *Book) lineOf(rep string) LineMark {
	none := drills.Pixel{X: math.NaN(), Y: math.NaN()}
	out := LineMark{none, none, none, math.NaN()}
	for _, m := range b.marks[rep] {
		if m.Kind == ledger.LineMark {
			at := func(i int) drills.Pixel { return drills.Pixel{X: m.Points[i][0], Y: m.Points[i][1]} }
			out = LineMark{at(0), at(1), at(2), m.Frame}
		}
	}
	return out
}

// KeepLine keeps where a rep's shaft lies at level, so that a report can draw it
// over the clip that is kept of it.
func (b *Book) KeepLine(ctx context.Context, player, rep string, m LineMark) error {
	k := ledger.Mark{Rep: rep, Kind: ledger.LineMark, Frame: m.At, Points: ledger.NoPoints(), At: b.now()}
	for i, p := range []drills.Pixel{m.Hands, m.Head, m.Target} {
		k.Points[i] = [2]float64{p.X, p.Y}
	}
	return b.PutMark(ctx, player, k)
}
