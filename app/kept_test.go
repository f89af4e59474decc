package app

import (
	"errors"
	"fmt"
	"runtime"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills/book"
	"drillbay/drills/clips"
	"drillbay/drills/runner"
)

// keptOf is a trial before the list of kept clips.
func keptOf(t *testing.T, clips ...book.ClipLine) *trial {
	a := newTrial()
	a.players = []book.PlayerLine{{Player: runner.Player{ID: "m", Name: "Marta"}}}
	a.clips = clips
	a.key(Progress)
	require.Equal(t, "kept clips", a.typed("k").Screen)
	return a
}

func TestKeptClipsAreListedPlayedRenamedShownAndDeleted(t *testing.T) {
	one, two := book.ClipLine{ID: "1", Player: "m", Who: "Marta", File: "Marta-2026-11-28-10.15-rep-7.avi"}, book.ClipLine{ID: "2", Player: "b", Who: "Bo", File: "Bo-2026-11-27-10.15-rep-2.gif"}
	a := keptOf(t, one, two)
	v := a.step()
	require.True(t, v.Says(one.File) && v.Says(two.File) && v.Says("Marta"), "those of all players")

	reel := &film{}
	a.d.Watch = func(file string) (clips.Loop, error) {
		if file == two.File {
			return nil, errors.New("it is no clip")
		}
		return reel, nil
	}
	a.key(Go)
	for a.step(); a.top().(*keptScreen).loop == nil; a.step() {
		runtime.Gosched()
	}
	require.NotNil(t, a.step().Pictures[0], "it plays")
	a.typed(" ")
	require.True(t, a.top().(*keptScreen).player.Still())
	require.Equal(t, "kept clips", a.key(Back).Screen)
	require.True(t, a.step().Says(two.File), "back to the list")

	a.key(Down)
	a.key(Go)
	for !a.step().Says("It is no clip.") {
		runtime.Gosched()
	}

	a.typed("i")
	a.typed(" x")
	require.True(t, a.key(Keys).Screen == "kept clips", "letters write the name")
	a.key(Go)
	a.worked()
	a.typed("x")
	a.worked()
	a.key(EraseOn)
	require.True(t, a.step().Says("Delete "+two.File+"?"))
	for range 20 {
		a.key(EraseOn) // held
	}
	a.key(Back)
	require.Len(t, a.jobs, 2, "nothing is deleted by a key that is held")
	a.key(EraseOn)
	a.key(Go)
	a.worked()
	require.Equal(t, []Job{{Do: Pencil, Player: "b", Clip: two, Name: "Bo-2026-11-27-10.15-rep-2 x"}, {Do: Export, Player: "b", Clip: two}, {Do: EraseOn, Player: "b", Clip: two}}, a.jobs)

	// What is gone is off the list, and another is chosen.
	a.clips = []book.ClipLine{one}
	for a.step().Says(two.File) {
		runtime.Gosched()
	}
	require.True(t, keptOf(t).step().Says("No clip is kept."))
}

// An empty list names no key that would do nothing.
func TestAnEmptyListOfKeptClipsNamesOnlyTheWayBack(t *testing.T) {
	hits := func(a *trial) (out []Do) {
		for _, h := range a.step().Hits {
			out = append(out, h.Do)
		}
		return out
	}
	require.Equal(t, []Do{Back}, hits(keptOf(t)))
	require.Contains(t, hits(keptOf(t, book.ClipLine{ID: "1", File: "one.avi"})), Pencil)
}

// The chosen clip is shown by its middle picture, without a key, and two are played
// beside each other.
func TestAKeptClipIsSeenAndTwoAreCompared(t *testing.T) {
	one, two := book.ClipLine{ID: "1", Player: "m", Who: "Marta", File: "one.avi"}, book.ClipLine{ID: "2", Player: "m", Who: "Marta", File: "two.avi"}
	a := keptOf(t, one, two)
	var mu sync.Mutex
	var asked []string
	a.d.Watch = func(file string) (clips.Loop, error) {
		mu.Lock()
		defer mu.Unlock()
		asked = append(asked, file)
		return &film{}, nil
	}
	a.step()
	for a.now += 1; a.step().Pictures[0] == nil; {
		runtime.Gosched()
	}
	require.InDelta(t, 0.5, a.step().Pictures[0].Seconds(), 1e-6, "its middle")
	a.key(Go)
	for a.step(); a.top().(*keptScreen).loop == nil; a.step() {
		runtime.Gosched()
	}
	mu.Lock()
	require.Equal(t, []string{"one.avi"}, asked, "what is shown plays without being read again")
	mu.Unlock()
	a.key(Back)
	a.key(Against)
	require.True(t, a.step().Says("beside …"))
	require.True(t, a.key(Against).Says("beside another"), "and not")
	a.key(Against)
	a.key(Down)
	require.True(t, a.step().Says("play both"))
	a.key(Go)
	for a.step(); a.top().(*keptScreen).loop == nil; a.step() {
		runtime.Gosched()
	}
	v := a.step()
	require.NotNil(t, v.Pictures[0])
	require.NotNil(t, v.Pictures[1])
	a.typed(" ")
	for range 3 {
		v = a.key(Right)
		require.InDelta(t, v.Pictures[0].Seconds(), v.Pictures[1].Seconds(), 1e-6, "both go on together")
	}
	a.key(Back)
	require.Equal(t, "kept clips", a.step().Screen)
	require.True(t, a.step().Says("beside another"), "alone again")
	mu.Lock()
	defer mu.Unlock()
	require.Contains(t, asked, "one.avi")
	require.Contains(t, asked, "two.avi")
}

