package sound

import (
	"encoding/binary"
	"errors"
	"math"
	"sync/atomic"
	"time"

	"github.com/ebitengine/oto/v3"
	"github.com/gopxl/beep/v2"

	"drillbay/cues"
)

// sink takes sound from a tap and has it heard.
type sink interface {
	// err says why it no longer does, nil while it does.
	err() error
	// close lets go of the device. It may wait for it.
	close()
}

// opener opens a sink that reads from a tap.
type opener func(*tap) (sink, error)

// The speaker's card asks for a period at a time and holds two. What waits for
// it is refilled by another goroutine, whose wake-up may be missed once: so it
// is two periods as well, in one draw.
const (
	period   = 0.05 // s
	held     = 2 * period
	buffered = 2 * held
)

// tap hands samples of the desk to one sink. Shut, it gives silence: a sink that was given
// up may still draw.
type tap struct {
	from  beep.Streamer
	drawn func(n int) // told before each draw
	open  atomic.Bool
	block [1024][2]float64
}

func newTap(from beep.Streamer, drawn func(int)) *tap {
	t := &tap{from: from, drawn: drawn}
	t.open.Store(true)
	return t
}

// Read fills p with 32-bit floats of two channels, little endian.
func (t *tap) Read(p []byte) (int, error) {
	const frame = 8
	whole := len(p) / frame * frame
	for done := 0; done < whole; {
		n := min((whole-done)/frame, len(t.block))
		block := t.block[:n]
		if t.open.Load() {
			t.drawn(n)
			t.from.Stream(block)
		} else {
			clear(block)
		}
		for i, s := range block {
			at := done + i*frame
			binary.LittleEndian.PutUint32(p[at:], math.Float32bits(float32(s[0])))
			binary.LittleEndian.PutUint32(p[at+4:], math.Float32bits(float32(s[1])))
		}
		done += n * frame
	}
	return whole, nil
}

// speaker is oto's output. A process can have one in its life.
type speaker struct {
	context *oto.Context
	player  *oto.Player
}

var errSlow = errors.New("the sound output does not answer")

// openSpeaker waits a little for the device.
func openSpeaker(t *tap) (sink, error) {
	context, ready, err := oto.NewContext(&oto.NewContextOptions{
		SampleRate: cues.Rate, ChannelCount: 2, Format: oto.FormatFloat32LE, BufferSize: time.Duration(held * float64(time.Second)),
	})
	if err != nil {
		return nil, err
	}
	select {
	case <-ready:
	case <-time.After(3 * time.Second):
		return nil, errSlow
	}
	if err := context.Err(); err != nil {
		return nil, err
	}
	s := &speaker{context: context, player: context.NewPlayer(t)}
	s.player.SetBufferSize(int(held*cues.Rate) * 8)
	s.player.Play()
	return s, nil
}

func (s *speaker) err() error { return s.context.Err() }

func (s *speaker) close() { s.player.Close() }
