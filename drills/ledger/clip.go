package ledger

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// renamingKey begins the name of the setting that says that a clip gets another
// name: what lies in the folder is listed, also when the program is killed in
// between. The clip's id follows; the value is the name before.
const renamingKey = "renaming "

// RenameClip gives a kept clip another name, which ends as it did, and returns
// it. Name is without the ending.
func (l *Ledger) RenameClip(ctx context.Context, id, name string) (string, error) {
	var old, file string
	err := l.change(ctx, func(ctx context.Context, tx *sql.Tx) (err error) {
		if old, err = clipFileOf(ctx, tx, id); err != nil {
			return err
		}
		file = strings.Join(strings.Fields(name), " ") + filepath.Ext(old)
		if file == old {
			return nil
		}
		if fitsFile(file) != nil {
			return fmt.Errorf("a clip cannot be called %q: use letters, digits, spaces, dots and hyphens", name)
		}
		var listed bool
		if err := tx.QueryRowContext(ctx, "SELECT count(*) > 0 FROM clips WHERE lower(file) = lower(?) AND id <> ?", file, id).Scan(&listed); err != nil {
			return err
		}
		if _, err := os.Lstat(filepath.Join(l.ClipFolder(), file)); listed || err == nil && !strings.EqualFold(file, old) {
			return fmt.Errorf("there is a clip called %q already", name)
		}
		if err := setClipFile(ctx, tx, l, id, file); err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, "INSERT OR REPLACE INTO settings VALUES (?, ?)", renamingKey+id, old)
		return err
	})
	switch {
	case err != nil:
		return "", err
	case file == old:
		return file, nil
	}
	at := func(name string) string { return filepath.Join(l.ClipFolder(), name) }
	failed := os.Rename(at(old), at(file))
	err = l.change(ctx, func(ctx context.Context, tx *sql.Tx) error {
		if failed != nil {
			if err := setClipFile(ctx, tx, l, id, old); err != nil {
				return err
			}
		}
		_, err := tx.ExecContext(ctx, "DELETE FROM settings WHERE key = ?", renamingKey+id)
		return err
	})
	if failed != nil {
		return "", errors.Join(fmt.Errorf("the clip is not renamed: %w", failed), err)
	}
	return file, err
}

// DeleteClip deletes one kept clip.
func (l *Ledger) DeleteClip(ctx context.Context, id string) error {
	return l.change(ctx, func(ctx context.Context, tx *sql.Tx) error {
		file, err := clipFileOf(ctx, tx, id)
		if err != nil {
			return err
		}
		var shared bool // by an import from elsewhere
		if err := tx.QueryRowContext(ctx, "SELECT count(*) > 1 FROM clips WHERE file = ?", file).Scan(&shared); err != nil {
			return err
		}
		// The file first: what is left half-way can be deleted again.
		if shared {
			// It is the other one's too.
		} else if err := os.Remove(filepath.Join(l.ClipFolder(), file)); err != nil && !errors.Is(err, os.ErrNotExist) {
			return fmt.Errorf("the clip cannot be deleted: %w", err)
		}
		if _, err := tx.ExecContext(ctx, "DELETE FROM others WHERE kind = 'clip' AND id = ?", id); err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, "DELETE FROM clips WHERE id = ?", id)
		return err
	})
}

func clipFileOf(ctx context.Context, tx *sql.Tx, id string) (file string, err error) {
	err = tx.QueryRowContext(ctx, "SELECT file FROM clips WHERE id = ?", id).Scan(&file)
	if errors.Is(err, sql.ErrNoRows) {
		return "", fmt.Errorf("the clip is %w", ErrUnknown)
	}
	if err == nil {
		err = fitsFile(file)
	}
	return file, err
}

// setClipFile changes a clip's name as any content is changed.
func setClipFile(ctx context.Context, tx *sql.Tx, l *Ledger, id, file string) error {
	k, _ := kindOf("clip")
	rows, err := readRows(ctx, tx, k, "WHERE id = ?", id)
	if err != nil {
		return err
	}
	for _, r := range rows {
		r.content["file"] = file
		if err := l.put(ctx, tx, "clip", id, r.content); err != nil {
			return err
		}
	}
	return nil
}

// renamed ends what a program that was killed began.
func (l *Ledger) renamed() {
	rows, err := l.write.Query("SELECT substr(key, ?2), value, file FROM settings JOIN clips ON clips.id = substr(key, ?2) WHERE substr(key, 1, ?2 - 1) = ?1", renamingKey, len(renamingKey)+1)
	if err != nil {
		return
	}
	var list [][3]string
	for rows.Next() {
		var r [3]string
		if rows.Scan(&r[0], &r[1], &r[2]) == nil && fitsFile(r[1]) == nil && fitsFile(r[2]) == nil {
			list = append(list, r)
		}
	}
	rows.Close()
	for _, r := range list {
		old, file := filepath.Join(l.ClipFolder(), r[1]), filepath.Join(l.ClipFolder(), r[2])
		if _, err := os.Lstat(file); errors.Is(err, os.ErrNotExist) {
			if err := os.Rename(old, file); err != nil && !errors.Is(err, os.ErrNotExist) {
				continue // tried again at the next start
			}
		}
		_, _ = l.write.Exec("DELETE FROM settings WHERE key = ?", renamingKey+r[0])
	}
}
