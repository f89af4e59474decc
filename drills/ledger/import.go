package ledger

import (
	"bufio"
	"bytes"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
)

// longestLine bounds a line of an import.
const longestLine = 4 << 20

// Imported counts what an import did.
type Imported struct {
	Rows, New, Changed int
	Forgotten          int      // rows of players who were deleted here: left out
	Deleted            []string // the names of those players
	Restored           []string // of players who were deleted here and are back
	Conflicts          []Conflict
}

// String says it to the coach.
func (i Imported) String() string {
	text := fmt.Sprintf("%d rows read: %d new, %d changed, %d known already", i.Rows, i.New, i.Changed, i.Rows-i.New-i.Changed-i.Forgotten)
	if i.Forgotten > 0 {
		text += fmt.Sprintf(", %d left out, of players who were deleted here", i.Forgotten)
		if len(i.Deleted) > 0 {
			text += ": " + strings.Join(i.Deleted, ", ")
		}
	}
	switch n := len(i.Conflicts); {
	case n == 1:
		text += ". 1 was changed on both sides: both are kept, the later one is shown (drillbay settle: choose)"
	case n > 1:
		text += fmt.Sprintf(". %d were changed on both sides: both of each are kept, the later one is shown (drillbay settle: choose)", n)
	}
	text += "."
	for _, name := range i.Restored {
		text += " " + name + " is back."
	}
	return text
}

// Conflict is a row that was changed on two sides.
type Conflict struct {
	Kind, ID string
	Differs  []string // names of the values that differ
	Shown    map[string]any
	Beside   []map[string]any
}

// Import merges an export into the ledger by id, all of it or nothing.
// Importing twice, or exports of several laptops in any order, gives the same
// ledger. Where both sides changed a row, both are kept and told. Players who
// were deleted here are left out but those whose names are to be restored.
func (l *Ledger) Import(ctx context.Context, from io.Reader, restore ...string) (Imported, error) {
	versions, total, err := parseAll(&limited{from, largestImport})
	if err != nil {
		return Imported{}, err
	}
	var done Imported
	err = l.change(ctx, func(ctx context.Context, tx *sql.Tx) error {
		done = Imported{Rows: total}
		if _, err := tx.ExecContext(ctx, "PRAGMA defer_foreign_keys = 1"); err != nil {
			return err
		}
		if err := bringBack(ctx, tx, versions["player"], restore, &done); err != nil {
			return err
		}
		return l.mergeAll(ctx, tx, versions, &done)
	})
	if err != nil {
		return Imported{}, fmt.Errorf("nothing is imported: %w", err)
	}
	return done, nil
}

func (l *Ledger) mergeAll(ctx context.Context, tx *sql.Tx, versions map[string][]row, done *Imported) error {
	left := map[string]bool{} // ids of what is left out
	for _, k := range kinds() {
		order, grouped := byID(versions[k.name])
		for _, id := range order {
			group := grouped[id]
			out, err := forgotten(ctx, tx, k, group, left)
			if err != nil {
				return err
			}
			if out {
				left[id] = true
				done.Forgotten += len(group)
				continue
			}
			for _, r := range group {
				if err := l.belongs(ctx, tx, k.name, r.content); err != nil {
					return fmt.Errorf("%s %s: %w", k.name, r.id, err)
				}
			}
			fresh, changed, beside, err := merge(ctx, tx, k, id, group)
			if err != nil {
				return err
			}
			if fresh {
				done.New++
			}
			if changed {
				done.Changed++
			}
			if len(beside) > 0 && (fresh || changed) {
				shown, err := readRows(ctx, tx, k, "WHERE id = ?", id)
				if err != nil {
					return err
				}
				done.Conflicts = append(done.Conflicts, conflict(k, shown[0], beside))
			}
		}
	}
	return nil
}

// forgotten reports whether rows belong to a player who was deleted here.
func forgotten(ctx context.Context, tx *sql.Tx, k kind, group []row, left map[string]bool) (bool, error) {
	for _, r := range group {
		if k.name == "player" {
			if gone, err := deleted(ctx, tx, r.id); err != nil || gone {
				return gone, err
			}
		}
		for _, c := range k.columns {
			if id, ok := r.content[c.name].(string); ok && c.form == ref && left[id] {
				return true, nil
			}
		}
	}
	return false, nil
}

