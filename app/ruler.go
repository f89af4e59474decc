package app

import (
	"strings"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomedium"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// CapHeight is the height of a capital of the Go fonts as a share of the
// size, measured from their outlines.
const CapHeight = 0.7227

// Ruler measures text as it will be drawn: the sum of unhinted advances; the
// Go fonts have no kerning.
type Ruler struct {
	fonts  [3]*sfnt.Font
	buffer sfnt.Buffer
	cache  map[glyph]float64
}

type glyph struct {
	weight Weight
	r      rune
}

// FontData are the bytes of the font of each weight.
func FontData() [3][]byte { return [3][]byte{goregular.TTF, gomedium.TTF, gobold.TTF} }

// NewRuler reads the fonts.
func NewRuler() *Ruler {
	r := &Ruler{cache: map[glyph]float64{}}
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
	total := 0.0
	for _, c := range s {
		total += r.advance(glyph{w, c})
	}
	return total * size
}

// advance is the width of a letter at size 1.
func (r *Ruler) advance(g glyph) float64 {
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
	out := float64(a) / 64 / float64(f.UnitsPerEm())
	r.cache[g] = out
	return out
}

// Draws reports whether the family has every letter of a text.
func (r *Ruler) Draws(s string) bool {
	for _, c := range s {
		if i, err := r.fonts[Regular].GlyphIndex(&r.buffer, c); err != nil || i == 0 {
			return false
		}
	}
	return true
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
