package drills

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// PlainName is a name as a file name of any system: letters, digits and
// hyphens, no more than some systems take.
func PlainName(s string) string {
	const longest = 80 // bytes
	var b strings.Builder
	for _, r := range s {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			r = '-'
		}
		if b.Len()+utf8.RuneLen(r) > longest {
			break
		}
		b.WriteRune(r)
	}
	out := strings.Trim(b.String(), "-")
	if out == "" {
		return "player"
	}
	return out
}
