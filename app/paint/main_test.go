package paint

import (
	"os"
	"testing"

	"github.com/hajimehoshi/ebiten/v2"
)

// loop runs the tests inside the game loop: drawing and reading pixels need
// a running one.
type loop struct {
	m    *testing.M
	code int
}

func (l *loop) Update() error {
	l.code = l.m.Run()
	return ebiten.Termination
}

func (l *loop) Draw(*ebiten.Image)         {}
func (l *loop) Layout(int, int) (int, int) { return 320, 200 }

func TestMain(m *testing.M) {
	l := &loop{m: m}
	ebiten.SetWindowSize(320, 200)
	if err := ebiten.RunGame(l); err != nil {
		panic(err)
	}
	os.Exit(l.code)
}
