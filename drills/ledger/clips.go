package ledger

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/google/uuid"

	"drillbay/drills"
)

// ClipFolder returns the folder of kept clips, beside the ledger.
func (l *Ledger) ClipFolder() string {
	return strings.TrimSuffix(l.path, filepath.Ext(l.path)) + "-clips"
}

// part ends the name of a clip that is still being written: it begins with
// that of its rep, so that it can be deleted with the player.
const part = ".part"

// KeepClip stores a clip of a rep. view says which of two cameras saw it, drills.NoView
// where there was one; ending is that of its file, "avi". Without the player's consent in
// the ledger, a guardian's for a minor, it fails with ErrConsent.
func (l *Ledger) KeepClip(ctx context.Context, rep string, view drills.View, ending string, clip io.Reader) (Clip, error) {
	c := Clip{ID: uuid.NewString(), Rep: rep, At: l.now()}
	if err := l.Consented(ctx, rep); err != nil {
		return Clip{}, err
	}
	folder := l.ClipFolder()
	var err error
	if c.File, err = l.clipName(ctx, rep, view, ending); err != nil {
		return Clip{}, err
	}
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return Clip{}, fmt.Errorf("the folder for clips cannot be made: %w", err)
	}
	path, early := filepath.Join(folder, c.File), filepath.Join(folder, rep+"."+c.ID+part)
	if c.Bytes, err = writeFile(early, clip); err == nil {
		// Listed before it has its name: what lies there is always listed.
		_, err = l.putOne(ctx, "clip", c.ID, content{"rep": rep, "file": c.File, "bytes": c.Bytes, "at": millis(c.At)})
	}
	if err != nil {
		return Clip{}, errors.Join(fmt.Errorf("the clip is not kept: %w", err), os.Remove(early))
	}
	if err := os.Rename(early, path); err != nil {
		return Clip{}, fmt.Errorf("the clip is not kept: %w", err)
	}
	return c, nil
}

// clipName is the name of a rep's clip: of the player, the day and the time of
// day, the rep's number in its set, and the view where there were two. Further clips
// of one rep are numbered.
func (l *Ledger) clipName(ctx context.Context, rep string, view drills.View, ending string) (string, error) {
	var name string
	var at int64
	var number int
	err := l.read.QueryRowContext(ctx, `SELECT coalesce(name, 'player'), reps.at, reps.number FROM reps JOIN sets ON sets.id = part_of
		JOIN sessions ON sessions.id = session LEFT JOIN players ON players.id = sessions.player WHERE reps.id = ?`, rep).Scan(&name, &at, &number)
	if err != nil {
		return "", plain(l.path, err)
	}
	stem := fmt.Sprintf("%s-%s-rep-%d", drills.PlainName(name), moment(at).Local().Format("2006-01-02-15.04"), number)
	if view != drills.NoView {
		stem += "-" + strings.ReplaceAll(view.String(), " ", "-")
	}
	for n := 1; ; n++ {
		file := stem + "." + ending
		if n > 1 {
			file = fmt.Sprintf("%s-%d.%s", stem, n, ending)
		}
		if err := fitsFile(file); err != nil {
			return "", err
		}
		var listed bool
		if err := l.read.QueryRowContext(ctx, "SELECT count(*) > 0 FROM clips WHERE file = ?", file).Scan(&listed); err != nil {
			return "", plain(l.path, err)
		}
		if _, err := os.Lstat(filepath.Join(l.ClipFolder(), file)); !listed && errors.Is(err, os.ErrNotExist) {
			return file, nil
		}
	}
}

// DeleteClips deletes the clips that were kept of a player, and says how many
// there were.
func (l *Ledger) DeleteClips(ctx context.Context, player string) (n int, err error) {
	err = l.change(ctx, func(ctx context.Context, tx *sql.Tx) error {
		g, files, err := gather(ctx, tx, player)
		if err != nil {
			return err
		}
		n = g.Clips
		// Files first: what is left half-way can be deleted again.
		for _, name := range files {
			if err := os.Remove(filepath.Join(l.ClipFolder(), name)); err != nil && !errors.Is(err, os.ErrNotExist) {
				return fmt.Errorf("a clip of %s cannot be deleted: %w", g.Name, err)
			}
		}
		for _, t := range theirs() {
			if t.kind != "clip" {
				continue
			}
			if _, err := tx.ExecContext(ctx, "DELETE FROM others WHERE kind = 'clip' AND id IN (SELECT id FROM clips WHERE "+t.where+")", player); err != nil {
				return err
			}
			if _, err := tx.ExecContext(ctx, "DELETE FROM clips WHERE "+t.where, player); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return 0, err
	}
	return n, nil
}

// Draft makes a folder, for the caller to remove, in which a clip of a rep is made before
// KeepClip stores it. Without consent it fails as KeepClip does. What a killed program
// leaves in it is deleted with the player.
func (l *Ledger) Draft(ctx context.Context, rep string) (string, error) {
	if err := l.Consented(ctx, rep); err != nil {
		return "", err
	}
	folder := l.ClipFolder()
	err := os.MkdirAll(folder, 0o700)
	if err == nil {
		folder, err = os.MkdirTemp(folder, rep+".*"+part)
	}
	if err != nil {
		return "", fmt.Errorf("the clip cannot be written: %w", err)
	}
	return folder, nil
}

// Consented says why no clip of a rep may be kept.
func (l *Ledger) Consented(ctx context.Context, rep string) error {
	var name, consent sql.NullString
	var minor sql.NullBool
	err := l.read.QueryRowContext(ctx, `SELECT name, consent, minor FROM reps JOIN sets ON sets.id = part_of JOIN sessions ON sessions.id = session
		LEFT JOIN players ON players.id = sessions.player WHERE reps.id = ?`, rep).Scan(&name, &consent, &minor)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return fmt.Errorf("the rep of this clip is %w", ErrUnknown)
	case err != nil:
		return plain(l.path, err)
	case minor.Bool && (consent.String == "" || consent.String == ByPlayer):
		return fmt.Errorf("no clip of %s is kept: note a guardian's consent first: %w", name.String, ErrConsent)
	case consent.String == "":
		return fmt.Errorf("no clip of %s is kept: note the player's consent first: %w", name.String, ErrConsent)
	}
	return nil
}

func writeFile(path string, from io.Reader) (n int64, err error) {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return 0, err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	if n, err = io.Copy(f, from); err != nil {
		return n, err
	}
	return n, f.Sync()
}

// sweep removes what was being written when the program ended: more than an
// hour ago, since another drillbay may be writing now.
func (l *Ledger) sweep() {
	entries, _ := os.ReadDir(l.ClipFolder())
	for _, e := range entries {
		info, err := e.Info()
		if err == nil && strings.HasSuffix(e.Name(), part) && l.now().Sub(info.ModTime()) > time.Hour {
			os.RemoveAll(filepath.Join(l.ClipFolder(), e.Name()))
		}
	}
}
