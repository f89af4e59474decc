package drills

import (
	"unicode"
	"unicode/utf8"
)

// UpperFirst returns a text with its first letter as a capital, in any script.
func UpperFirst(s string) string { return withFirst(s, unicode.ToUpper) }

// LowerFirst returns a text with its first letter small, in any script.
func LowerFirst(s string) string { return withFirst(s, unicode.ToLower) }

func withFirst(s string, change func(rune) rune) string {
	first, n := utf8.DecodeRuneInString(s)
	if first == utf8.RuneError {
		return s // empty, or no text
	}
	return string(change(first)) + s[n:]
}

// Sentence makes a sentence of the text of an error: with a capital and a full stop. Of ""
// it makes "".
func Sentence(s string) string {
	if s == "" {
		return s
	}
	return UpperFirst(s) + "."
}
