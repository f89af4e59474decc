package ledger

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/google/uuid"
)

// PutPlayer stores a player, new or changed, and returns the id: a new one
// when the player has none.
func (l *Ledger) PutPlayer(ctx context.Context, p Player) (string, error) {
	if p.Name = strings.TrimSpace(p.Name); p.Name == "" {
		return "", errors.New("a player needs a name or initials")
	}
	if p.Created.IsZero() {
		p.Created = l.now()
	}
	return l.putOne(ctx, "player", p.ID, playerContent(p))
}

// PutPlayers stores new players in one transaction, all or none of them.
func (l *Ledger) PutPlayers(ctx context.Context, list []Player) error {
	return l.change(ctx, func(ctx context.Context, tx *sql.Tx) error {
		for _, p := range list {
			if p.Name = strings.TrimSpace(p.Name); p.Name == "" {
				return errors.New("a player needs a name or initials")
			}
			if p.Created.IsZero() {
				p.Created = l.now()
			}
			if err := l.put(ctx, tx, "player", p.ID, playerContent(p)); err != nil {
				return err
			}
		}
		return nil
	})
}

// PutClub stores a club. Its length must be within the rules.
func (l *Ledger) PutClub(ctx context.Context, c Club) (string, error) {
	if strings.TrimSpace(c.Name) == "" {
		return "", errors.New("a club needs a name, such as 7-iron")
	}
	return l.putOne(ctx, "club", c.ID, content{"player": c.Player, "name": c.Name, "length": c.Length})
}

// PutBay stores a camera set-up.
func (l *Ledger) PutBay(ctx context.Context, b Bay) (string, error) {
	if strings.TrimSpace(b.Name) == "" {
		return "", errors.New("a bay needs a name to be found again")
	}
	if b.Made.IsZero() {
		b.Made = l.now()
	}
	return l.putOne(ctx, "bay", b.ID, content{"name": b.Name, "camera": b.Camera, "distance": or(b.Distance), "focal": or(b.Focal), "fov": or(b.FOV),
		"width": orWhole(b.Width), "height": orWhole(b.Height), "target_x": or(b.TargetX), "target_y": or(b.TargetY), "target_sigma": or(b.TargetSigma),
		"roll": or(b.Roll), "flipped": b.Flipped, "view": orText(b.View), "made": millis(b.Made)})
}

// PutMark stores a mark of the coach's on a rep.
func (l *Ledger) PutMark(ctx context.Context, m Mark) (string, error) {
	if m.At.IsZero() {
		m.At = l.now()
	}
	c := content{"rep": m.Rep, "kind": m.Kind, "value": m.Value, "frame": or(m.Frame), "at": millis(m.At)}
	for i, p := range m.Points {
		x, y := fmt.Sprintf("x%d", i+1), fmt.Sprintf("y%d", i+1)
		c[x], c[y] = or(p[0]), or(p[1])
	}
	return l.putOne(ctx, "mark", m.ID, c)
}

// NoPoints are the points of a mark that has none yet.
func NoPoints() [4][2]float64 {
	n := math.NaN()
	return [4][2]float64{{n, n}, {n, n}, {n, n}, {n, n}}
}

func (l *Ledger) putOne(ctx context.Context, kind, id string, c content) (string, error) {
	if id == "" {
		id = uuid.NewString()
	}
	err := l.change(ctx, func(ctx context.Context, tx *sql.Tx) error {
		if err := l.belongs(ctx, tx, kind, c); err != nil {
			return err
		}
		return l.put(ctx, tx, kind, id, c)
	})
	if err != nil {
		return "", err
	}
	return id, nil
}

// belongs says which row that a content refers to is not there.
func (l *Ledger) belongs(ctx context.Context, tx *sql.Tx, name string, c content) error {
	k, _ := kindOf(name)
	for _, col := range k.columns {
		id, ok := c[col.name].(string)
		if col.form != ref || !ok {
			continue
		}
		to, _ := kindOf(col.to)
		known, err := there(ctx, tx, to.table, id)
		if err != nil {
			return err
		}
		if !known {
			return fmt.Errorf("the %s of this %s is %w", col.to, name, ErrUnknown)
		}
	}
	return nil
}

// Setting reads a setting of the program, "" when it was never set. Settings
// are this laptop's own: they are not exported.
func (l *Ledger) Setting(ctx context.Context, key string) (string, error) {
	var v string
	err := l.read.QueryRowContext(ctx, "SELECT value FROM settings WHERE key = ?", key).Scan(&v)
	if errors.Is(err, sql.ErrNoRows) {
		return "", nil
	}
	return v, plain(l.path, err)
}

// PutSetting stores a setting.
func (l *Ledger) PutSetting(ctx context.Context, key, value string) error {
	return l.change(ctx, func(ctx context.Context, tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, "INSERT INTO settings VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = excluded.value", key, value)
		return err
	})
}
