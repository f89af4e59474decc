package live

import (
	"context"
	"errors"

	"drillbay/app"
	"drillbay/app/papers"
	"drillbay/drills/clips"
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
		return clips.Keeper{Ledger: l.cfg.Ledger, Book: l.book}.Keep(ctx, clips.Wish{Player: j.Player, RepID: j.RepID, As: j.As, Overlay: j.Overlay, At: j.At, FaceOn: l.faceOn(), Loop: j.Loop, Rep: j.Rep, Beside: j.Beside, Later: j.Later})
	case app.Export:
		return l.papers().Export(ctx, j.Player)
	case app.EraseOn:
		return l.delete(ctx, j.Player)
	case app.TakeBack:
		return l.book.Undelete(ctx, j.Player)
	case app.Erase:
		return l.book.DeleteClips(ctx, j.Player)
	case app.Report:
		return l.papers().Report(ctx, j.Player)
	case app.Clinic:
		return l.papers().Group(ctx)
	}
	return "", errors.New("this screen cannot do that")
}

// papers writes reports and exports.
func (l *Live) papers() papers.Papers {
	return papers.Papers{Ledger: l.cfg.Ledger, Book: l.book, Show: l.cfg.Show}
}