// deleted reports whether a player was deleted here, from the disk or until
// the session ends.
func deleted(ctx context.Context, tx *sql.Tx, player string) (gone bool, err error) {
	err = tx.QueryRowContext(ctx, "SELECT (SELECT count(*) FROM forgotten WHERE id = ?) + (SELECT count(*) FROM settings WHERE key = ?) > 0", hidden(player), leavingKey+player).Scan(&gone)
	return gone, err
}

// bringBack lets those of the named players back who were deleted here, and
// notes the names of the others who were.
func bringBack(ctx context.Context, tx *sql.Tx, players []row, names []string, done *Imported) error {
	wanted := func(name string) bool {
		return slices.ContainsFunc(names, func(n string) bool { return strings.EqualFold(strings.TrimSpace(n), name) })
	}
	order, grouped := byID(players)
	for _, id := range order {
		gone, err := deleted(ctx, tx, id)
		if err != nil {
			return err
		}
		name := word(heads(grouped[id])[0].content["name"])
		switch {
		case gone && wanted(name):
			if _, err := tx.ExecContext(ctx, "DELETE FROM forgotten WHERE id = ?", hidden(id)); err != nil {
				return err
			}
			if _, err := tx.ExecContext(ctx, "DELETE FROM settings WHERE key = ?", leavingKey+id); err != nil {
				return err
			}
			done.Restored = append(done.Restored, name)
		case gone:
			done.Deleted = append(done.Deleted, name)
		}
	}
	for _, n := range names {
		if slices.ContainsFunc(done.Restored, func(back string) bool { return strings.EqualFold(strings.TrimSpace(n), back) }) {
			continue
		}
		who := "it holds none who was deleted here"
		if len(done.Deleted) > 0 {
			who = "of those who were deleted here it holds " + strings.Join(done.Deleted, ", ")
		}
		return fmt.Errorf("%q is not to be brought back from this file: %s: %w", n, who, ErrUnknown)
	}
	return nil
}

func byID(rows []row) (order []string, grouped map[string][]row) {
	grouped = map[string][]row{}
	for _, r := range rows {
		if _, ok := grouped[r.id]; !ok {
			order = append(order, r.id)
		}
		grouped[r.id] = append(grouped[r.id], r)
	}
	return order, grouped
}

// parseAll reads an export, by kind, and says at which line it is wrong.
func parseAll(from io.Reader) (map[string][]row, int, error) {
	versions, total, empty := map[string][]row{}, 0, true
	scan := bufio.NewScanner(from)
	scan.Buffer(make([]byte, 64<<10), longestLine)
	wrong := func(n int, err error) error {
		return fmt.Errorf("nothing is imported: line %d of the file: %w", n, err)
	}
	for n := 1; scan.Scan(); n++ {
		text := scan.Bytes()
		if n == 1 {
			text = bytes.TrimPrefix(text, []byte("\ufeff"))
		}
		if len(bytes.TrimSpace(text)) == 0 {
			continue
		}
		empty = false
		var v line
		dec := json.NewDecoder(bytes.NewReader(text))
		dec.UseNumber()
		dec.DisallowUnknownFields()
		if err := dec.Decode(&v); err != nil {
			return nil, 0, wrong(n, inWords(err))
		}
		if _, err := dec.Token(); err != io.EOF {
			return nil, 0, wrong(n, errors.New("there is more on it than one row"))
		}
		if v.Kind == head {
			if v.Schema < 1 {
				return nil, 0, wrong(n, fmt.Errorf("there are no tables of version %d", v.Schema))
			}
			if v.Schema > Schema {
				return nil, 0, wrong(n, fmt.Errorf("it is an export of tables of version %d, known here up to %d: %w", v.Schema, Schema, ErrNewer))
			}
			continue
		}
		k, ok := kindOf(v.Kind)
		if !ok {
			return nil, 0, wrong(n, fmt.Errorf("%q is no kind of row", v.Kind))
		}
		r, err := k.parsed(v)
		if err != nil {
			return nil, 0, wrong(n, err)
		}
		versions[k.name] = append(versions[k.name], r)
		total++
	}
	if err := scan.Err(); err != nil {
		if errors.Is(err, bufio.ErrTooLong) {
			err = errors.New("a line is too long: is this an export?")
		}
		return nil, 0, fmt.Errorf("nothing is imported: %w", err)
	}
	if empty {
		return nil, 0, errors.New("nothing is imported: the file is empty: is this an export?")
	}
	return versions, total, nil
}

