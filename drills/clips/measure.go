package clips

import (
	"context"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"drillbay/camera/clip"
	"drillbay/camera/frame"
	"drillbay/camera/lookback"
	"drillbay/drills"
	"drillbay/drills/measure"
	"drillbay/drills/read"
)

// clipsShown limits the files that are offered.
const clipsShown = 40

// Found are files in the folders where clips usually lie, the newest first.
func Found() []string {
	home, err := os.UserHomeDir()
	if err != nil {
		return nil
	}
	type file struct {
		path string
		at   time.Time
	}
	var found []file
	for _, folder := range []string{"Videos", "Movies", "Downloads", "Pictures", "Desktop", "."} {
		entries, err := os.ReadDir(filepath.Join(home, folder))
		if err != nil {
			continue
		}
		for _, e := range entries {
			info, err := e.Info()
			if err == nil && info.Mode().IsRegular() && isClip(e) {
				found = append(found, file{path: filepath.Join(home, folder, e.Name()), at: info.ModTime()})
			}
		}
	}
	slices.SortFunc(found, func(a, b file) int { return b.at.Compare(a.at) })
	out := make([]string, 0, clipsShown)
	for _, f := range found[:min(len(found), clipsShown)] {
		out = append(out, f.path)
	}
	return out
}

func isClip(e fs.DirEntry) bool {
	return slices.Contains([]string{".avi", ".mp4", ".mov", ".m4v", ".mkv", ".webm"}, strings.ToLower(filepath.Ext(e.Name())))
}

// counted counts the pictures of a clip and ends it when ctx is done.
type counted struct {
	clip.Reader
	ctx  context.Context
	n    int
	read func(share float64)
}

func (t *counted) Next() (*frame.Picture, error) {
	if err := t.ctx.Err(); err != nil {
		return nil, err
	}
	t.n++
	if all := t.Info().Frames; all > 0 {
		t.read(float64(t.n) / float64(all))
	} else {
		t.read(1 - math.Exp(-float64(t.n)/600)) // how long it is, it does not say
	}
	return t.Reader.Next()
}

// asPlayed stands beside the reps of a clip that does not say how fast it was
// taken.
const asPlayed = "the clip does not say how fast it was taken: if it is slow motion, manner and times are wrong; read it again and say how many frames a second were taken"

// Measure reads the reps of a clip, each with its loop, or where they are
// too many for the memory with its picture at level.
func Measure(ctx context.Context, j Job, told func(float64)) ([]Rep, error) {
	src, err := clip.Open(j.Path, j.Rate, nil)
	if err != nil {
		return nil, err
	}
	defer src.Close()
	info := src.Info()
	bay := measure.Bay{Width: info.Width, Height: info.Height, Field: j.Field, Distance: j.Distance, Club: measure.DefaultClub, Hand: j.Hand}
	k, err := bay.Known()
	if err != nil {
		return nil, err
	}
	pictures := map[float64]*frame.Picture{} // by the rep's start
	loops, room := map[float64]*squeezed{}, squeezeMost
	defer func() {
		for _, p := range pictures {
			p.Release()
		}
	}()
	each := func(r measure.Result, held []*frame.Picture) {
		m := r.Rep.Moments
		at, best := drills.FirstOf(m.Main(), m.Start), held[0]
		for _, p := range held {
			if math.Abs(p.Seconds()-at) < math.Abs(best.Seconds()-at) {
				best = p
			}
		}
		if old := pictures[m.Start]; old != nil {
			old.Release()
		}
		pictures[m.Start] = best.Retain()
		if old := loops[m.Start]; old != nil {
			room += old.bytes
			delete(loops, m.Start)
		}
		if l := squeeze(held, drills.FirstOf(m.BackStart, m.Start)-lookback.Lead, drills.FirstOf(m.Catch, m.Impact, at)+lookback.Tail, room); l != nil {
			loops[m.Start], room = l, room-l.bytes
		}
	}
	reps, _, _, err := measure.Reps(&counted{Reader: src, ctx: ctx, read: told}, k, measure.Any, each)
	if err != nil {
		return nil, err
	}
	var out []Rep
	for _, r := range reps {
		one := Rep{}
		one.Rep, one.Overlay = r.Rep, read.Overlay(r, k.Setting.View)
		if info.Guessed {
			one.Rep.Why = strings.TrimPrefix(one.Rep.Why+"; "+asPlayed, "; ")
		}
		if p := pictures[r.Rep.Moments.Start]; p != nil {
			one.Picture = p.Retain()
		}
		if l := loops[r.Rep.Moments.Start]; l != nil {
			one.Loop = l
		}
		out = append(out, one)
	}
	return out, nil
}
