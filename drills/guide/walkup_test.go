package guide

import (
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/camera/lens"
	"drillbay/camera/sight"
	"drillbay/cues"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/runner"
	"drillbay/drills/voice"
)

// toned is an output that notes tones and words.
type toned struct {
	cues.Silent
	said  []cues.Phrase
	tones []string
}

func (p *toned) Say(w ...cues.Phrase) { p.said = append(p.said, w...) }

func (p *toned) Play(t cues.Tone) { p.tones = append(p.tones, t.Name) }

// Before the first rep of a session the voice tells how the camera is off,
// not more than twice, and nothing that is under 2°.
func TestTheWalkUpVoice(t *testing.T) {
	p := &toned{}
	b := bay.Bay{Width: 1280, Height: 720, Distance: 3, Target: drills.Pixel{X: 640, Y: 360}, Set: true}
	v, quiet := voice.New(p, drills.Ladder{}, nil), false
	g := New(Options{Bay: func() (bay.Bay, drills.Hand) { return b, drills.Right }, Quiet: func() bool { return quiet }, Lead: v.Lead})
	s := &runner.Snapshot{Session: "a", Ready: true}
	at := func(since, x, y float64) { g.walkUp(s, sight.Glance{Since: since}, lens.Point{U: x, V: y}) }
	at(1, 650, 350)
	require.Empty(t, p.said, "under 2°")
	at(1, 640, 300)
	require.Equal(t, cues.Phrase("raise-camera"), p.said[0])
	n := len(p.said)
	at(1, 640, 300)
	require.Len(t, p.said, n, "once each time that somebody stands there")
	at(2, 720, 360)
	require.Contains(t, p.said, cues.Phrase("camera-nearer-ball"))
	n = len(p.said)
	at(3, 720, 360)
	require.Len(t, p.said, n, "twice is enough")
	s.Session = "b"
	quiet = true
	at(4, 720, 360)
	require.Len(t, p.said, n, "the voice is off")
	v.Lens(bay.Offset{UpCm: 4, Angle: 0.8})
	require.Equal(t, []string{"in place"}, p.tones, "a good tone")
	require.Equal(t, cues.Phrase("lens-right"), p.said[len(p.said)-1])
}