// inWords says what is wrong with a line that is no line of an export.
func inWords(err error) error {
	var kind *json.UnmarshalTypeError
	switch {
	case errors.As(err, &kind) && kind.Field != "":
		return fmt.Errorf("this is not a line of an export: %q holds something else than it should", kind.Field)
	case errors.Is(err, io.ErrUnexpectedEOF):
		return errors.New("this is not a line of an export: it is cut off in the middle")
	case strings.Contains(err.Error(), "unknown field"):
		_, name, _ := strings.Cut(err.Error(), "unknown field ")
		return fmt.Errorf("this is not a line of an export: there is no %s in one", name)
	}
	return errors.New("this is not a line of an export: was the file written by drillbay export?")
}

// Conflicts are the rows of which more than one version is kept.
func (l *Ledger) Conflicts(ctx context.Context) ([]Conflict, error) {
	others, err := readOthers(ctx, l.read, "ORDER BY kind, id, version")
	if err != nil {
		return nil, plain(l.path, err)
	}
	var out []Conflict
	for _, k := range kinds() {
		var mine []row
		for _, r := range others {
			if r.kind == k.name {
				mine = append(mine, r)
			}
		}
		order, grouped := byID(mine)
		for _, id := range order {
			shown, err := readRows(ctx, l.read, k, "WHERE id = ?", id)
			if err != nil {
				return nil, plain(l.path, err)
			}
			if len(shown) == 1 {
				out = append(out, conflict(k, shown[0], grouped[id]))
			}
		}
	}
	return out, nil
}

// Settle ends a conflict: the version shown is kept, or with a number from 1
// the one beside it, and the others are dropped on every laptop that imports
// this one's export.
func (l *Ledger) Settle(ctx context.Context, kind, id string, beside int) error {
	k, ok := kindOf(kind)
	if !ok {
		return fmt.Errorf("%q is no kind of row", kind)
	}
	return l.change(ctx, func(ctx context.Context, tx *sql.Tx) error {
		shown, err := readRows(ctx, tx, k, "WHERE id = ?", id)
		if err != nil {
			return err
		}
		others, err := readOthers(ctx, tx, "WHERE kind = ? AND id = ? ORDER BY version", kind, id)
		if err != nil {
			return err
		}
		all := append(shown, others...)
		if len(shown) == 0 || beside < 0 || beside >= len(all) {
			return fmt.Errorf("this version of the %s is %w", kind, ErrUnknown)
		}
		r := row{kind: kind, id: id, content: all[beside].content, changed: millis(l.now())}
		for _, v := range all {
			r.before = union(r.before, append(v.before, v.version))
		}
		r.version = r.content.version(r.before)
		if err := writeRow(ctx, tx, k, r); err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, "DELETE FROM others WHERE kind = ? AND id = ?", kind, id)
		return err
	})
}

func conflict(k kind, shown row, beside []row) Conflict {
	c := Conflict{Kind: k.name, ID: shown.id, Shown: k.line(shown).Row}
	for _, r := range beside {
		c.Beside = append(c.Beside, k.line(r).Row)
	}
	for _, col := range k.columns {
		for _, r := range beside {
			if r.content[col.name] != shown.content[col.name] {
				c.Differs = append(c.Differs, col.name)
				break
			}
		}
	}
	return c
}

// String says it to the coach.
func (c Conflict) String() string {
	return fmt.Sprintf("%s %s: %s changed on both sides", c.Kind, c.ID, strings.Join(c.Differs, ", "))
}