// Two clips of different length are level at the same moment; where the level moment of
// one is not kept both run from their start, and it is said of which.
func TestTwoClipsAreLaidOnEachOtherByTheirLevel(t *testing.T) {
	seconds := func(from, to float64) (out []float64) {
		for x := from; x < to+1e-9; x += 0.1 {
			out = append(out, x)
		}
		return out
	}
	one, two := book.ClipLine{ID: "1", File: "one.avi", Level: 0.3}, book.ClipLine{ID: "2", File: "two.gif", Level: 0.8}
	b := layBeside(one, two, seconds(0, 1), seconds(0, 2))
	require.Equal(t, "Both are level at the same moment.", b.words)
	require.InDelta(t, 0.3, 0+b.first, 1e-9)
	require.InDelta(t, 0.8, 0+b.second, 1e-9)
	require.InDelta(t, -0.8, b.times[0], 1e-9, "it runs from where the longer one begins")
	require.InDelta(t, 1.2, b.times[len(b.times)-1], 1e-9, "to where it ends")
	require.IsIncreasing(t, b.times)
	require.InDelta(t, 0, during(seconds(0, 1), b.times[0]+b.first), 1e-9, "the other waits at its first picture")

	two.Level = 0
	b = layBeside(one, two, seconds(0, 1), seconds(5, 7))
	require.Equal(t, "Both run from their start: the level moment of two.gif is not kept.", b.words)
	require.InDelta(t, 0, b.times[0], 1e-9)
	require.InDelta(t, 5, b.times[0]+b.second, 1e-9)
	one.Level = 0
	require.Contains(t, layBeside(one, two, seconds(0, 1), seconds(0, 1)).words, "of neither")
	require.Equal(t, "A picture stands still.", layBeside(one, book.ClipLine{File: "x.jpg"}, seconds(0, 1), []float64{0}).words)
}

func TestTwoClipsPlayLevelAtOnce(t *testing.T) {
	one, two := book.ClipLine{ID: "1", File: "one.avi", Who: "Marta", Level: 0.2}, book.ClipLine{ID: "2", File: "two.avi", Who: "Bo", Level: 0.7}
	a := keptOf(t, one, two)
	a.d.Watch = func(string) (clips.Loop, error) { return &film{}, nil }
	a.step()
	a.key(Against)
	a.key(Down)
	a.key(Go)
	for a.step(); a.top().(*keptScreen).loop == nil; a.step() {
		runtime.Gosched()
	}
	a.typed(" ")
	a.step()
	met := false
	for range 20 {
		v := a.key(Right)
		require.True(t, v.Says("Both are level at the same moment."))
		x, y := v.Pictures[0].Seconds(), v.Pictures[1].Seconds()
		if x > 0.05 && x < 0.35 {
			require.InDelta(t, 0.5, y-x, 1e-6)
			met = true
		}
	}
	require.True(t, met)
}

func TestACopyOfAClipIsSavedElsewhere(t *testing.T) {
	one := book.ClipLine{ID: "1", Player: "m", Who: "Marta", File: "one.avi"}
	a := keptOf(t, one)
	a.d.Places = func() []string { return []string{"/media/ada/STICK", "/home/ada/Desktop"} }
	answer := error(nil)
	work := a.d.Work
	a.d.Work = func(j Job) (string, error) {
		said, _ := work(j)
		if answer != nil {
			return "", answer
		}
		return said, nil
	}
	until := func(says string) {
		t.Helper()
		for range 1 << 20 {
			if a.step().Says(says) {
				return
			}
			runtime.Gosched()
		}
		t.Fatalf("never says %q", says)
	}
	a.step()
	require.Equal(t, "save a copy", a.key(Keep).Screen)
	until("/home/ada/Desktop")
	s := a.top().(*saveScreen)
	require.Equal(t, "/media/ada/STICK", s.folder.Value(), "a drive is offered first")
	a.key(Down)
	require.Equal(t, "/home/ada/Desktop", s.folder.Value())
	a.key(Up)
	a.key(Up)
	require.Empty(t, s.folder.Value(), "above them all another one is typed")
	a.key(Down)
	a.key(Down)
	a.typed("s")
	require.Equal(t, "/home/ada/Desktops", s.folder.Value(), "letters write")

	answer = errors.New("there is no folder")
	a.key(Go)
	until("There is no folder.")
	require.Equal(t, "save a copy", a.step().Screen)

	answer = fmt.Errorf("%w: Desktops", clips.ErrNoFolder)
	a.key(Go)
	until("Make this folder?")
	a.key(Back)
	require.Equal(t, "save a copy", a.step().Screen, "no folder is made unasked")
	require.False(t, a.jobs[len(a.jobs)-1].Sure)

	answer = fmt.Errorf("%w: there", clips.ErrThere)
	a.key(Go)
	until("Replace the file that is there?")
	a.key(Back)
	require.False(t, a.jobs[len(a.jobs)-1].Sure)
	require.Equal(t, "save a copy", a.step().Screen, "nothing is replaced unasked")
	a.key(Go)
	until("Replace the file that is there?")
	answer = nil
	a.key(Go)
	until("Written.")
	require.Equal(t, "kept clips", a.step().Screen)
	require.Equal(t, Job{Do: Keep, Player: "m", Clip: one, Name: "/home/ada/Desktops", Sure: true}, a.jobs[len(a.jobs)-1])

	a.key(Keep)
	require.Equal(t, "/home/ada/Desktops", a.top().(*saveScreen).folder.Value(), "the next one goes to the same folder")
}
