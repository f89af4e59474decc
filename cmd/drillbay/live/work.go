package live

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"drillbay/app"
	"drillbay/camera/clip"
	"drillbay/camera/frame"
)

// work does what takes time, for app.Deps; it runs off the window's
// goroutine.
func (l *Live) work(ctx context.Context, j app.Job) (string, error) {
	switch j.Do {
	case app.Keep:
		return l.keep(ctx, j)
	case app.Export:
		return l.export(ctx, j.Player)
	case app.EraseOn:
		return l.book.Delete(ctx, j.Player)
	case app.Report:
		return l.report(ctx, j.Player)
	}
	return "", errors.New("that is not to be had yet")
}

// WriteClip writes pictures as a clip at the rate they came.
func WriteClip(path string, pics []*frame.Picture) error {
	if len(pics) < 2 {
		return errors.New("there are too few pictures for a clip")
	}
	// Held pictures may be thinned: the shortest step is the rate.
	step := pics[1].Seconds() - pics[0].Seconds()
	for i := 2; i < len(pics); i++ {
		step = min(step, pics[i].Seconds()-pics[i-1].Seconds())
	}
	w, err := clip.NewWriter(path, pics[0].Width, pics[0].Height, min(max(1/step, 1), 240))
	if err != nil {
		return err
	}
	for _, p := range pics {
		if err := w.Add(p); err != nil {
			w.Drop()
			return err
		}
	}
	return w.Close()
}

// export writes a player's part of the ledger into the folder of exports.
func (l *Live) export(ctx context.Context, player string) (string, error) {
	dir := filepath.Join(filepath.Dir(l.cfg.Ledger.Path()), "exports")
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", fmt.Errorf("the folder for exports cannot be made: %w", err)
	}
	path := filepath.Join(dir, fmt.Sprintf("%s-%s.jsonl", l.nameOf(player), time.Now().Format("2006-01-02")))
	if err := WriteExport(ctx, l.cfg.Ledger, path, player); err != nil {
		return "", err
	}
	return "Written to " + path + ".", nil
}

// nameOf is a player's name as part of a file's.
func (l *Live) nameOf(player string) string {
	for _, p := range l.book.Players() {
		if p.Player.ID == player {
			return plainName(p.Player.Name)
		}
	}
	return "player"
}

// plainName is a name as a file name of any system: letters, digits and
// hyphens, no more than some systems take.
func plainName(s string) string {
	const longest = 80 // bytes
	var b strings.Builder
	for _, r := range s {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			r = '-'
		}
		if b.Len()+utf8.RuneLen(r) > longest {
			break
		}
		b.WriteRune(r)
	}
	out := strings.Trim(b.String(), "-")
	if out == "" {
		return "player"
	}
	return out
}
