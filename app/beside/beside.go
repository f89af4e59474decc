// Package beside carries views from one process to another: the library that
// draws has one window a process, so that a second screen is another process,
// which is sent what it shows. What comes back is its size.
package beside

import (
	"encoding/gob"
	"errors"
	"fmt"
	"io"
	"time"

	"drillbay/app"
	"drillbay/camera/frame"
)

// Size is the size of the other screen's window and the screen's diagonal, px.
type Size struct{ Width, Height, Diagonal float64 }

// sent is a view on its way.
type sent struct {
	Screen, Theme string
	Width, Height float64
	Items         []app.Item
	Pictures      []picture
}

// picture is one of its pictures, in a slot of the view.
type picture struct {
	Slot          int
	Width, Height int
	Sub           frame.Subsampling
	Full          bool
	Index         int64
	At            time.Duration
	Y, Cb, Cr     []byte
}

// Sender sends views, one after the other.
type Sender struct{ to *gob.Encoder }

// NewSender sends to a pipe.
func NewSender(w io.Writer) *Sender { return &Sender{gob.NewEncoder(w)} }

// Send sends a view with its pictures.
func (s *Sender) Send(v *app.View) error {
	out := sent{Screen: v.Screen, Theme: v.Theme, Width: v.Width, Height: v.Height, Items: v.Items}
	for i, p := range v.Pictures {
		if p == nil {
			continue
		}
		q := picture{Slot: i, Width: p.Width, Height: p.Height, Sub: p.Sub, Full: p.Full, Index: p.Index, At: p.At}
		q.Y = rows(p.Y, p.YStride, p.Width, p.Height)
		q.Cb, q.Cr = rows(p.Cb, p.CStride, p.ChromaWidth(), p.ChromaHeight()), rows(p.Cr, p.CStride, p.ChromaWidth(), p.ChromaHeight())
		out.Pictures = append(out.Pictures, q)
	}
	return s.to.Encode(out)
}

// rows are the samples of a plane without what stands between its rows.
func rows(plane []byte, stride, width, height int) []byte {
	if stride == width {
		return plane[:width*height]
	}
	out := make([]byte, 0, width*height)
	for y := range height {
		out = append(out, plane[y*stride:y*stride+width]...)
	}
	return out
}

// Receiver receives them.
type Receiver struct{ from *gob.Decoder }

// NewReceiver receives from a pipe.
func NewReceiver(r io.Reader) *Receiver { return &Receiver{gob.NewDecoder(r)} }

// ErrBroken says that what came is no view.
var ErrBroken = errors.New("what the other window sent is no view")

// Receive waits for the next view. Its pictures are the caller's. io.EOF says that
// the sender ended.
func (r *Receiver) Receive() (*app.View, error) {
	var in sent
	if err := r.from.Decode(&in); err != nil {
		return nil, err
	}
	v := &app.View{Screen: in.Screen, Theme: in.Theme, Width: in.Width, Height: in.Height, Items: in.Items}
	for _, q := range in.Pictures {
		if q.Slot < 0 || q.Slot >= app.Slots || v.Pictures[q.Slot] != nil || q.Width < 1 || q.Height < 1 || q.Width > frame.MaxSide || q.Height > frame.MaxSide {
			v.Release()
			return nil, fmt.Errorf("%w: a picture of %d × %d", ErrBroken, q.Width, q.Height)
		}
		p := frame.New(q.Width, q.Height, q.Sub)
		v.Pictures[q.Slot] = p
		if len(q.Y) != len(p.Y) || len(q.Cb) != len(p.Cb) || len(q.Cr) != len(p.Cr) {
			v.Release()
			return nil, fmt.Errorf("%w: a picture is cut short", ErrBroken)
		}
		copy(p.Y, q.Y)
		copy(p.Cb, q.Cb)
		copy(p.Cr, q.Cr)
		p.Full, p.Index, p.At = q.Full, q.Index, q.At
	}
	for _, i := range v.Items {
		if i.Shape == app.Picture && (i.Slot < 0 || i.Slot >= app.Slots || v.Pictures[i.Slot] == nil) {
			v.Release()
			return nil, fmt.Errorf("%w: a picture is missing", ErrBroken)
		}
	}
	return v, nil
}
