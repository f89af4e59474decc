package paint

import (
	"bytes"
	"fmt"
	"image"
	"image/color"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/text/v2"

	"drillbay/app"
	"drillbay/app/letters"
)

// Painter draws views. It keeps what is costly to make: fonts, shader, the
// planes of pictures. It is used by the goroutine that draws.
type Painter struct {
	white   *ebiten.Image
	ruler   *app.Ruler
	fonts   [3]*text.GoTextFaceSource
	faces   map[face]*text.GoTextFace
	others  map[other]*text.GoTextFace
	shader  *ebiten.Shader
	slots   [app.Slots]planes
	mesh    mesh
	options ebiten.DrawTrianglesOptions
	write   text.DrawOptions
}

type face struct {
	weight app.Weight
	size   float64
}

// New reads fonts and shader. Others finds fonts for what the built-in ones
// lack; nil: nothing does.
func New(others *letters.Finder) (*Painter, error) {
	p := &Painter{faces: map[face]*text.GoTextFace{}, others: map[other]*text.GoTextFace{}, ruler: app.NewRuler(others)}
	others.Open(source)
	for i, data := range app.FontData() {
		source, err := text.NewGoTextFaceSource(bytes.NewReader(data))
		if err != nil {
			return nil, fmt.Errorf("the built-in font cannot be read: %w", err)
		}
		p.fonts[i] = source
	}
	var err error
	if p.shader, err = ebiten.NewShader(planesSource); err != nil {
		return nil, fmt.Errorf("the picture's shader does not compile: %w", err)
	}
	images.Add(1)
	p.white = ebiten.NewImageWithOptions(image.Rect(0, 0, 3, 3), &ebiten.NewImageOptions{Unmanaged: true})
	p.white.Fill(color.White)
	p.options.ColorScaleMode = ebiten.ColorScaleModePremultipliedAlpha
	return p, nil
}

// Part draws what of a view lies in a part of the screen: nothing outside it
// is touched. Drawing in software costs by the pixel.
func (p *Painter) Part(screen *ebiten.Image, v *app.View, part image.Rectangle) {
	part = part.Intersect(screen.Bounds())
	if !part.Empty() {
		p.Draw(screen.SubImage(part).(*ebiten.Image), v)
	}
}

// Draw draws a view over the whole of the screen.
func (p *Painter) Draw(screen *ebiten.Image, v *app.View) {
	theme := Named(v.Theme)
	for _, i := range v.Items {
		switch i.Shape {
		case app.Text:
			p.flush(screen)
			p.text(screen, i, theme[i.Role])
		case app.Picture:
			pic := v.Pictures[i.Slot]
			if pic == nil {
				continue
			}
			p.flush(screen)
			p.slots[i.Slot].draw(screen, p.shader, pic, app.Rect{X: i.X, Y: i.Y, W: i.W, H: i.H}, i.Crop)
		default:
			// Indices are 16 bits wide.
			if len(p.mesh.vertices) > 30000 {
				p.flush(screen)
			}
			p.mesh.add(i, theme[i.Role])
		}
	}
	p.flush(screen)
}

// flush draws the triangles collected so far, so that what comes later lies
// over them.
func (p *Painter) flush(screen *ebiten.Image) {
	if len(p.mesh.indices) > 0 {
		screen.DrawTriangles(p.mesh.vertices, p.mesh.indices, p.white, &p.options)
	}
	p.mesh.vertices, p.mesh.indices = p.mesh.vertices[:0], p.mesh.indices[:0]
}
