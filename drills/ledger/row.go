package ledger

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
)

// content are a row's values by column: string, int64, float64, bool or nil;
// a clock is int64 milliseconds. Every column of the kind is there.
type content map[string]any

// row is one row in one version. A version is never changed: it is named by
// its content and by the versions that it replaced.
type row struct {
	kind    string
	id      string
	version string
	before  []string // names of all versions before it, sorted
	changed int64    // ms since 1970
	content content
}

// version names a content that replaces what is in before: 16 hex digits of
// the SHA-256 of both. What is missing does not enter, so that a column added
// later changes no name.
func (c content) version(before []string) string {
	known := make(content, len(c))
	for name, v := range c {
		if v != nil {
			known[name] = v
		}
	}
	text, err := json.Marshal(struct {
		Content content
		Before  []string
	}{known, append([]string{}, before...)})
	if err != nil {
		panic(err) // no value of a content can fail
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:8])
}

func (c content) same(d content) bool { return c.version(nil) == d.version(nil) }

// follows reports whether r was made knowing the other version.
func (r row) follows(version string) bool { return slices.Contains(r.before, version) }

// largestNumber is above all that is measured; what is beyond it is no reading.
const largestNumber = 1e9

// checked brings values to the kinds of a content and says what does not fit.
func (k kind) checked(values content) (content, error) {
	out := make(content, len(k.columns))
	for _, c := range k.columns {
		v := values[c.name]
		if f, ok := v.(float64); ok && !(math.Abs(f) < largestNumber) { // NaN too
			v = nil
		}
		if v == nil {
			if !c.may {
				return nil, fmt.Errorf("%s: %q is missing", k.name, c.name)
			}
			out[c.name] = nil
			continue
		}
		if !c.holds(v) {
			return nil, fmt.Errorf("%s: %q cannot be %v", k.name, c.name, v)
		}
		if c.form == ref {
			if err := fitsID(v.(string)); err != nil {
				return nil, fmt.Errorf("%s: %q: %w", k.name, c.name, err)
			}
		}
		if c.fits != nil {
			if err := c.fits(v); err != nil {
				return nil, fmt.Errorf("%s: %w", k.name, err)
			}
		}
		out[c.name] = v
	}
	return out, nil
}

func (c column) holds(v any) (ok bool) {
	switch c.form {
	case whole, clock:
		_, ok = v.(int64)
	case number:
		_, ok = v.(float64)
	case yes:
		_, ok = v.(bool)
	default:
		_, ok = v.(string)
	}
	return ok
}

// fitsID accepts an id in its one spelling.
func fitsID(id string) error {
	if u, err := uuid.Parse(id); err != nil || u.String() != id {
		return fmt.Errorf("%q is not an id (a UUID in small letters)", id)
	}
	return nil
}

// querier is a connection or a transaction.
type querier interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
}

// readRows reads rows of a kind; where is what follows FROM table.
func readRows(ctx context.Context, q querier, k kind, where string, args ...any) ([]row, error) {
	names := make([]string, len(k.columns))
	for i, c := range k.columns {
		names[i] = k.table + "." + c.name
	}
	t := k.table
	rows, err := q.QueryContext(ctx, fmt.Sprintf("SELECT %s.id, %s.version, %s.before, %s.changed, %s FROM %s %s", t, t, t, t, strings.Join(names, ", "), t, where), args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []row
	for rows.Next() {
		r := row{kind: k.name}
		var before string
		values := make([]any, len(k.columns))
		to := []any{&r.id, &r.version, &before, &r.changed}
		for i := range values {
			to = append(to, &values[i])
		}
		if err := rows.Scan(to...); err != nil {
			return nil, err
		}
		r.before = strings.Fields(before)
		r.content = make(content, len(values))
		for i, c := range k.columns {
			if n, ok := values[i].(int64); ok && c.form == yes {
				values[i] = n != 0
			}
			r.content[c.name] = values[i]
		}
		out = append(out, r)
	}
	return out, rows.Err()
}

// idsOf are the ids that a query chooses.
func idsOf(ctx context.Context, q querier, query string, args ...any) (ids []string, err error) {
	rows, err := q.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var id string
		if err := rows.Scan(&id); err != nil {
			return nil, err
		}
		ids = append(ids, id)
	}
	return ids, rows.Err()
}

// writeRow stores a row as it is, in place of the one with its id.
func writeRow(ctx context.Context, tx *sql.Tx, k kind, r row) error {
	names, marks, sets := []string{"id", "version", "before", "changed"}, []string{"?", "?", "?", "?"}, []string{"version = excluded.version", "before = excluded.before", "changed = excluded.changed"}
	args := []any{r.id, r.version, strings.Join(r.before, " "), r.changed}
	for _, c := range k.columns {
		names, marks = append(names, c.name), append(marks, "?")
		sets = append(sets, c.name+" = excluded."+c.name)
		args = append(args, r.content[c.name])
	}
	_, err := tx.ExecContext(ctx, fmt.Sprintf("INSERT INTO %s (%s) VALUES (%s) ON CONFLICT (id) DO UPDATE SET %s",
		k.table, strings.Join(names, ", "), strings.Join(marks, ", "), strings.Join(sets, ", ")), args...)
	return err
}

// put makes the content the newest version of a row; an equal one changes
// nothing.
func (l *Ledger) put(ctx context.Context, tx *sql.Tx, name, id string, values content) error {
	k, _ := kindOf(name)
	if err := fitsID(id); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	c, err := k.checked(values)
	if err != nil {
		return err
	}
	have, err := readRows(ctx, tx, k, "WHERE id = ?", id)
	if err != nil {
		return err
	}
	r := row{kind: name, id: id, content: c, changed: millis(l.now())}
	if len(have) > 0 {
		if have[0].content.same(c) {
			return nil
		}
		r.before = union(have[0].before, []string{have[0].version})
	}
	r.version = c.version(r.before)
	return writeRow(ctx, tx, k, r)
}

func union(a, b []string) []string {
	out := slices.Concat(a, b)
	slices.Sort(out)
	return slices.Compact(out)
}

func millis(t time.Time) int64 { return t.UnixMilli() }

func moment(ms any) time.Time {
	if n, ok := ms.(int64); ok {
		return time.UnixMilli(n).UTC()
	}
	return time.Time{}
}
