// Package soaktest looks at what a process holds over a long time, for tests.
package soaktest

import (
	"fmt"
	"math"
	"os"
	"runtime"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Sample holds what a process uses at a time of the practice, s. It is read from /proc; on
// other systems only the heap and the goroutines are known.
type Sample struct {
	At               float64
	Heap, RSS        float64 // MB
	Goroutines, Open float64 // Open: file descriptors
	Images           float64 // on the graphics card
}

// Hold takes a sample of this process.
func Hold(at float64) Sample {
	debug.FreeOSMemory()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	pages := 0.0
	if text, err := os.ReadFile("/proc/self/statm"); err == nil {
		fmt.Sscan(strings.Fields(string(text))[1], &pages)
	}
	files, _ := os.ReadDir("/proc/self/fd")
	return Sample{At: at, Heap: float64(m.HeapAlloc) / 1e6, RSS: pages * float64(os.Getpagesize()) / 1e6,
		Goroutines: float64(runtime.NumGoroutine()), Open: float64(len(files))}
}

// Minutes returns how long the soak lasts, from DRILLBAY_SOAK; without it the test is
// skipped.
func Minutes(t *testing.T) float64 {
	t.Helper()
	m, err := strconv.ParseFloat(os.Getenv("DRILLBAY_SOAK"), 64)
	if err != nil || m <= 0 {
		t.Skip("DRILLBAY_SOAK says how many minutes: make soak takes 30")
	}
	return m
}

// Ends are the medians of a value over the second eighth of a run and over its
// last.
func Ends[S any](t *testing.T, all []S, of func(S) float64) (first, last float64) {
	t.Helper()
	require.GreaterOrEqual(t, len(all), 16, "too short to tell")
	middle := func(part []S) float64 {
		var v []float64
		for _, s := range part {
			v = append(v, of(s))
		}
		slices.Sort(v)
		return v[len(v)/2]
	}
	n := len(all) / 8
	return middle(all[n : 2*n]), middle(all[len(all)-n:])
}

// Flat checks that nothing of what is held changed by more than 5 % from the
// second eighth of a run to its last; a few of what is counted may come and go.
// caches is the memory that caches with a limit may still take meanwhile, MB.
func Flat(t *testing.T, all []Sample, caches float64) {
	t.Helper()
	for _, c := range []struct {
		what string
		of   func(Sample) float64
		few  float64
	}{
		{"heap, MB", func(s Sample) float64 { return s.Heap }, max(1, caches)},
		{"memory, MB", func(s Sample) float64 { return s.RSS }, max(2, caches)},
		{"goroutines", func(s Sample) float64 { return s.Goroutines }, 1},
		{"open files", func(s Sample) float64 { return s.Open }, 1},
		{"images", func(s Sample) float64 { return s.Images }, 0},
	} {
		first, last := Ends(t, all, c.of)
		if c.what == "images" && first == 0 && last == 0 {
			continue // there is no window
		}
		t.Logf("%s: %.4g at first, %.4g at last (%+.1f %%)", c.what, first, last, 100*(last/first-1))
		require.LessOrEqual(t, math.Abs(last-first), max(0.05*first, c.few), c.what)
	}
}
