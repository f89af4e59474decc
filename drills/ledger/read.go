package ledger

import (
	"context"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"

	"drillbay/drills"
)

// Players are all players but those who were deleted, the one who practised
// last first.
func (l *Ledger) Players(ctx context.Context) ([]Player, error) {
	return list(ctx, l, "player", "WHERE "+staying("players.id")+" ORDER BY coalesce((SELECT max(began) FROM sessions WHERE sessions.player = players.id), created) DESC, name", nil, func(r row) Player {
		c := r.content
		p := Player{ID: r.id, Name: word(c["name"]), Stature: floatOrZero(c["stature"]), Minor: c["minor"].(bool),
			Consent: word(c["consent"]), ConsentAt: moment(c["consent_at"]), Created: moment(c["created"])}
		p.Hand, _ = drills.ParseHand(word(c["hand"]))
		return p
	})
}

// Clubs are a player's clubs, the shortest first.
func (l *Ledger) Clubs(ctx context.Context, player string) ([]Club, error) {
	return list(ctx, l, "club", "WHERE player = ? ORDER BY length, name", []any{player}, func(r row) Club {
		return Club{ID: r.id, Player: word(r.content["player"]), Name: word(r.content["name"]), Length: float(r.content["length"])}
	})
}

// Marks are the coach's marks on a rep, in the order made.
func (l *Ledger) Marks(ctx context.Context, rep string) ([]Mark, error) {
	return list(ctx, l, "mark", "WHERE rep = ? ORDER BY at, id", []any{rep}, markOf)
}

// MarksOf are the coach's marks on all reps of a player, in the order made.
func (l *Ledger) MarksOf(ctx context.Context, player string) ([]Mark, error) {
	return list(ctx, l, "mark", `WHERE rep IN (SELECT reps.id FROM reps JOIN sets ON sets.id = part_of
		JOIN sessions ON sessions.id = session WHERE sessions.player = ?) ORDER BY at, id`, []any{player}, markOf)
}

// Coached are the readings of the body that the marks on a rep, in the order made,
// leave as the coach's.
func Coached(marks []Mark) (b drills.Body) {
	for _, m := range marks {
		if m.Kind != ReadingMark {
			continue
		}
		for p := range drills.BodyPart(drills.BodyParts) {
			if p.Key() == m.Value {
				b[p] = drills.Reading{Value: m.Points[0][0], Sigma: m.Points[0][1]}
			}
		}
	}
	return b
}

func markOf(r row) Mark {
	c := r.content
	m := Mark{ID: r.id, Rep: word(c["rep"]), Kind: word(c["kind"]), Value: word(c["value"]), Frame: float(c["frame"]), At: moment(c["at"])}
	for i, names := range [...][2]string{{"x1", "y1"}, {"x2", "y2"}, {"x3", "y3"}, {"x4", "y4"}} {
		m.Points[i] = [2]float64{float(c[names[0]]), float(c[names[1]])}
	}
	return m
}

// Clips are the clips that were kept of a player, the oldest first.
func (l *Ledger) Clips(ctx context.Context, player string) ([]Clip, error) {
	return list(ctx, l, "clip", `WHERE rep IN (SELECT reps.id FROM reps JOIN sets ON sets.id = part_of
		JOIN sessions ON sessions.id = session WHERE sessions.player = ?) ORDER BY at, id`, []any{player}, func(r row) Clip {
		n, _ := r.content["bytes"].(int64)
		c := Clip{ID: r.id, Rep: word(r.content["rep"]), File: word(r.content["file"]), Bytes: n, At: moment(r.content["at"])}
		_, err := os.Stat(filepath.Join(l.ClipFolder(), c.File))
		c.Missing = errors.Is(err, os.ErrNotExist)
		return c
	})
}

func list[T any](ctx context.Context, l *Ledger, kind string, where string, args []any, of func(row) T) ([]T, error) {
	k, _ := kindOf(kind)
	rows, err := readRows(ctx, l.read, k, where, args...)
	if err != nil {
		return nil, plain(l.path, err)
	}
	out := make([]T, len(rows))
	for i, r := range rows {
		out[i] = of(r)
	}
	return out, nil
}

// Which chooses reps; what is empty chooses all.
type Which struct {
	Player, Session, Drill string
	Kind                   SetKind
}

