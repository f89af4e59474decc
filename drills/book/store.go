package book

import (
	"context"
	"time"

	"drillbay/drills/ledger"
	"drillbay/drills/runner"
)

// Store keeps the runner's records in the ledger, and tells the book.
type Store struct {
	Ledger *ledger.Ledger
	Book   *Book // nil: nobody is told
	// Club is the length of the club in use, m.
	Club func() float64
	// Dated puts a date right that was reckoned from the session's beginning;
	// nil: it is right.
	Dated func(time.Time) time.Time
}

// Save implements runner.Store.
func (s Store) Save(ctx context.Context, r runner.Record) error {
	kind := ledger.Practice
	switch {
	case r.Drill.Later:
		kind = ledger.Retention
	case r.Drill.Mixed != "":
		kind = ledger.Mixed
	}
	out := ledger.Record{
		ID: r.ID, Session: r.Session, Set: r.Set, Player: ledger.Player{ID: r.Player.ID, Name: r.Player.Name, Hand: r.Player.Hand},
		Bay: r.Bay, Drill: r.Drill.ID, Rung: r.Drill.Rung, Kind: kind, Band: r.Drill.Width(),
		Rep: r.Rep, At: r.At, Taken: r.Taken, Kept: r.Kept, Coach: r.Coach, Note: r.Note,
	}
	if s.Dated != nil {
		out.At = s.Dated(out.At)
	}
	if s.Club != nil {
		out.ClubLong = s.Club()
	}
	if s.Book != nil {
		out.Club = s.Book.ClubNamed(r.Player.ID, out.ClubLong)
	}
	if err := s.Ledger.Save(ctx, out); err != nil {
		return err
	}
	if s.Book != nil {
		s.Book.Note(out)
	}
	return nil
}
