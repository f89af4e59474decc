// Package widget has the state of the things a user acts on: a text field, a
// list, a choice, a number, a press. How they look is another package's job.
// Every zero value works.
package widget

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Field is one line of text with a cursor. Most letters is 0 for no limit.
type Field struct {
	Most   int
	text   []rune
	cursor int
}

// Set replaces the text and puts the cursor behind it.
func (f *Field) Set(s string) {
	f.text, f.cursor = nil, 0
	f.Type(s)
}

// Text returns the text as it stands in the field.
func (f *Field) Text() string { return string(f.text) }

// Value is the text without space around it and with single spaces inside.
func (f *Field) Value() string { return strings.Join(strings.Fields(f.Text()), " ") }

// Cursor is the number of letters before the cursor.
func (f *Field) Cursor() int { return f.cursor }

// Type puts text in at the cursor. Control characters, and what is not valid
// text, are left out; a line break ends what is taken.
func (f *Field) Type(s string) {
	for _, r := range s {
		if r == '\n' || r == '\r' {
			return
		}
		if r == utf8.RuneError || !unicode.IsPrint(r) || (f.Most > 0 && len(f.text) >= f.Most) {
			continue
		}
		f.text = append(f.text, 0)
		copy(f.text[f.cursor+1:], f.text[f.cursor:])
		f.text[f.cursor] = r
		f.cursor++
	}
}

// Back deletes the letter before the cursor.
func (f *Field) Back() {
	if f.cursor > 0 {
		f.cursor--
		f.text = append(f.text[:f.cursor], f.text[f.cursor+1:]...)
	}
}

// Delete deletes the letter behind the cursor.
func (f *Field) Delete() {
	if f.cursor < len(f.text) {
		f.text = append(f.text[:f.cursor], f.text[f.cursor+1:]...)
	}
}

// Move moves the cursor by letters, stopping at the ends.
func (f *Field) Move(letters int) {
	f.cursor = min(max(f.cursor+letters, 0), len(f.text))
}

// Home and End move the cursor to the ends.
func (f *Field) Home() { f.cursor = 0 }

// End moves the cursor behind the text.
func (f *Field) End() { f.cursor = len(f.text) }
