package beside

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"os/exec"
	"sync"
	"sync/atomic"

	"drillbay/app"
)

// Second is the second window as the first process has it: another process of the
// same program, which is sent what the mat sees. The library has one window a
// process.
type Second struct {
	Mat *app.Mat
	// Screen names the screen that the first window is on, "" where that is not known;
	// nil: it never is.
	Screen func() string
	last   float64 // s, when a view was sent last

	mu    sync.Mutex
	size  Size // none until the window told it
	views chan *app.View
	busy  atomic.Bool // a view is on its way
}

// besideEvery is the least time between two views that are sent, s.
const besideEvery = 1.0 / 24

// Open starts it.
func (s *Second) Open() (string, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.views != nil {
		return "The window for the mat is open already.", nil
	}
	cmd, to, from, err := s.start()
	if err != nil {
		return "", fmt.Errorf("the window for the mat cannot be opened: %w", err)
	}
	s.views, s.size = make(chan *app.View, 1), Size{}
	s.busy.Store(false)
	gone := make(chan struct{})
	go s.listen(from, cmd, gone)
	go s.send(s.views, to, gone)
	return "What the mat sees has a window of its own now. Where it does not fill another screen, move it there and press F11.", nil
}

// start starts the second process, with what goes to it and what comes from it.
func (s *Second) start() (cmd *exec.Cmd, to io.WriteCloser, from io.Reader, err error) {
	path, err := os.Executable()
	if err != nil {
		return nil, nil, nil, err
	}
	args := []string{"--mat"}
	if s.Screen != nil {
		args = append(args, "--away="+s.Screen())
	}
	cmd = exec.Command(path, args...)
	if to, err = cmd.StdinPipe(); err != nil {
		return nil, nil, nil, err
	}
	if from, err = cmd.StdoutPipe(); err != nil {
		return nil, nil, nil, err
	}
	return cmd, to, from, cmd.Start()
}

// listen takes what the second window tells, until it ends.
func (s *Second) listen(from io.Reader, cmd *exec.Cmd, gone chan struct{}) {
	in := bufio.NewScanner(from)
	for in.Scan() {
		var z Size
		if n, _ := fmt.Sscan(in.Text(), &z.Width, &z.Height, &z.Diagonal); n == 3 {
			s.mu.Lock()
			s.size = z
			s.mu.Unlock()
		}
	}
	cmd.Wait() //nolint:errcheck // it was closed, or ended: both are its end
	s.mu.Lock()
	s.views = nil
	s.mu.Unlock()
	close(gone)
}

// send sends views until the window is gone.
func (s *Second) send(views chan *app.View, to io.WriteCloser, gone chan struct{}) {
	defer to.Close()
	out := NewSender(to)
	for {
		select {
		case v := <-views:
			out.Send(v) //nolint:errcheck // listen hears of the end
			s.busy.Store(false)
		case <-gone:
			s.busy.Store(false)
			return
		}
	}
}

// Show sends what the mat sees now (s), where there is a window for it and it is
// time, and returns how soon the next view is due, s; 0: none is.
func (s *Second) Show(now float64) float64 {
	s.mu.Lock()
	defer s.mu.Unlock()
	switch {
	case s.views == nil:
		return 0
	case s.size.Width == 0 || s.busy.Load() || now-s.last < besideEvery && now >= s.last:
		return besideEvery
	}
	s.last = now
	s.busy.Store(true)
	s.views <- s.Mat.View(s.size.Width, s.size.Height, s.size.Diagonal, now)
	return besideEvery
}
