package ledger

import (
	"context"
	"database/sql"
	"fmt"
	"strconv"

	"github.com/google/uuid"

	"drillbay/drills"
)

// Save stores a rep, and returns nil once it is on disk. Saving an id again
// replaces what is kept of it.
func (l *Ledger) Save(ctx context.Context, r Record) error {
	if err := fitsID(r.Session); err != nil {
		return fmt.Errorf("rep %d: session %w", r.Rep.Number, err)
	}
	return l.change(ctx, func(ctx context.Context, tx *sql.Tx) error {
		if err := l.meet(ctx, tx, r); err != nil {
			return err
		}
		set := setOf(r)
		if err := l.unlessKnown(ctx, tx, "set", set, setContent(r)); err != nil {
			return err
		}
		if err := l.put(ctx, tx, "rep", r.ID, repContent(r, set)); err != nil {
			return err
		}
		return l.remarks(ctx, tx, r)
	})
}

// setOf is the id of a rep's set. The reps of a mixed set are one set for each
// drill, all of its number.
func setOf(r Record) string {
	if r.Kind == Mixed {
		return derived(r.Session, "set", strconv.Itoa(r.Set), r.Drill)
	}
	return derived(r.Session, "set", strconv.Itoa(r.Set))
}

// meet makes player and session when they are new.
func (l *Ledger) meet(ctx context.Context, tx *sql.Tx, r Record) error {
	if r.Player.ID != "" {
		p := r.Player
		if p.Created.IsZero() {
			p.Created = r.At
		}
		if err := l.unlessKnown(ctx, tx, "player", p.ID, playerContent(p)); err != nil {
			return err
		}
	}
	return l.unlessKnown(ctx, tx, "session", r.Session, content{"player": orText(r.Player.ID), "bay": r.Bay, "began": millis(r.At)})
}

// remarks keeps the coach's verdict and note beside the rep. One that is
// taken away again is kept as empty, so that a merge does not bring it back.
func (l *Ledger) remarks(ctx context.Context, tx *sql.Tx, r Record) error {
	verdict := derived(r.ID, "coach")
	known, err := there(ctx, tx, "verdicts", verdict)
	if err != nil {
		return err
	}
	if r.Coach != "" || known {
		said := r.Coach
		if said == "" {
			said = drills.NoReading.String()
		}
		if err := l.put(ctx, tx, "verdict", verdict, content{"rep": r.ID, "verdict": said, "at": millis(r.At)}); err != nil {
			return err
		}
	}
	note := derived(r.ID, "note")
	if known, err = there(ctx, tx, "notes", note); err != nil || (r.Note == "" && !known) {
		return err
	}
	return l.put(ctx, tx, "note", note, content{"rep": r.ID, "text": r.Note, "at": millis(r.At)})
}

// unlessKnown puts a row only when there is none with its id.
func (l *Ledger) unlessKnown(ctx context.Context, tx *sql.Tx, name, id string, c content) error {
	k, _ := kindOf(name)
	known, err := there(ctx, tx, k.table, id)
	if err != nil || known {
		return err
	}
	return l.put(ctx, tx, name, id, c)
}

func there(ctx context.Context, tx *sql.Tx, table, id string) (bool, error) {
	var n int
	err := tx.QueryRowContext(ctx, "SELECT count(*) FROM "+table+" WHERE id = ?", id).Scan(&n)
	return n > 0, err
}

// derived is the id of what belongs to another row once: the same on every
// laptop (a UUID of version 5, RFC 9562).
func derived(id string, parts ...string) string {
	name := id
	for _, p := range parts {
		name += "/" + p
	}
	return uuid.NewSHA1(uuid.NameSpaceOID, []byte("drillbay/"+name)).String()
}

func setContent(r Record) content {
	kind, band := r.Kind, r.Band
	if kind == "" {
		kind = Practice
	}
	if band == 0 {
		band = drills.Band
	}
	return content{"session": r.Session, "number": int64(r.Set), "drill": r.Drill, "rung": int64(r.Rung), "club": r.Club,
		"club_length": orZero(r.ClubLong), "kind": string(kind), "band": band, "began": millis(r.At)}
}

func repContent(r Record, set string) content {
	p, m := r.Rep, r.Rep.Moments
	c := content{"part_of": set, "number": int64(p.Number), "at": millis(r.At), "taken": r.Taken, "kept": r.Kept,
		"verdict": p.Verdict.String(), "just": p.Just, "manner": p.Manner.String(), "why": p.Why,
		"line": or(p.ShaftLine.Value), "line_sigma": or(p.ShaftLine.Sigma),
		"elevation": or(p.Elevation.Value), "elevation_sigma": or(p.Elevation.Sigma),
		"depth": or(p.Depth.Value), "depth_sigma": or(p.Depth.Sigma), "smoothness": or(p.Smoothness),
		"height": known(p.Height), "height_sigma": known(drills.Reading{Value: p.Height.Sigma, Sigma: p.Height.Sigma}),
		"top_height": known(p.TopHeight), "top_height_sigma": known(drills.Reading{Value: p.TopHeight.Sigma, Sigma: p.TopHeight.Sigma}),
		"tempo": or(p.Tempo), "tempo_low": or(p.TempoLow), "tempo_high": or(p.TempoHigh),
		"start": or(m.Start), "back_start": or(m.BackStart), "level": or(m.Level), "catch": or(m.Catch),
		"top": or(m.Top), "impact": or(m.Impact), "finish": or(m.End), "body_why": orText(p.BodyWhy), "views": orText(p.Views.String())}
	for i, r := range p.Body {
		key := drills.BodyPart(i).Key()
		c[key], c[key+"_sigma"] = known(r), known(drills.Reading{Value: r.Sigma, Sigma: r.Sigma})
		if c[key] == nil {
			c[key+"_sigma"] = nil
		}
	}
	return c
}

func playerContent(p Player) content {
	return content{"name": p.Name, "hand": p.Hand.String(), "stature": orZero(p.Stature), "minor": p.Minor,
		"consent": p.Consent, "consent_at": orClock(p.ConsentAt), "created": millis(p.Created)}
}
