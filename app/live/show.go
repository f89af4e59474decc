package live

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"time"

	"drillbay/app"
	"drillbay/drills/clips"
	"drillbay/drills/ledger"
)

// onClip does what is asked with a clip that was kept.
func (l *Live) onClip(ctx context.Context, j app.Job) (string, error) {
	switch j.Do {
	case app.Pencil:
		return l.book.RenameClip(ctx, j.Player, j.Clip.ID, j.Name)
	case app.EraseOn:
		return l.book.DeleteClip(ctx, j.Player, j.Clip.ID)
	case app.Keep:
		return l.saveCopy(ctx, j)
	case app.Export:
		return showFile(filepath.Join(l.cfg.Ledger.ClipFolder(), j.Clip.File))
	}
	return "", errors.New("that cannot be done with a clip")
}

// saveCopy saves a copy of a clip elsewhere, of a player whose consent still stands.
func (l *Live) saveCopy(ctx context.Context, j app.Job) (string, error) {
	if err := l.cfg.Ledger.Consented(ctx, j.Clip.Rep); errors.Is(err, ledger.ErrConsent) {
		return "", fmt.Errorf("no copy of it is saved: %s has not agreed, or no longer agrees, to clips. W on the progress screen notes it", j.Clip.Who)
	} else if err != nil {
		return "", err
	}
	to, err := clips.Copy(filepath.Join(l.cfg.Ledger.ClipFolder(), filepath.Base(j.Clip.File)), j.Name, j.Sure)
	if err != nil {
		return "", err
	}
	return "A copy is saved: " + to + ".", nil
}

// showFile opens the folder of a file in the system's own program for files.
func showFile(path string) (string, error) {
	if _, err := os.Stat(path); err != nil {
		return "", fmt.Errorf("%s is not there any more", path)
	}
	var cmd *exec.Cmd
	switch runtime.GOOS {
	case "windows":
		cmd = exec.Command("explorer", "/select,"+path)
	case "darwin":
		cmd = exec.Command("open", "-R", path)
	default:
		cmd = exec.Command("xdg-open", filepath.Dir(path))
	}
	if err := cmd.Start(); err != nil {
		return "It is " + path + ".", nil // nothing here shows folders
	}
	go cmd.Wait() //nolint:errcheck // it is the user's from here on
	return "Its folder is open: " + path + ".", nil
}

// openFile opens a file in the system's own program for it.
func openFile(path string) error {
	var cmd *exec.Cmd
	switch runtime.GOOS {
	case "windows":
		cmd = exec.Command("rundll32", "url.dll,FileProtocolHandler", path)
	case "darwin":
		cmd = exec.Command("open", path)
	default:
		cmd = exec.Command("xdg-open", path)
	}
	if err := cmd.Start(); err != nil {
		return err
	}
	// What fails fails soon; what goes on is the user's from here on.
	ended := make(chan error, 1)
	go func() { ended <- cmd.Wait() }()
	select {
	case err := <-ended:
		return err
	case <-time.After(4 * time.Second):
		return nil
	}
}
