package paint

import (
	"bytes"
	"errors"
	"image/color"
	"math"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/text/v2"

	"drillbay/app"
	"drillbay/app/letters"
)

// other is a font of the system at a size.
type other struct {
	font   *letters.Font
	size   float64
	toLeft bool
}

// source is a font of a file as it is drawn.
func source(file []byte, index int) (any, error) {
	all, err := text.NewGoTextFaceSourcesFromCollection(bytes.NewReader(file))
	if err != nil {
		return nil, err
	}
	if index >= len(all) {
		return nil, errors.New("the file has no such font")
	}
	return all[index], nil
}

// text writes an item, each part of it in its font.
func (p *Painter) text(screen *ebiten.Image, i app.Item, c color.NRGBA) {
	runs := p.ruler.Runs(i.Text, i.Weight)
	if runs == nil {
		p.put(screen, i.Text, i.X, i, p.builtIn(i), c)
		return
	}
	x := i.X
	for _, r := range runs {
		f := p.builtIn(i)
		if r.Font != nil && r.Font.Drawn != nil {
			f = p.other(r, i.Size)
		}
		p.put(screen, r.Text, math.Round(x), i, f, c)
		if r.Font != nil {
			x += r.Width * i.Size
		} else {
			x += p.ruler.Width(r.Text, i.Size, i.Weight)
		}
	}
}

// put writes from x on, on the item's line.
func (p *Painter) put(screen *ebiten.Image, s string, x float64, i app.Item, f *text.GoTextFace, c color.NRGBA) {
	p.write.GeoM.Reset()
	p.write.GeoM.Translate(x, i.Y-f.Metrics().HAscent)
	p.write.ColorScale.Reset()
	p.write.ColorScale.ScaleWithColor(c)
	p.write.LineSpacing = i.Size
	p.write.PrimaryAlign = text.AlignStart
	if f.Direction == text.DirectionRightToLeft {
		p.write.PrimaryAlign = text.AlignEnd // x is the left end all the same
	}
	text.Draw(screen, s, f, &p.write)
}

func (p *Painter) builtIn(i app.Item) *text.GoTextFace {
	key := face{i.Weight, i.Size}
	f, ok := p.faces[key]
	if !ok {
		f = &text.GoTextFace{Source: p.fonts[i.Weight], Size: i.Size}
		p.faces[key] = f
	}
	return f
}

func (p *Painter) other(r letters.Run, size float64) *text.GoTextFace {
	key := other{r.Font, size, r.ToLeft}
	f, ok := p.others[key]
	if !ok {
		f = &text.GoTextFace{Source: r.Font.Drawn.(*text.GoTextFaceSource), Size: size}
		if r.ToLeft {
			f.Direction = text.DirectionRightToLeft
		}
		p.others[key] = f
	}
	return f
}
