package paint

import (
	"image/color"
	"math"

	"github.com/hajimehoshi/ebiten/v2"

	"drillbay/app"
)

// feather is half the width of a soft edge, px. Feathered triangles cost next
// to nothing; anti-aliased paths double a frame's cost.
const feather = 0.5

type vec struct{ x, y float32 }

// mesh collects triangles of one colour each and draws them at once.
type mesh struct {
	vertices []ebiten.Vertex
	indices  []uint16
	outline  []vec
	inner    []vec
}

// vertex adds a corner; colour is premultiplied by alpha.
func (m *mesh) vertex(p vec, c color.NRGBA, alpha float32) uint16 {
	m.vertices = append(m.vertices, ebiten.Vertex{
		DstX: p.x, DstY: p.y, SrcX: 1, SrcY: 1,
		ColorR: float32(c.R) / 255 * alpha, ColorG: float32(c.G) / 255 * alpha, ColorB: float32(c.B) / 255 * alpha, ColorA: alpha,
	})
	return uint16(len(m.vertices) - 1)
}

func (m *mesh) triangle(a, b, c uint16) { m.indices = append(m.indices, a, b, c) }

// quad fills a rectangle without soft edges.
func (m *mesh) quad(x, y, w, h float32, c color.NRGBA) {
	a := m.vertex(vec{x, y}, c, 1)
	b := m.vertex(vec{x + w, y}, c, 1)
	d := m.vertex(vec{x + w, y + h}, c, 1)
	e := m.vertex(vec{x, y + h}, c, 1)
	m.triangle(a, b, d)
	m.triangle(a, d, e)
}

// normals moves a closed convex outline outward by d along its normals, for a
// polygon whose corners run clockwise on the screen.
func moved(in []vec, d float32, out []vec) []vec {
	n := len(in)
	for i := range in {
		p, q, r := in[(i+n-1)%n], in[i], in[(i+1)%n]
		ax, ay := unit(q.x-p.x, q.y-p.y)
		bx, by := unit(r.x-q.x, r.y-q.y)
		// The outward normals of both edges, and the mitre between them.
		nx, ny := ay+by, -(ax + bx)
		length := float32(math.Hypot(float64(nx), float64(ny)))
		if length < 1e-4 {
			nx, ny, length = ay, -ax, 1
		}
		nx, ny = nx/length, ny/length
		cos := nx*ay - ny*ax
		scale := d / max(cos, 0.35)
		out = append(out, vec{q.x + nx*scale, q.y + ny*scale})
	}
	return out
}

func unit(x, y float32) (float32, float32) {
	n := float32(math.Hypot(float64(x), float64(y)))
	if n == 0 {
		return 0, 0
	}
	return x / n, y / n
}

// convex fills a convex polygon, corners clockwise on the screen, with soft
// edges.
func (m *mesh) convex(points []vec, c color.NRGBA) {
	m.inner = moved(points, -feather, m.inner[:0])
	first := uint16(len(m.vertices))
	for _, p := range m.inner {
		m.vertex(p, c, 1)
	}
	n := uint16(len(points))
	for i := uint16(1); i+1 < n; i++ {
		m.triangle(first, first+i, first+i+1)
	}
	m.inner = moved(points, feather, m.inner[:0])
	outer := uint16(len(m.vertices))
	for _, p := range m.inner {
		m.vertex(p, c, 0)
	}
	m.join(first, outer, n)
}

// join fills the ring between two closed outlines of n corners.
func (m *mesh) join(a, b, n uint16) {
	for i := range n {
		j := (i + 1) % n
		m.triangle(a+i, a+j, b+j)
		m.triangle(a+i, b+j, b+i)
	}
}

// ring fills what lies between two closed outlines, with soft edges.
func (m *mesh) ring(outer, inner []vec, c color.NRGBA) {
	n := uint16(len(outer))
	var at [4]uint16
	for k, o := range []struct {
		points []vec
		d      float32
		alpha  float32
	}{{outer, feather, 0}, {outer, -feather, 1}, {inner, feather, 1}, {inner, -feather, 0}} {
		m.inner = moved(o.points, o.d, m.inner[:0])
		at[k] = uint16(len(m.vertices))
		for _, p := range m.inner {
			m.vertex(p, c, o.alpha)
		}
	}
	m.join(at[0], at[1], n)
	m.join(at[1], at[2], n)
	m.join(at[2], at[3], n)
}

// arc appends points around a centre from one angle to another, clockwise on
// the screen (y is down), ends included.
func arc(out []vec, x, y, r, from, to float64, steps int) []vec {
	for i := range steps + 1 {
		a := from + (to-from)*float64(i)/float64(steps)
		out = append(out, vec{float32(x + r*math.Cos(a)), float32(y + r*math.Sin(a))})
	}
	return out
}

func stepsFor(r float64) int { return min(max(int(r), 8), 48) }

func circle(out []vec, x, y, r float64, steps int) []vec {
	return arc(out, x, y, r, 0, 2*math.Pi*(1-1/float64(steps)), steps-1)
}

