package letters

import (
	"unicode"

	"github.com/go-text/typesetting/di"
	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/language"
	"github.com/go-text/typesetting/shaping"
	"golang.org/x/image/math/fixed"
	"golang.org/x/text/unicode/bidi"
)

// Run is a part of a text in one font.
type Run struct {
	Text string
	// Font is nil for the built-in one. Width is at size 1 then 0, otherwise the
	// text's as it is shaped.
	Font  *Font
	Width float64
	// ToLeft says that it is read from the right to the left.
	ToLeft bool
}

// Runs are the parts of a text from the left to the right; own says which
// letters the built-in fonts have. What has no font, or none yet, is in the
// built-in one. The same slice is returned for the same text.
func (f *Finder) Runs(text string, bold bool, own func(rune) bool) []Run {
	if f == nil {
		return []Run{{Text: text}}
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	key := word{text, bold}
	if out, ok := f.runs[key]; ok {
		return out
	}
	out := f.cut(text, bold, own)
	for i := range out {
		if out[i].Font != nil {
			out[i].Width = f.width(out[i])
		}
	}
	if len(f.runs) >= most {
		clear(f.runs)
	}
	f.runs[key] = out
	return out
}

// cut joins the words of one font. A word that the built-in font does not have
// in full is in another font as a whole where one has it, otherwise letter by
// letter.
func (f *Finder) cut(text string, bold bool, own func(rune) bool) (out []Run) {
	put := func(s string, font *Font) {
		if n := len(out); n > 0 && out[n-1].Font == font && (font == nil || out[n-1].ToLeft == toLeft(s)) {
			out[n-1].Text += s
			return
		}
		// What stands between two words from the right to the left is theirs: they
		// keep their order (Unicode Standard Annex 9, N1).
		if n := len(out); n > 1 && font != nil && out[n-2].Font == font && out[n-2].ToLeft && toLeft(s) && all(out[n-1].Text, between) && outlined(font.face, out[n-1].Text) {
			out[n-2].Text += out[n-1].Text + s
			out = out[:n-1]
			return
		}
		out = append(out, Run{Text: s, Font: font, ToLeft: font != nil && toLeft(s)})
	}
	for _, w := range words(text) {
		switch font, known := f.find(word{w, bold}, own); {
		case all(w, own), font != nil, !known:
			put(w, font)
		default:
			for _, r := range w {
				font, _ := f.find(word{string(r), bold}, own)
				put(string(r), font)
			}
		}
	}
	return out
}

// words are a text's words and what stands between them, blanks and stops.
func words(text string) (out []string) {
	begin, was := 0, false
	for i, r := range text {
		if is := between(r); i > begin && is != was {
			out = append(out, text[begin:i])
			begin, was = i, is
		} else {
			was = is
		}
	}
	if begin < len(text) {
		out = append(out, text[begin:])
	}
	return out
}

func between(r rune) bool { return unicode.IsSpace(r) || unicode.IsPunct(r) }

func all(s string, is func(rune) bool) bool {
	for _, r := range s {
		if !is(r) {
			return false
		}
	}
	return true
}

// toLeft reports whether the first letter with a direction is read to the left
// (Unicode Standard Annex 9).
func toLeft(s string) bool {
	for _, r := range s {
		p, _ := bidi.LookupRune(r)
		switch p.Class() {
		case bidi.R, bidi.AL:
			return true
		case bidi.L:
			return false
		}
	}
	return false
}

// alone is a font for every letter.
type alone struct{ face *font.Face }

func (a alone) ResolveFace(rune) *font.Face { return a.face }

// width returns the width of a run at size 1.
func (f *Finder) width(r Run) float64 {
	const size = 100
	runes := []rune(r.Text)
	in := shaping.Input{Text: runes, RunEnd: len(runes), Face: r.Font.face, Size: fixed.I(size), Language: language.NewLanguage("en")}
	in.Direction = di.DirectionLTR
	if r.ToLeft {
		in.Direction = di.DirectionRTL
	}
	total := fixed.Int26_6(0)
	for _, part := range f.segment.Split(in, alone{r.Font.face}) {
		total += f.shaper.Shape(part).Advance
	}
	return float64(total) / 64 / size
}
