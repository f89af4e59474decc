package live

import (
	"path/filepath"
	"strings"
	"testing"
)

// FuzzFileNames: a player's name as part of a file's name leaves no folder and
// is one that any system takes.
func FuzzFileNames(f *testing.F) {
	f.Fuzz(func(t *testing.T, name string) {
		got := PlainName(name)
		if got == "" || got != filepath.Base(got) || strings.ContainsAny(got, "/\\:*?\"<>|. \x00") || strings.HasPrefix(got, "-") || len(got) > 100 {
			t.Fatalf("%q of %q", got, name)
		}
		for _, r := range got {
			if r < 0x20 || r == 0x7f || r == '\uFFFD' {
				t.Fatalf("%q of %q", got, name)
			}
		}
	})
}

// FuzzSizes: the size of the virtual bay's picture is one that can be drawn, or
// it is refused.
func FuzzSizes(f *testing.F) {
	f.Fuzz(func(t *testing.T, size string, rate float64) {
		o := Options{Size: size, Rate: rate}
		if o.Check() != nil {
			return
		}
		w, h := o.Pixels()
		if w < 16 || h < 16 || w > 4096 || h > 4096 || !(rate > 0 && rate <= 1000) {
			t.Fatalf("%d × %d at %v", w, h, rate)
		}
	})
}
