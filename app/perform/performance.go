// Package perform practises on the virtual bay without a window, faster than real time.
package perform

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"

	"drillbay/camera/frame"
	"drillbay/camera/sight"
	"drillbay/camera/virtual"
	"drillbay/drills"
	"drillbay/drills/clips"
	"drillbay/drills/ledger"
	"drillbay/drills/measure"
	"drillbay/drills/picture"
	"drillbay/drills/read"
	"drillbay/drills/rep"
	"drillbay/drills/runner"
	"drillbay/drills/table"
)

// performance is a session on the virtual bay without a window: it turns
// the rungs, keeps pictures, and prints each rep once it is stored.
type performance struct {
	bay      *virtual.Bay
	known    rep.Known
	reads    *read.Camera
	watch    *measure.Watch
	pace     measure.Pace
	glance   sight.Glance // the newest
	keep     *picture.Gallery
	beside   *beside // the second camera, nil: there is one
	dir      string
	drills   []runner.Drill
	events   []virtual.Event
	session  *runner.Stepper
	out      io.Writer
	problems io.Writer // for notices
	now      float64   // s, of the frame
	rung     int
	told     int
	counted  int
	sure     map[bool][]float64 // sigmas of the shaft lines, degrees: on the last rung, on the others
	clip     string             // written
	failed   error              // of clip or pictures
}

// turn goes to the next rung when the player's first rep of it is about to
// begin.
func (p *performance) turn(perRung int) {
	next := (p.rung + 1) * perRung
	if next < len(p.events) && p.now >= p.events[next].StillFrom-0.2 {
		p.rung++
		p.session.Order(runner.Command{Do: runner.Change, Drill: p.drills[p.rung]})
	}
}

// see takes a picture with what the eye saw last, as a live session does.
func (p *performance) see(pic *frame.Picture) {
	p.glance.Caught, p.glance.Ended = false, false
	if p.pace.Due(pic.Seconds()) {
		p.glance, _ = p.watch.See(pic)
	}
	p.glance.At = pic.Seconds()
	p.session.See(pic, p.glance)
}

// read is the full reading of a rep; its pictures are there only now, so the
// gallery and the clip are made of them here.
func (p *performance) read(t runner.Take) runner.Analysis {
	r, told := p.reads.Read(t)
	if told.Void {
		return told
	}
	p.keep.Add(r, t.Frames)
	if p.clip == "" && r.Rep.Counts() {
		p.clip = filepath.Join(p.dir, "rep.avi")
		if err := clips.WriteClip(p.clip, t.Frames); err != nil {
			p.failed = errors.Join(p.failed, err)
		}
	}
	if p.beside != nil {
		return p.beside.view.Together(t, r, told)
	}
	return told
}

func (p *performance) title() {
	titles := []any{"rung", "rep", "shaft line", "drawn", "manner", "drawn", "depth", "counts"}
	if p.beside != nil {
		titles = append(titles, "head back", "hips back")
	}
	p.line(append(titles, "verdict")...)
}

// line prints a line of the table at once, in columns that stay as they are.
func (p *performance) line(cells ...any) {
	form := "%-4v  %-3v  %-14v  %-7v  %-7v  %-7v  %-6v  %-6v  "
	if p.beside != nil {
		form += "%-9v  %-9v  "
	}
	fmt.Fprintf(p.out, form+"%v\n", cells...)
}

// Tell implements runner.Speaker: a rep that is told is stored.
func (p *performance) Tell(m runner.Moment) {
	if m.Kind == runner.NoticeRaised {
		fmt.Fprintln(p.problems, "drillbay:", m.Notice.Text, m.Notice.To)
	}
	if m.Kind != runner.RepDone {
		return
	}
	p.told++
	r := m.Rep.Rep
	if r.ShaftLine.OK() {
		p.sure[m.Drill.Rung == len(p.drills)] = append(p.sure[m.Drill.Rung == len(p.drills)], r.ShaftLine.Sigma)
	}
	counts := ""
	if r.Counts() {
		counts = "yes"
		p.counted++
	}
	drawn, manner := "–", "–"
	if e, ok := p.event(r); ok {
		drawn, manner = orDash(drawnLine(e), "%+.1f°"), "placed"
		if e.Manner.Swung() {
			manner = "swung"
		}
	}
	cells := []any{m.Drill.Rung, r.Number, shaftLine(r.ShaftLine), drawn, r.Manner.String(), manner, table.Depth(r.Depth), counts}
	if p.beside != nil {
		cells = append(cells, faceOn(r, drills.HeadBack), faceOn(r, drills.HipsBack))
	}
	p.line(append(cells, table.Verdict(r))...)
}

