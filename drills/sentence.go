package drills

import (
	"unicode"
	"unicode/utf8"
)

// Capital returns a text with its first letter as a capital, in any script.
func Capital(s string) string {
	first, n := utf8.DecodeRuneInString(s)
	if n == 0 || first == utf8.RuneError {
		return s
	}
	return string(unicode.ToUpper(first)) + s[n:]
}

// Sentence makes a sentence of the text of an error: with a capital and a full stop. Of ""
// it makes "".
func Sentence(s string) string {
	if s == "" {
		return s
	}
	return Capital(s) + "."
}
