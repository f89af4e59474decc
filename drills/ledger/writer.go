package ledger

import (
	"context"
	"database/sql"
)

// job is a piece of writing. The writer answers once it is on disk.
type job struct {
	ctx   context.Context
	do    func(context.Context, *sql.Tx) error
	plain func(context.Context, *sql.DB) error // outside a transaction
	done  chan error
}

func (l *Ledger) writer() {
	defer close(l.done)
	for {
		select {
		case j := <-l.jobs:
			j.done <- plain(l.path, l.carryOut(j))
		case <-l.quit:
			return
		}
	}
}

func (l *Ledger) carryOut(j job) error {
	if err := j.ctx.Err(); err != nil {
		return err
	}
	if j.plain != nil {
		return j.plain(j.ctx, l.write)
	}
	return inOne(j.ctx, l.write, j.do)
}

// inOne carries out all of do, or nothing of it.
func inOne(ctx context.Context, db *sql.DB, do func(context.Context, *sql.Tx) error) error {
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	if err := do(ctx, tx); err != nil {
		tx.Rollback()
		return err
	}
	return tx.Commit()
}

// change has do carried out in one transaction, and returns when it is on
// disk. When ctx ends first, the change may still be made.
func (l *Ledger) change(ctx context.Context, do func(context.Context, *sql.Tx) error) error {
	return l.send(job{ctx: ctx, do: do})
}

func (l *Ledger) send(j job) error {
	j.done = make(chan error, 1)
	select {
	case <-l.quit:
		return ErrClosed
	default:
	}
	select {
	case l.jobs <- j:
	case <-l.quit:
		return ErrClosed
	case <-j.ctx.Done():
		return j.ctx.Err()
	}
	select {
	case err := <-j.done:
		return err
	case <-j.ctx.Done():
		return j.ctx.Err()
	}
}