func shaftLine(r drills.Reading) string {
	if !r.OK() {
		return "–"
	}
	return fmt.Sprintf("%+.1f° ± %.1f°", r.Value, r.Sigma)
}

// drawnLine is the shaft line that was drawn, degrees, + inside.
func drawnLine(e virtual.Event) float64 {
	return drills.FirstOf(e.LevelShaftLineDeg, e.CatchShaftLineDeg)
}

// event finds the drawn rep that r is the reading of; false when none was drawn near that
// time.
func (p *performance) event(r drills.Rep) (virtual.Event, bool) {
	at := drills.FirstOf(r.Moments.Catch, r.Moments.Top, r.Moments.Level)
	for _, e := range p.events {
		if math.Abs(drills.FirstOf(e.Catch, e.Top, e.Level)-at) < 0.6 {
			return e, true
		}
	}
	return virtual.Event{}, false
}

// lastTries is the number of times that storing is tried again at the end.
const lastTries = 3

// end closes the session once all is stored, or tells how many reps are not.
func (p *performance) end() error {
	for range lastTries {
		if p.session.Snapshot().Waiting == 0 {
			break
		}
		p.now += retryAfter
		p.session.Tick()
	}
	lost := p.session.Snapshot().Waiting
	p.session.Close()
	if lost > 0 {
		return fmt.Errorf("%s could not be stored and %s not told: see above what is wrong", drills.Count(lost, "rep"), wasOrWere(lost))
	}
	return nil
}

// retryAfter is longer than the session waits before it tries to store again, s.
const retryAfter = 6

func wasOrWere(n int) string {
	if n == 1 {
		return "was"
	}
	return "were"
}

// finish writes the pictures and says what there is.
func (p *performance) finish(w io.Writer, l *ledger.Ledger) error {
	if err := errors.Join(p.failed, p.keep.Write()); err != nil {
		return err
	}
	reps, err := l.Reps(context.Background(), ledger.Which{})
	if err != nil {
		return err
	}
	if drawn := len(p.events); p.told < drawn {
		fmt.Fprintf(w, "%d of the %s that were drawn were not found; they stand nowhere above.\n", drawn-p.told, drills.Count(drawn, "rep"))
	}
	fmt.Fprintf(w, "%d of %d reps counted: in line and swung. %d reps a rung decide nothing: a rung is passed by 9 of 10.\n", p.counted, p.told, p.drills[0].Reps)
	fmt.Fprintln(w, LastRung(p.sure[true], p.sure[false]))
	if p.beside != nil {
		fmt.Fprintln(w, p.beside.tied())
		fmt.Fprintln(w, "Head back, hips back: away from the target, against address. "+drills.NoAdvice)
	}
	fmt.Fprintf(w, "Left in %s:\n", p.dir)
	fmt.Fprintf(w, "  %s with %d reps\n", filepath.Base(l.Path()), len(reps))
	if p.clip != "" {
		fmt.Fprintf(w, "  %s, one rep as a clip\n", filepath.Base(p.clip))
	}
	fmt.Fprintf(w, "  pictures of %d reps, two each\n", p.keep.Reps())
	return nil
}

// LastRung says how surely the last rung was read beside the others, by the
// uncertainties (one sigma, degrees) of what was read.
func LastRung(last, others []float64) string {
	middle := func(v []float64) float64 { slices.Sort(v); return v[len(v)/2] }
	switch {
	case len(last) == 0:
		return "No shaft line could be read on the last rung."
	case len(others) == 0:
		return fmt.Sprintf("Only on the last rung a shaft line could be read, to ± %.1f° in the middle.", middle(last))
	}
	a, b := middle(last), middle(others)
	word := "as surely as"
	switch {
	case a > b+0.05:
		word = "less surely than"
	case a < b-0.05:
		word = "more surely than"
	}
	return fmt.Sprintf("The last rung was read %s the others: to ± %.1f° in the middle, the others to ± %.1f°.", word, a, b)
}
