package letters

import (
	"testing"
	"time"

	"github.com/go-text/typesetting/fontscan"
	"github.com/stretchr/testify/require"
)

// latin are the letters of the built-in fonts, as far as these tests go.
func latin(r rune) bool { return r < 0x250 }

// found waits until nothing more is looked for; it is skipped, by name, where the
// system has no font for a text.
func found(t *testing.T, f *Finder, text string) []Run {
	t.Helper()
	f.Runs(text, false, latin)
	require.Eventually(t, func() bool { return !f.Looks() }, time.Minute, time.Millisecond)
	if !f.Has(text, latin) {
		t.Skipf("no font of this system has %q", text)
	}
	return f.Runs(text, false, latin)
}

func TestAWordIsInTheFontThatHasIt(t *testing.T) {
	f := New(t.TempDir())
	grown := f.Grown()
	runs := found(t, f, "Rung 3: 王小明, 12")
	require.Greater(t, f.Grown(), grown, "what was drawn before is drawn again")
	require.Equal(t, "Rung 3: ", runs[0].Text)
	require.Nil(t, runs[0].Font)
	require.NotNil(t, runs[1].Font)
	require.Equal(t, "王小明", runs[1].Text)
	require.Equal(t, ", 12", runs[2].Text)
	// An ideograph fills its em box (OpenType specification, baseline tags
	// "ideo" and "idtp").
	require.InDelta(t, 3, found(t, f, "王小明")[0].Width, 0.15)
}

func TestWordsFromTheRightKeepTheirOrder(t *testing.T) {
	f := New(t.TempDir())
	runs := found(t, f, "Ada, שרה כהן, 7")
	require.Len(t, runs, 3)
	require.Equal(t, "שרה כהן", runs[1].Text)
	require.True(t, runs[1].ToLeft)
	require.False(t, runs[0].ToLeft)
	// Letters that join are narrower than one by one.
	joined, one := found(t, f, "محمد")[0].Width, 0.0
	for _, r := range "محمد" {
		one += found(t, f, string(r))[0].Width
	}
	require.Less(t, joined, one)
}

func TestAWordIsInOneFontAsAWhole(t *testing.T) {
	runs := found(t, New(t.TempDir()), "Thu Nguyễn")
	require.Equal(t, "Nguyễn", runs[len(runs)-1].Text)
}

func TestWithoutAFontTheBuiltInOneIsUsed(t *testing.T) {
	for name, f := range map[string]*Finder{"none": nil, "no fonts": newFinder(func() []fontscan.Footprint { return nil }),
		"a folder that cannot be": New("/dev/null/fonts"),
		"a font that is gone":     newFinder(func() []fontscan.Footprint { return []fontscan.Footprint{everything("/nothing.ttf")} }),
		"a file that is none":     newFinder(func() []fontscan.Footprint { return []fontscan.Footprint{everything("letters_test.go")} })} {
		f.Runs("王", false, latin)
		require.Eventually(t, func() bool { return !f.Looks() }, time.Minute, time.Millisecond, name)
		require.Equal(t, []Run{{Text: "王 and 明"}}, settled(f, "王 and 明"), name)
		require.False(t, f.Has("王", latin), name)
	}
}

func settled(f *Finder, text string) []Run {
	f.Runs(text, false, latin)
	for f.Looks() {
		time.Sleep(time.Millisecond)
	}
	return f.Runs(text, false, latin)
}

// everything is a font that says it has all letters.
func everything(file string) (p fontscan.Footprint) {
	p.Location.File = file
	for r := rune(0x4e00); r < 0x9fff; r++ {
		p.Runes.Add(r)
	}
	return p
}

func TestATextThatWasSeenAllocatesNothing(t *testing.T) {
	f := New(t.TempDir())
	found(t, f, "Rung 3: שרה כהן")
	require.Zero(t, testing.AllocsPerRun(100, func() { f.Runs("Rung 3: שרה כהן", false, latin) }))
}
