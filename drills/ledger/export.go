package ledger

import (
	"bufio"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"time"
	"unicode"
)

// line is one line of an export: its first says what the file is, each other
// is one version of one row.
type line struct {
	Kind    string         `json:"kind"`
	Schema  int            `json:"schema,omitempty"`
	ID      string         `json:"id,omitempty"`
	Version string         `json:"version,omitempty"`
	Before  []string       `json:"before,omitempty"`
	Changed string         `json:"changed,omitempty"`
	Row     map[string]any `json:"row,omitempty"`
}

// head is the kind of an export's first line.
const head = "drillbay ledger"

// Export writes the ledger, or with an id one player's part of it with all
// bays, as JSON Lines: for a backup or for another laptop, read again by
// Import. Clip files are listed, not contained; those who were deleted are not
// in it.
func (l *Ledger) Export(ctx context.Context, w io.Writer, player string) error {
	tx, err := l.read.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return plain(l.path, err)
	}
	defer tx.Rollback()
	out := bufio.NewWriter(w)
	enc := json.NewEncoder(out)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(line{Kind: head, Schema: Schema}); err != nil {
		return err
	}
	chosen, left := map[string]bool{}, map[string]bool{}
	for _, t := range theirs() {
		ids, err := idsOf(ctx, tx, "SELECT id FROM "+t.table+" WHERE "+strings.ReplaceAll(t.where, "= ?1", "IN (SELECT substr(key, length(?1) + 1) FROM settings WHERE substr(key, 1, length(?1)) = ?1)"), leavingKey)
		if err != nil {
			return plain(l.path, err)
		}
		for _, id := range ids {
			left[t.kind+id] = true
		}
	}
	for _, k := range kinds() {
		where, args := "ORDER BY id", []any(nil)
		if player != "" && k.name != "bay" {
			for _, t := range theirs() {
				if t.kind == k.name {
					where, args = "WHERE "+t.where+" ORDER BY id", []any{player}
				}
			}
		}
		rows, err := readRows(ctx, tx, k, where, args...)
		if err != nil {
			return plain(l.path, err)
		}
		if k.name == "player" && player != "" && (len(rows) == 0 || left[k.name+player]) {
			return fmt.Errorf("the player to export is %w", ErrUnknown)
		}
		for _, r := range rows {
			if left[k.name+r.id] {
				continue
			}
			chosen[k.name+r.id] = true
			if err := enc.Encode(k.line(r)); err != nil {
				return err
			}
		}
	}
	others, err := readOthers(ctx, tx, "ORDER BY kind, id, version")
	if err != nil {
		return plain(l.path, err)
	}
	for _, r := range others {
		k, _ := kindOf(r.kind)
		if !chosen[r.kind+r.id] {
			continue
		}
		if err := enc.Encode(k.line(r)); err != nil {
			return err
		}
	}
	return out.Flush()
}

func (k kind) line(r row) line {
	values := make(map[string]any, len(r.content))
	for _, c := range k.columns {
		v := r.content[c.name]
		if v == nil {
			continue
		}
		if ms, ok := v.(int64); ok && c.form == clock {
			v = stamp(ms)
		}
		values[c.name] = v
	}
	return line{Kind: k.name, ID: r.id, Version: r.version, Before: r.before, Changed: stamp(r.changed), Row: values}
}

