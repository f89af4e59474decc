package main

import (
	"context"
	"io"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"drillbay/camera/clip"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/book"
	"drillbay/drills/ledger"
)

// FuzzCommandLine: a command line is understood or refused with a sentence;
// nothing is carried out here. Words are parted by line feeds.
func FuzzCommandLine(f *testing.F) {
	f.Fuzz(func(t *testing.T, text string) {
		words := strings.Split(text, "\n")
		if len(words) > 20 {
			return
		}
		var cmd commands
		exited := false
		p, err := commandLine(&cmd, console{out: io.Discard, err: io.Discard}, func(int) { exited = true })
		if err != nil {
			t.Fatal(err)
		}
		ctx, err := p.Parse(joined(words))
		if err != nil || exited {
			if err != nil && strings.TrimSpace(err.Error()) == "" {
				t.Fatal("refused without a word")
			}
			return
		}
		if !strings.HasPrefix(ctx.Command(), "measure") {
			return
		}
		b, err := cmd.Measure.bay(clip.Info{Name: "a.avi", Width: 960, Height: 540, FPS: 30, Frames: 10, Shrunk: 1})
		if err != nil {
			return
		}
		k, err := b.Known()
		if err == nil && (math.IsNaN(k.Setting.View.Focal) || !(k.Setting.Reach > 0)) {
			t.Fatalf("%q gives %+v", words, k)
		}
	})
}

// FuzzConfiguration: whatever stands where settings and bays are kept, the
// settings that come of it can be used, and the bay is one that can be or is
// refused.
func FuzzConfiguration(f *testing.F) {
	ctx := context.Background()
	l, err := ledger.Open(filepath.Join(f.TempDir(), ledger.FileName))
	if err != nil {
		f.Fatal(err)
	}
	f.Cleanup(func() { l.Close() })
	f.Fuzz(func(t *testing.T, text string) {
		for _, key := range []string{"setup", "bay a camera"} {
			if err := l.PutSetting(ctx, key, text); err != nil {
				t.Skip(err) // what cannot be stored was never kept
			}
		}
		b, err := book.Read(ctx, l, "")
		if err != nil {
			t.Fatal(err)
		}
		s, _ := b.Setup(ctx)
		if !(s.ScreenInch >= 7 && s.ScreenInch <= 85 && s.ViewMetres >= 1 && s.ViewMetres <= 8 && s.Late >= 1 && s.Late <= 8) || s.Theme == "" {
			t.Fatalf("%q gives %+v", text, s)
		}
		set, ok, err := b.Bay(ctx, "a camera")
		if err != nil || !ok {
			return
		}
		k, err := bay.Known(set, drills.Right, 0, 1280, 720)
		if err == nil && (math.IsNaN(k.Setting.View.Focal) || !(k.Setting.Reach > 0) || math.IsNaN(k.Setting.View.Target.U)) {
			t.Fatalf("%q gives %+v of %+v", text, k, set)
		}
	})
}
