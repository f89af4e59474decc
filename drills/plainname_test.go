package drills

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
