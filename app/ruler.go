package app

import (
	"strings"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomedium"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"drillbay/app/letters"
)

// CapHeight is the height of a capital of the Go fonts as a share of the
// size, measured from their outlines.
const CapHeight = 0.7227

// Ruler measures text as it will be drawn: the sum of unhinted advances, since
// the Go fonts have no kerning, and what fonts of the system make of the rest.
type Ruler struct {
	fonts   [3]*sfnt.Font
	buffer  sfnt.Buffer
	cache   map[glyph]advance
	others  *letters.Finder
	builtIn func(rune) bool
}

// advance is the width of a letter at size 1, and whether the Go fonts have it.
type advance struct {
	width float64
	own   bool
}

type glyph struct {
	weight Weight
	r      rune
}

// FontData are the bytes of the font of each weight.
func FontData() [3][]byte { return [3][]byte{goregular.TTF, gomedium.TTF, gobold.TTF} }

// NewRuler reads the fonts. Others finds what these lack; nil: nothing does.
func NewRuler(others *letters.Finder) *Ruler {
	r := &Ruler{cache: map[glyph]advance{}, others: others}
	r.builtIn = func(c rune) bool { return r.advance(glyph{Regular, c}).own }
	for i, data := range FontData() {
		f, err := sfnt.Parse(data)
		if err != nil {
			panic("app: the built-in font does not parse: " + err.Error())
		}
		r.fonts[i] = f
	}
	return r
}

// Width is the width of a text at a size, px.
func (r *Ruler) Width(s string, size float64, w Weight) float64 {
	total, own := r.plain(s, w)
	if own || r.others == nil {
		return total * size
	}
	total = 0
	for _, part := range r.Runs(s, w) {
		if part.Font != nil {
			total += part.Width
			continue
		}
		one, _ := r.plain(part.Text, w)
		total += one
	}
	return total * size
}

// plain is a text's width in the Go fonts at size 1, and whether these have all
// of it.
func (r *Ruler) plain(s string, w Weight) (width float64, own bool) {
	own = true
	for _, c := range s {
		a := r.advance(glyph{w, c})
		width += a.width
		own = own && a.own
	}
	return width, own
}

// Runs are the parts of a text by their fonts, nil where all is in the Go fonts.
func (r *Ruler) Runs(s string, w Weight) []letters.Run {
	if _, own := r.plain(s, w); own || r.others == nil {
		return nil
	}
	return r.others.Runs(s, w == Bold, r.builtIn)
}

// advance returns the advance width of a letter at size 1.
func (r *Ruler) advance(g glyph) advance {
	if a, ok := r.cache[g]; ok {
		return a
	}
	f := r.fonts[g.weight]
	units := fixed.Int26_6(f.UnitsPerEm())
	i, err := f.GlyphIndex(&r.buffer, g.r)
	if err != nil {
		i = 0
	}
	a, err := f.GlyphAdvance(&r.buffer, i, units<<6, font.HintingNone)
	if err != nil {
		a = units << 5
	}
	out := advance{float64(a) / 64 / float64(f.UnitsPerEm()), i != 0}
	r.cache[g] = out
	return out
}

// Draws reports whether every letter of a text can be drawn; true also while a
// font is looked for.
func (r *Ruler) Draws(s string) bool {
	_, own := r.plain(s, Regular)
	return own || r.others.Has(s, r.builtIn)
}

// Fit is the largest whole size up to size at which a text fits a width, not
// below floor; ok is false when it does not fit even so.
func (r *Ruler) Fit(s string, size, floor float64, w Weight, width float64) (fits float64, ok bool) {
	one := r.Width(s, 1, w)
	if one*size <= width {
		return size, true
	}
	fits = float64(int(width / one))
	if fits < floor {
		return floor, false
	}
	return fits, true
}

// Cut shortens a text by its last letters until it fits a width.
func (r *Ruler) Cut(s string, size float64, w Weight, width float64) string {
	if r.Width(s, size, w) <= width {
		return s
	}
	runes := []rune(s)
	for n := len(runes) - 1; n > 0; n-- {
		t := strings.TrimRight(string(runes[:n]), " ,.") + "…"
		if r.Width(t, size, w) <= width {
			return t
		}
	}
	return ""
}

// Wrap breaks a text into lines at its spaces. A word wider than the width is
// cut.
func (r *Ruler) Wrap(s string, size float64, w Weight, width float64) (lines []string) {
	line := ""
	for _, word := range strings.Fields(s) {
		longer := strings.TrimLeft(line+" "+word, " ")
		if r.Width(longer, size, w) <= width {
			line = longer
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		line = r.Cut(word, size, w, width)
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
