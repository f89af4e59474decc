package beside

import (
	"bytes"
	"encoding/gob"
	"io"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/app"
	"drillbay/camera/frame"
)

func TestAViewArrivesAsItWasSent(t *testing.T) {
	v := &app.View{Screen: "practice", Theme: "indoors", Width: 640, Height: 360, Items: []app.Item{
		{Shape: app.Text, Text: "inside", X: 3, Y: 4, Size: 50, Weight: app.Bold, Role: app.Inside}, {Shape: app.Picture, Slot: 1, W: 64, H: 36, Crop: app.Rect{W: 64, H: 36}}}}
	p := frame.New(64, 36, frame.Sub420)
	for i := range p.Y {
		p.Y[i] = byte(i)
	}
	p.Cb[7], p.Cr[9], p.At, p.Index, p.Full = 70, 90, time.Second, 12, false
	v.Pictures[1] = p
	var pipe bytes.Buffer
	s, r := NewSender(&pipe), NewReceiver(&pipe)
	for range 3 {
		require.NoError(t, s.Send(v))
		got, err := r.Receive()
		require.NoError(t, err)
		require.Equal(t, v.Items, got.Items)
		require.Equal(t, v.String(), got.String())
		q := got.Pictures[1]
		require.Equal(t, []any{p.Y, p.Cb, p.Cr, p.At, p.Index, p.Full, p.Sub}, []any{q.Y, q.Cb, q.Cr, q.At, q.Index, q.Full, q.Sub})
		got.Release()
	}
	_, err := r.Receive()
	require.ErrorIs(t, err, io.EOF)
}

func TestWhatIsNoViewIsRefused(t *testing.T) {
	for name, in := range map[string]sent{
		"a slot that is not there": {Pictures: []picture{{Slot: app.Slots, Width: 2, Height: 2}}},
		"no size":                  {Pictures: []picture{{}}},
		"cut short":                {Pictures: []picture{{Width: 4, Height: 4, Y: make([]byte, 3)}}},
		"without its picture":      {Items: []app.Item{{Shape: app.Picture, Slot: 2}}},
	} {
		var pipe bytes.Buffer
		require.NoError(t, gob.NewEncoder(&pipe).Encode(in))
		_, err := NewReceiver(&pipe).Receive()
		require.ErrorIs(t, err, ErrBroken, name)
	}
}
