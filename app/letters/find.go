package letters

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/opentype"
	"github.com/go-text/typesetting/fontscan"
)

// largest is the largest file of a font that is read, bytes.
const largest = 128 << 20

// find is the font of a word, from memory; known is false while it is looked
// for. The built-in one is nil.
func (f *Finder) find(w word, own func(rune) bool) (*Font, bool) {
	if all(w.text, own) {
		return nil, true
	}
	if found, ok := f.known[w]; ok {
		return found, true
	}
	if !slices.Contains(f.wanted, w) {
		f.wanted = append(f.wanted, w)
	}
	if !f.busy {
		f.busy = true
		go f.search()
	}
	return nil, false
}

// search finds what is wanted, until nothing is.
func (f *Finder) search() {
	f.mu.Lock()
	defer f.mu.Unlock()
	for len(f.wanted) > 0 {
		wanted := f.wanted
		f.wanted = nil
		if !f.listed {
			f.mu.Unlock()
			prints := f.list()
			f.mu.Lock()
			f.prints, f.listed = prints, true
		}
		if len(f.known) >= most {
			clear(f.known)
		}
		for _, w := range wanted {
			f.known[w] = f.pick(w)
		}
		clear(f.runs)
		f.grown.Add(1)
	}
	f.busy = false
}

// pick is the font that suits a word best, nil when none has it. It is called
// with the lock held and lets go of it to read a font.
func (f *Finder) pick(w word) *Font {
	type choice struct {
		at    int
		worse int
	}
	var list []choice
	for i, p := range f.prints {
		if all(w.text, p.Runes.Contains) {
			list = append(list, choice{i, unlike(p, w.bold)})
		}
	}
	slices.SortStableFunc(list, func(a, b choice) int { return cmp.Compare(a.worse, b.worse) })
	for _, c := range list[:min(len(list), 8)] {
		p := f.prints[c.at]
		got, ok := f.loaded[p.Location]
		if !ok {
			open := f.open
			f.mu.Unlock()
			got, _ = load(p, open) // one that cannot be read is as none
			f.mu.Lock()
			f.loaded[p.Location] = got
		}
		if got != nil && outlined(got.face, w.text) {
			return got
		}
	}
	return nil
}

// unlike returns how little a font suits beside the built-in ones, which are upright, of
// common width and without serifs.
func unlike(p fontscan.Footprint, bold bool) int {
	worse := 0
	want := font.WeightNormal
	if bold {
		want = font.WeightBold
	}
	if p.Aspect.Style == font.StyleItalic {
		worse += 1000
	}
	if p.Aspect.Stretch != font.StretchNormal && p.Aspect.Stretch != 0 {
		worse += 400
	}
	for _, k := range []string{"serif", "mono", "math", "emoji", "symbol", "condensed"} {
		if strings.Contains(strings.ReplaceAll(p.Family, "sansserif", ""), k) {
			worse += 300
		}
	}
	if !strings.Contains(p.Family, "sans") {
		worse += 100
	}
	return worse + int(max(p.Aspect.Weight-want, want-p.Aspect.Weight))/4
}

// load reads a font. One that cannot be read counts as one that is not there.
func load(p fontscan.Footprint, open func([]byte, int) (any, error)) (out *Font, err error) {
	defer func() {
		if wrong := recover(); wrong != nil {
			out, err = nil, fmt.Errorf("%s cannot be read: %v", p.Location.File, wrong)
		}
	}()
	info, err := os.Stat(p.Location.File)
	if err != nil {
		return nil, err
	}
	if info.Size() > largest {
		return nil, fmt.Errorf("%s is too large for a font", p.Location.File)
	}
	data, err := os.ReadFile(p.Location.File)
	if err != nil {
		return nil, err
	}
	all, err := opentype.NewLoaders(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	if int(p.Location.Index) >= len(all) {
		return nil, errors.New("the file has no such font")
	}
	parsed, err := font.NewFont(all[p.Location.Index])
	if err != nil {
		return nil, err
	}
	out = &Font{face: font.NewFace(parsed)}
	if open != nil {
		if out.Drawn, err = open(data, int(p.Location.Index)); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// outlined reports whether a font draws all letters by outlines: pictures of
// letters cannot be drawn in any size.
func outlined(f *font.Face, text string) bool {
	for _, r := range text {
		id, ok := f.NominalGlyph(r)
		if !ok {
			return false
		}
		switch g := f.GlyphData(id).(type) {
		case font.GlyphOutline, font.GlyphSVG:
		case font.GlyphBitmap:
			if g.Outline == nil {
				return false
			}
		default:
			return false
		}
	}
	return true
}
