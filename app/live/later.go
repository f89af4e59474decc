package live

import (
	"context"
	"sync"
)

// later does what may wait for the disk on a goroutine of its own, one after
// the other, so that the window never does.
type later struct {
	mu    sync.Mutex
	list  []func()
	runs  bool
	idle  chan struct{} // closed when nothing is left; nil while there is nothing
	after func()        // follows each, nil for nothing
}

// do puts something at the end of the list. It never waits.
func (q *later) do(f func()) {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.list = append(q.list, f)
	if !q.runs {
		q.runs, q.idle = true, make(chan struct{})
		go q.run()
	}
}

func (q *later) run() {
	for {
		q.mu.Lock()
		if len(q.list) == 0 {
			q.runs = false
			close(q.idle)
			q.mu.Unlock()
			return
		}
		f := q.list[0]
		q.list = q.list[1:]
		q.mu.Unlock()
		f()
		if q.after != nil {
			q.after()
		}
	}
}

// wait returns when nothing is left, or ctx is done.
func (q *later) wait(ctx context.Context) error {
	q.mu.Lock()
	idle, runs := q.idle, q.runs
	q.mu.Unlock()
	if !runs {
		return nil
	}
	select {
	case <-idle:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}
