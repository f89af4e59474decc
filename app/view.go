package app

import (
	"fmt"
	"strings"

	"drillbay/camera/frame"
)

// Role names a colour by its purpose; a theme gives it a value.
type Role uint8

const (
	Page        Role = iota // ground
	Plate                   // grouped matter
	BandInk                 // the band that counts as in line
	Ink                     // text, posts, in line, placed
	Quiet                   // second text, short, no reading
	Edge                    // rules and axes, never text
	Inside                  // words and lobes of inside, nothing else
	Outside                 // words and lobes of outside, nothing else
	Core                    // a line over the picture
	Casing                  // what surrounds it, and the plate under words on the picture
	CoreInside              // inside over the picture, and on ink
	CoreOutside             // outside over the picture
	Roles
)

var roleNames = [...]string{"page", "plate", "band", "ink", "quiet", "edge", "inside", "outside", "core", "casing", "core inside", "core outside"}

func (r Role) String() string {
	if int(r) < len(roleNames) {
		return roleNames[r]
	}
	return "unknown"
}

// Weight is the weight of a letter.
type Weight uint8

const (
	Regular Weight = iota // for reading
	Medium                // for keys and tags
	Bold                  // for values
)

// Shape says what an item draws.
type Shape uint8

const (
	Fill      Shape = iota // a rectangle X, Y, W, H with corners R
	Frame                  // its outline, Thick wide, inside the rectangle
	Line                   // from X, Y to W, H (a point), Thick wide; Dash > 0: dashed
	Disc                   // centre X, Y, radius R
	Ring                   // centre X, Y, outer radius R, Thick wide
	HalfLeft               // half disc left of the upright through X, Y, radius R; Thick > 0: its outline
	HalfRight              //
	HalfDown               // under the level through X, Y
	Triangle               // centre X, Y, half size R; Turn: 0 up, 1 right, 2 down, 3 left
	Wedge                  // from the point X, Y to an edge across W, H, R to each side of it
	Text                   // baseline start X, Y
	Picture                // picture Slot in rectangle X, Y, W, H, of it the part Crop
)

var shapeNames = [...]string{"fill", "frame", "line", "disc", "ring", "half left", "half right", "half down", "triangle", "wedge", "text", "picture"}

// Rect is a rectangle in pixels of the window.
type Rect struct{ X, Y, W, H float64 }

// Right and Bottom are the far edges.
func (r Rect) Right() float64 { return r.X + r.W }

// Bottom is the lower edge.
func (r Rect) Bottom() float64 { return r.Y + r.H }

// Holds reports whether a point lies in the rectangle.
func (r Rect) Holds(x, y float64) bool {
	return x >= r.X && x < r.Right() && y >= r.Y && y < r.Bottom()
}

// Inset is the rectangle d smaller on every side.
func (r Rect) Inset(d float64) Rect { return Rect{r.X + d, r.Y + d, r.W - 2*d, r.H - 2*d} }

// Item is one thing that is drawn. Its Shape says which fields count.
type Item struct {
	Shape      Shape
	Role       Role
	X, Y, W, H float64
	R          float64
	Thick      float64
	Dash       float64
	Turn       int
	Text       string
	Size       float64
	Weight     Weight
	Slot       int
	Crop       Rect // px of the picture; no width: all of it
}

// Hit is a rectangle in which a press means an action.
type Hit struct {
	Rect
	Do Do
	N  int
}

// Slots is the largest number of pictures in a view.
const Slots = rowSlot + rowMost

// View is all that is drawn, back to front, and where it can be pressed. It
// is valid until the next step.
type View struct {
	Screen        string
	Width, Height float64
	Theme         string // "daylight" or "indoors"
	Items         []Item
	Hits          []Hit
	// Pictures are held with a reference by the view until Release.
	Pictures   [Slots]*frame.Picture
	FullScreen bool
	Quit       bool
	// Again is the time after which the view changes by itself, s; 0: it changes only on an
	// event.
	Again float64
	// Calm says that nobody has touched anything for a while: changes from outside may then
	// wait until Again.
	Calm bool
}

// Release gives the pictures back.
func (v *View) Release() {
	for i, p := range v.Pictures {
		if p != nil {
			p.Release()
			v.Pictures[i] = nil
		}
	}
}

// Texts are the texts in the order in which they are drawn.
func (v *View) Texts() (out []string) {
	for _, i := range v.Items {
		if i.Shape == Text {
			out = append(out, i.Text)
		}
	}
	return out
}

// Says reports whether a text is on the screen, whole.
func (v *View) Says(text string) bool {
	for _, i := range v.Items {
		if i.Shape == Text && i.Text == text {
			return true
		}
	}
	return false
}

// String prints the view, one item a line.
func (v *View) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s %.0f × %.0f %s\n", v.Screen, v.Width, v.Height, v.Theme)
	for _, i := range v.Items {
		fmt.Fprintf(&b, "%-8s %-8s %6.0f %6.0f", shapeNames[i.Shape], i.Role, i.X, i.Y)
		switch i.Shape {
		case Text:
			fmt.Fprintf(&b, "  %.0f %q", i.Size, i.Text)
		case Fill, Frame, Line, Wedge:
			fmt.Fprintf(&b, " %6.0f %6.0f", i.W, i.H)
		case Picture:
			fmt.Fprintf(&b, " %6.0f %6.0f  slot %d of %.0f %.0f %.0f %.0f", i.W, i.H, i.Slot, i.Crop.X, i.Crop.Y, i.Crop.W, i.Crop.H)
		default:
			fmt.Fprintf(&b, "  r %.0f", i.R)
		}
		b.WriteByte('\n')
	}
	for _, h := range v.Hits {
		fmt.Fprintf(&b, "press    %-8s %6.0f %6.0f %6.0f %6.0f\n", h.Do, h.X, h.Y, h.W, h.H)
	}
	return b.String()
}