// Reps are the reps chosen, oldest first, those taken back included, those of
// deleted players not.
func (l *Ledger) Reps(ctx context.Context, w Which) ([]Record, error) {
	where := []string{staying("coalesce(sessions.player, '')")}
	var args []any
	for _, c := range []struct{ column, value string }{
		{"sessions.player", w.Player}, {"sessions.id", w.Session}, {"sets.drill", w.Drill}, {"sets.kind", string(w.Kind)},
	} {
		if c.value != "" {
			where, args = append(where, c.column+" = ?"), append(args, c.value)
		}
	}
	rows, err := l.read.QueryContext(ctx, `SELECT reps.id, sessions.id, coalesce(sessions.player, ''), coalesce(players.name, ''), coalesce(players.hand, 'right'),
		sessions.bay, sets.number, sets.drill, sets.rung, sets.club, coalesce(sets.club_length, 0), sets.kind, sets.band,
		reps.number, reps.at, taken, reps.kept, reps.verdict, just, manner, why, line, line_sigma, elevation, elevation_sigma, depth, depth_sigma, height, height_sigma, top_height, top_height_sigma,
		smoothness, tempo, tempo_low, tempo_high, start, back_start, level, catch, top, impact, finish, `+strings.Join(bodyColumns(), ", ")+`, coalesce(body_why, ''), coalesce(views, ''),
		coalesce((SELECT v.verdict FROM verdicts v WHERE v.rep = reps.id ORDER BY v.at DESC, v.id LIMIT 1), ''),
		coalesce((SELECT n.text FROM notes n WHERE n.rep = reps.id AND n.text <> '' ORDER BY n.at DESC, n.id LIMIT 1), '')
		FROM reps JOIN sets ON sets.id = part_of JOIN sessions ON sessions.id = session LEFT JOIN players ON players.id = sessions.player
		WHERE `+strings.Join(where, " AND ")+` ORDER BY reps.at, sets.number, reps.number, reps.id`, args...)
	if err != nil {
		return nil, plain(l.path, err)
	}
	defer rows.Close()
	put, err := list(ctx, l, "mark", "WHERE kind = ? ORDER BY at, id", []any{ReadingMark}, markOf)
	if err != nil {
		return nil, err
	}
	coached := map[string][]Mark{}
	for _, m := range put {
		coached[m.Rep] = append(coached[m.Rep], m)
	}
	var out []Record
	for rows.Next() {
		r := Record{Rep: drills.Rep{Moments: drills.NoMoments()}}
		p, m := &r.Rep, &r.Rep.Moments
		var at int64
		var hand, kind, verdict, manner, views string
		numbers := []*float64{&p.ShaftLine.Value, &p.ShaftLine.Sigma, &p.Elevation.Value, &p.Elevation.Sigma, &p.Depth.Value, &p.Depth.Sigma, &p.Height.Value, &p.Height.Sigma, &p.TopHeight.Value, &p.TopHeight.Sigma,
			&p.Smoothness, &p.Tempo, &p.TempoLow, &p.TempoHigh, &m.Start, &m.BackStart, &m.Level, &m.Catch, &m.Top, &m.Impact, &m.End}
		always := len(numbers)
		for i := range p.Body {
			numbers = append(numbers, &p.Body[i].Value, &p.Body[i].Sigma)
		}
		to := []any{&r.ID, &r.Session, &r.Player.ID, &r.Player.Name, &hand, &r.Bay, &r.Set, &r.Drill, &r.Rung, &r.Club, &r.ClubLong, &kind, &r.Band,
			&p.Number, &at, &r.Taken, &r.Kept, &verdict, &p.Just, &manner, &p.Why}
		found := make([]*float64, len(numbers))
		for i := range found {
			to = append(to, &found[i])
		}
		if err := rows.Scan(append(to, &p.BodyWhy, &views, &r.Coach, &r.Note)...); err != nil {
			return nil, plain(l.path, err)
		}
		for i, f := range found {
			if i < always {
				*numbers[i] = math.NaN()
			}
			if f != nil {
				*numbers[i] = *f
			}
		}
		r.At, r.Kind = moment(at), SetKind(kind)
		r.Player.Hand, _ = drills.ParseHand(hand)
		p.Verdict, _ = drills.ParseVerdict(verdict)
		p.Manner, _ = drills.ParseManner(manner)
		p.Views, _ = drills.ParseViews(views)
		r.Coached = Coached(coached[r.ID])
		if r.Coach == drills.NoReading.String() {
			r.Coach = ""
		}
		out = append(out, r)
	}
	return out, plain(l.path, rows.Err())
}
