package clip

import (
	"fmt"
	"io"
	"os"

	"drillbay/camera/frame"
)

// progress says on a terminal how far the reading of a clip is.
type progress struct {
	Reader
	to    io.Writer
	done  int
	total int
	said  int // per cent
}

// Watched is a reader that says how far it is when somebody looks.
func Watched(r Reader, to io.Writer) Reader {
	if n := r.Info().Frames; n > 0 && terminal(to) {
		return &progress{Reader: r, to: to, total: n, said: -1}
	}
	return r
}

// Next implements Reader.
func (p *progress) Next() (*frame.Picture, error) {
	pic, err := p.Reader.Next()
	p.done++
	switch share := min(100, 100*p.done/p.total); {
	case err == io.EOF:
		fmt.Fprint(p.to, "\r            \r")
	case share/5 != p.said/5 || p.said < 0:
		p.said = share
		fmt.Fprintf(p.to, "\r%3d %% read", share)
	}
	return pic, err
}

// terminal reports whether a person looks at what is written.
func terminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	st, err := f.Stat()
	return err == nil && st.Mode()&os.ModeCharDevice != 0
}