// parsed is the inverse of line.
func (k kind) parsed(n line) (row, error) {
	if err := fitsID(n.ID); err != nil {
		return row{}, fmt.Errorf("%s: %w", k.name, err)
	}
	values := content{}
	for name, v := range n.Row {
		c, ok := k.column(name)
		if !ok {
			return row{}, fmt.Errorf("%s: there is no %q", k.name, name)
		}
		var err error
		if values[name], err = c.parsed(v); err != nil {
			return row{}, fmt.Errorf("%s: %q: %w", k.name, name, err)
		}
	}
	if name, ok := values["name"].(string); ok && k.name == "player" && strings.TrimSpace(name) == "" {
		return row{}, errors.New("a player needs a name")
	}
	c, err := k.checked(values)
	if err != nil {
		return row{}, err
	}
	r := row{kind: k.name, id: n.ID, version: n.Version, before: union(n.Before, nil), content: c}
	for _, v := range append([]string{n.Version}, n.Before...) {
		if !isVersion(v) {
			return row{}, fmt.Errorf("%s: %q is not the name of a version", k.name, v)
		}
	}
	changed, err := unstamp(n.Changed)
	if err != nil {
		return row{}, fmt.Errorf("%s: %w", k.name, err)
	}
	r.changed = changed
	if real := c.version(r.before); real != r.version {
		// Changed by hand: a version of its own, which follows the one named.
		r.before = union(r.before, []string{r.version})
		r.version = c.version(r.before)
	}
	return r, nil
}

// longestText bounds a text of an import, bytes.
const longestText = 10_000

// readable says why a text of an import is none to read: too long, or with
// what does not show, which could work a terminal or turn a line round.
func (c column) readable(s string) error {
	if len(s) > longestText {
		return fmt.Errorf("%d bytes are too many for a text", len(s))
	}
	for _, r := range s {
		if unicode.IsControl(r) && (c.name == "name" || r != '\n' && r != '\t') || unicode.Is(unicode.Cf, r) && r != '\u200c' && r != '\u200d' {
			return fmt.Errorf("it holds a character that does not show (%U)", r)
		}
	}
	return nil
}

// possible says why a number of an import is out of the range that its column allows:
// nothing else is known of it, and a report would believe it.
func (c column) possible(f float64) error {
	switch {
	case c.form == whole && (f < 0 || f > 1e12), strings.HasSuffix(c.name, "_sigma") && f < 0:
	case (c.name == "line" || c.name == "elevation" || c.name == "roll") && math.Abs(f) > 180:
	case c.name == "band" && !(f > 0 && f <= 90), strings.HasPrefix(c.name, "tempo") && f <= 0:
	default:
		return nil
	}
	return fmt.Errorf("%g cannot be", f)
}

func (c column) parsed(v any) (any, error) {
	switch v := v.(type) {
	case json.Number:
		if c.form == whole {
			n, err := v.Int64()
			return n, errors.Join(err, c.possible(float64(n)))
		}
		f, err := v.Float64()
		return f, errors.Join(err, c.possible(f))
	case string:
		if err := c.readable(v); err != nil {
			return nil, err
		}
		if c.form == clock {
			return unstamp(v)
		}
	}
	return v, nil
}

func isVersion(s string) bool {
	if len(s) != 16 {
		return false
	}
	for _, r := range s {
		if (r < '0' || r > '9') && (r < 'a' || r > 'f') {
			return false
		}
	}
	return true
}

// stampForm is RFC 3339 with milliseconds.
const stampForm = "2006-01-02T15:04:05.000Z07:00"

func stamp(ms int64) string { return time.UnixMilli(ms).UTC().Format(stampForm) }

func unstamp(s string) (int64, error) {
	t, err := time.Parse(time.RFC3339Nano, s)
	if err != nil || t.Year() < 1970 || t.Year() > 2200 {
		return 0, errors.New(s + " is not a time such as 2026-03-01T10:00:00Z")
	}
	return t.UnixMilli(), nil
}

// readOthers reads the versions kept beside the rows that are shown.
func readOthers(ctx context.Context, q querier, where string, args ...any) ([]row, error) {
	rows, err := q.QueryContext(ctx, "SELECT kind, id, version, before, changed, content FROM others "+where, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []row
	for rows.Next() {
		var r row
		var before, text string
		if err := rows.Scan(&r.kind, &r.id, &r.version, &before, &r.changed, &text); err != nil {
			return nil, err
		}
		k, ok := kindOf(r.kind)
		if !ok {
			continue
		}
		if r.content, err = unpacked(k, text); err != nil {
			return nil, err
		}
		r.before = strings.Fields(before)
		out = append(out, r)
	}
	return out, rows.Err()
}
