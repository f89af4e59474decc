package ledger

import (
	"cmp"
	"context"
	"database/sql"
	"encoding/json"
	"slices"
	"strings"
)

// heads are the versions of one row that no other of them replaced: what a
// merge keeps. The result does not depend on the order in which versions
// arrive, nor on how often.
func heads(versions []row) []row {
	byName := map[string]row{}
	for _, v := range versions {
		if had, ok := byName[v.version]; ok {
			v.changed = max(v.changed, had.changed)
		}
		byName[v.version] = v
	}
	var out []row
	for _, v := range byName {
		replaced := false
		for _, other := range byName {
			replaced = replaced || other.follows(v.version)
		}
		if !replaced {
			out = append(out, v)
		}
	}
	// The one shown comes first: the one changed last.
	slices.SortFunc(out, func(a, b row) int {
		return cmp.Or(cmp.Compare(b.changed, a.changed), cmp.Compare(a.version, b.version))
	})
	return out
}

// merge brings versions of one row together with those in the ledger.
func merge(ctx context.Context, tx *sql.Tx, k kind, id string, incoming []row) (fresh, changed bool, beside []row, err error) {
	have, err := readRows(ctx, tx, k, "WHERE id = ?", id)
	if err != nil {
		return false, false, nil, err
	}
	others, err := readOthers(ctx, tx, "WHERE kind = ? AND id = ?", k.name, id)
	if err != nil {
		return false, false, nil, err
	}
	before := append(slices.Clone(have), others...)
	after := heads(append(slices.Clone(before), incoming...))
	if same(heads(before), after) {
		return false, false, after[1:], nil
	}
	if err := writeRow(ctx, tx, k, after[0]); err != nil {
		return false, false, nil, err
	}
	if _, err := tx.ExecContext(ctx, "DELETE FROM others WHERE kind = ? AND id = ?", k.name, id); err != nil {
		return false, false, nil, err
	}
	for _, r := range after[1:] {
		if err := writeOther(ctx, tx, r); err != nil {
			return false, false, nil, err
		}
	}
	return len(have) == 0, len(have) > 0, after[1:], nil
}

func same(a, b []row) bool {
	return slices.EqualFunc(a, b, func(x, y row) bool { return x.version == y.version && x.changed == y.changed })
}

func writeOther(ctx context.Context, tx *sql.Tx, r row) error {
	text, err := json.Marshal(r.content)
	if err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, "INSERT INTO others VALUES (?, ?, ?, ?, ?, ?)", r.kind, r.id, r.version, strings.Join(r.before, " "), r.changed, string(text))
	return err
}

// unpacked is the inverse of what writeOther makes of a content.
func unpacked(k kind, text string) (content, error) {
	dec := json.NewDecoder(strings.NewReader(text))
	dec.UseNumber()
	var values map[string]any
	if err := dec.Decode(&values); err != nil {
		return nil, err
	}
	out := content{}
	for _, c := range k.columns {
		v := values[c.name]
		if n, ok := v.(json.Number); ok {
			var err error
			if c.form == number {
				v, err = n.Float64()
			} else {
				v, err = n.Int64()
			}
			if err != nil {
				return nil, err
			}
		}
		out[c.name] = v
	}
	return out, nil
}