func rounded(out []vec, x, y, w, h, r float64, steps int) []vec {
	r = min(r, w/2, h/2)
	out = arc(out, x+w-r, y+r, r, -math.Pi/2, 0, steps)
	out = arc(out, x+w-r, y+h-r, r, 0, math.Pi/2, steps)
	out = arc(out, x+r, y+h-r, r, math.Pi/2, math.Pi, steps)
	return arc(out, x+r, y+r, r, math.Pi, 3*math.Pi/2, steps)
}

// add draws an item that is neither text nor picture.
func (m *mesh) add(i app.Item, c color.NRGBA) {
	switch i.Shape {
	case app.Fill:
		m.fill(i, c)
	case app.Frame:
		m.frame(i, c)
	case app.Line:
		m.line(i, c)
	case app.Disc:
		m.outline = circle(m.outline[:0], i.X, i.Y, i.R, 2*stepsFor(i.R))
		m.convex(m.outline, c)
	case app.Ring:
		n := 2 * stepsFor(i.R)
		outer := circle(nil, i.X, i.Y, i.R, n)
		m.ring(outer, circle(nil, i.X, i.Y, max(i.R-i.Thick, 0.1), n), c)
	case app.HalfLeft:
		m.half(i, math.Pi, c)
	case app.HalfRight:
		m.half(i, 0, c)
	case app.HalfDown:
		m.outline = arc(m.outline[:0], i.X, i.Y, i.R, 0, math.Pi, stepsFor(i.R))
		m.convex(m.outline, c)
	case app.Wedge:
		n := max(math.Hypot(i.W-i.X, i.H-i.Y), 1e-9)
		dx, dy := (i.H-i.Y)/n*i.R, -(i.W-i.X)/n*i.R
		m.outline = append(m.outline[:0], vec{float32(i.X), float32(i.Y)}, vec{float32(i.W - dx), float32(i.H - dy)}, vec{float32(i.W + dx), float32(i.H + dy)})
		m.convex(m.outline, c)
	case app.Triangle:
		m.outline = m.outline[:0]
		for k := range 3 {
			a := -math.Pi/2 + float64(i.Turn)*math.Pi/2 + float64(k)*2*math.Pi/3
			m.outline = append(m.outline, vec{float32(i.X + i.R*math.Cos(a)), float32(i.Y + i.R*math.Sin(a))})
		}
		m.convex(m.outline, c)
	}
}

// half draws the half disc about an angle, or with Thick > 0 its outline.
func (m *mesh) half(i app.Item, about float64, c color.NRGBA) {
	steps := stepsFor(i.R)
	m.outline = arc(m.outline[:0], i.X, i.Y, i.R, about-math.Pi/2, about+math.Pi/2, steps)
	if i.Thick <= 0 || i.Thick >= i.R/2 {
		m.convex(m.outline, c)
		return
	}
	// The inner outline keeps the same distance from the flat side.
	r := i.R - i.Thick
	turn := math.Acos(i.Thick / r)
	m.ring(m.outline, arc(nil, i.X, i.Y, r, about-turn, about+turn, steps), c)
}

func (m *mesh) fill(i app.Item, c color.NRGBA) {
	if i.R <= 0 {
		m.quad(float32(i.X), float32(i.Y), float32(i.W), float32(i.H), c)
		return
	}
	m.outline = rounded(m.outline[:0], i.X, i.Y, i.W, i.H, i.R, 5)
	m.convex(m.outline, c)
}

func (m *mesh) frame(i app.Item, c color.NRGBA) {
	t := i.Thick
	if i.R <= 0 {
		x, y, w, h := float32(i.X), float32(i.Y), float32(i.W), float32(i.H)
		f := float32(t)
		m.quad(x, y, w, f, c)
		m.quad(x, y+h-f, w, f, c)
		m.quad(x, y+f, f, h-2*f, c)
		m.quad(x+w-f, y+f, f, h-2*f, c)
		return
	}
	outer := rounded(nil, i.X, i.Y, i.W, i.H, i.R, 5)
	inner := rounded(nil, i.X+t, i.Y+t, i.W-2*t, i.H-2*t, max(i.R-t, 0.5), 5)
	m.ring(outer, inner, c)
}

func (m *mesh) line(i app.Item, c color.NRGBA) {
	dx, dy := i.W-i.X, i.H-i.Y
	length := math.Hypot(dx, dy)
	if length < 1e-6 {
		return
	}
	dx, dy = dx/length, dy/length
	dash, step := length, length
	if i.Dash > 0 {
		dash, step = i.Dash, i.Dash*1.8
	}
	nx, ny := -dy*i.Thick/2, dx*i.Thick/2
	for at := 0.0; at < length-1e-6; at += step {
		end := min(at+dash, length)
		ax, ay, bx, by := i.X+dx*at, i.Y+dy*at, i.X+dx*end, i.Y+dy*end
		m.outline = append(m.outline[:0],
			vec{float32(ax - nx), float32(ay - ny)}, vec{float32(bx - nx), float32(by - ny)},
			vec{float32(bx + nx), float32(by + ny)}, vec{float32(ax + nx), float32(ay + ny)})
		m.convex(m.outline, c)
	}
}
