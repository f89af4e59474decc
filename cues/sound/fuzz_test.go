package sound

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

// FuzzSpokenNames: what is left of a name for the speech program is letters,
// digits and what belongs in names: nothing that a shell, a script or the
// program's own markup takes for a command.
func FuzzSpokenNames(f *testing.F) {
	f.Fuzz(func(t *testing.T, name string) {
		text := spoken(name)
		if utf8.RuneCountInString(text) > longestName || !utf8.ValidString(text) {
			t.Fatalf("%q of %q", text, name)
		}
		for _, r := range text {
			if !unicode.IsLetter(r) && !unicode.IsMark(r) && !unicode.IsDigit(r) && !strings.ContainsRune("'-. ", r) {
				t.Fatalf("%q of %q", text, name)
			}
		}
	})
}
