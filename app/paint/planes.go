package paint

import (
	_ "embed"
	"image"
	"sync/atomic"

	"github.com/hajimehoshi/ebiten/v2"

	"drillbay/app"
	"drillbay/camera/frame"
)

//go:embed planes.kage
var planesSource []byte

var images atomic.Int64 // made and not given back

// Images returns how many images of this program lie on the graphics card now. The images
// in which the library keeps letters count too: it never frees them.
func Images() int { return int(images.Load()) }

// planes keeps a picture's Y, Cb and Cr planes on the graphics card, four
// bytes to a texel, and converts them while drawing.
type planes struct {
	images   [3]*ebiten.Image
	picture  *frame.Picture
	index    int64
	at       int64
	scratch  []byte
	options  ebiten.DrawTrianglesShaderOptions
	vertices [4]ebiten.Vertex
	uniforms map[string]any
}

// upload takes a picture's planes unless they are there already. Pictures
// come from a pool: the same memory with another time is another picture.
func (pl *planes) upload(p *frame.Picture) {
	if pl.picture == p && pl.index == p.Index && pl.at == int64(p.At) && pl.images[0] != nil {
		return
	}
	pl.picture, pl.index, pl.at = p, p.Index, int64(p.At)
	cw, ch := p.ChromaWidth(), p.ChromaHeight()
	pl.plane(0, p.Y, p.YStride, p.Width, p.Height)
	pl.plane(1, p.Cb, p.CStride, cw, ch)
	pl.plane(2, p.Cr, p.CStride, cw, ch)
}

func (pl *planes) plane(i int, data []byte, stride, width, height int) {
	texels := (width + 3) / 4
	if img := pl.images[i]; img == nil || img.Bounds().Dx() != texels || img.Bounds().Dy() != height {
		if img != nil {
			img.Deallocate()
			images.Add(-1)
		}
		images.Add(1)
		pl.images[i] = ebiten.NewImageWithOptions(image.Rect(0, 0, texels, height), &ebiten.NewImageOptions{Unmanaged: true})
	}
	if stride == 4*texels && len(data) == stride*height {
		pl.images[i].WritePixels(data)
		return
	}
	if n := 4 * texels * height; cap(pl.scratch) < n {
		pl.scratch = make([]byte, n)
	}
	pl.scratch = pl.scratch[:4*texels*height]
	for y := range height {
		copy(pl.scratch[y*4*texels:(y+1)*4*texels], data[y*stride:y*stride+width])
	}
	pl.images[i].WritePixels(pl.scratch)
}

// draw puts the part crop of picture p into rectangle r of the screen.
func (pl *planes) draw(screen *ebiten.Image, shader *ebiten.Shader, p *frame.Picture, r, crop app.Rect) {
	pl.upload(p)
	if pl.uniforms == nil {
		pl.uniforms = map[string]any{"Size": make([]float32, 2), "Scale": make([]float32, 2), "Shift": make([]float32, 2), "Chroma": float32(0)}
	}
	set := func(name string, a, b float32) {
		v := pl.uniforms[name].([]float32)
		v[0], v[1] = a, b
	}
	set("Size", float32(p.Width), float32(p.Height))
	// ITU-T T.871 for full range, ITU-R BT.601 for limited range.
	set("Scale", 1, 1)
	set("Shift", 0, 128.0/255)
	if !p.Full {
		set("Scale", 255.0/219, 255.0/224)
		set("Shift", 16.0/255, 128.0/255)
	}
	pl.uniforms["Chroma"] = float32(0.5)
	if p.Sub == frame.Sub422 {
		pl.uniforms["Chroma"] = float32(1)
	}
	pl.options.Uniforms = pl.uniforms
	copy(pl.options.Images[:], pl.images[:])
	corner := func(i int, fx, fy float64) {
		pl.vertices[i] = ebiten.Vertex{
			DstX: float32(r.X + fx*r.W), DstY: float32(r.Y + fy*r.H),
			ColorR: 1, ColorG: 1, ColorB: 1, ColorA: 1,
			Custom0: float32(crop.X + fx*crop.W), Custom1: float32(crop.Y + fy*crop.H),
		}
	}
	corner(0, 0, 0)
	corner(1, 1, 0)
	corner(2, 0, 1)
	corner(3, 1, 1)
	screen.DrawTrianglesShader(pl.vertices[:], quadIndices(), shader, &pl.options)
}

func quadIndices() []uint16 { return []uint16{0, 1, 2, 1, 2, 3} }
