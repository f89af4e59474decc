package live

import (
	"context"
	"errors"

	"drillbay/app"
	"drillbay/camera/clip"
	"drillbay/camera/frame"
)

// work does what takes time, for app.Deps; it runs off the window's
// goroutine.
func (l *Live) work(ctx context.Context, j app.Job) (string, error) {
	if j.Clip.ID != "" {
		return l.onClip(ctx, j)
	}
	switch j.Do {
	case app.Join:
		return l.joinNext(ctx)
	case app.Keep:
		return l.keep(ctx, j)
	case app.Export:
		return l.export(ctx, j.Player)
	case app.EraseOn:
		return l.delete(ctx, j.Player)
	case app.TakeBack:
		return l.book.Undelete(ctx, j.Player)
	case app.Erase:
		return l.book.DeleteClips(ctx, j.Player)
	case app.Report:
		return l.report(ctx, j.Player)
	case app.Clinic:
		return l.groupReport(ctx)
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
	path, err := l.written(exports, player, ".jsonl")
	if err != nil {
		return "", err
	}
	if err := WriteExport(ctx, l.cfg.Ledger, path, player); err != nil {
		return "", err
	}
	return "Written to " + path + ".", nil
}
