package frame

import "sync"

// Pool hands out pictures within a budget of memory. The zero value is not
// ready; use NewPool. It is safe for concurrent use.
type Pool struct {
	mu     sync.Mutex
	free   []*Picture
	bytes  int
	budget int
}

// NewPool returns a pool that never holds more than budget bytes of planes.
func NewPool(budget int) *Pool { return &Pool{budget: budget} }

// Get returns a picture with one reference, its planes not cleared, or nil
// when the budget is used up: the caller then drops the frame.
func (pl *Pool) Get(width, height int, sub Subsampling) *Picture {
	if width < 1 || height < 1 || width > MaxSide || height > MaxSide {
		return nil
	}
	pl.mu.Lock()
	defer pl.mu.Unlock()
	var p *Picture
	if n := len(pl.free); n > 0 {
		p, pl.free = pl.free[n-1], pl.free[:n-1]
	} else {
		p = &Picture{pool: pl}
	}
	before := cap(p.Y) + cap(p.Cb) + cap(p.Cr)
	need := planeBytes(width, height, sub)
	if need > before && pl.bytes-before+need > pl.budget {
		pl.free = append(pl.free, p)
		if before == 0 {
			pl.free = pl.free[:len(pl.free)-1]
		}
		return nil
	}
	p.shape(width, height, sub)
	pl.bytes += cap(p.Y) + cap(p.Cb) + cap(p.Cr) - before
	p.refs.Store(1)
	return p
}

// InUse is the memory of all pictures of the pool, free ones included.
func (pl *Pool) InUse() int {
	pl.mu.Lock()
	defer pl.mu.Unlock()
	return pl.bytes
}

func (pl *Pool) put(p *Picture) {
	pl.mu.Lock()
	pl.free = append(pl.free, p)
	pl.mu.Unlock()
}

func planeBytes(width, height int, sub Subsampling) int {
	rows := (height + 1) / 2
	if sub == Sub422 {
		rows = height
	}
	return width*height + 2*((width+1)/2)*rows
}
