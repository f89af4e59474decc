package live

import (
	"context"
	"errors"
	"fmt"
	"image"
	"image/gif"
	"image/jpeg"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"time"

	"golang.org/x/image/draw"

	"drillbay/app"
	"drillbay/camera/clip"
	"drillbay/camera/frame"
)

// onClip does what is asked with a clip that was kept.
func (l *Live) onClip(ctx context.Context, j app.Job) (string, error) {
	switch j.Do {
	case app.Pencil:
		return l.book.RenameClip(ctx, j.Player, j.Clip.ID, j.Name)
	case app.EraseOn:
		return l.book.DeleteClip(ctx, j.Player, j.Clip.ID)
	case app.Export:
		return showFile(filepath.Join(l.cfg.Ledger.ClipFolder(), j.Clip.File))
	}
	return "", errors.New("that cannot be done with a clip")
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
	return "Its folder is opened: " + path + ".", nil
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
	case <-time.After(2 * time.Second):
		return nil
	}
}

// playKept reads a kept clip, a moving or a single picture so that it can be
// played.
func (l *Live) playKept(file string) (app.ClipLoop, error) {
	path := filepath.Join(l.cfg.Ledger.ClipFolder(), filepath.Base(file))
	pics, err := picturesOf(path)
	defer frame.ReleaseAll(pics)
	if err != nil {
		return nil, fmt.Errorf("%s cannot be played: %w", file, err)
	}
	if loop := squeeze(pics, math.Inf(-1), math.Inf(1), squeezeMost); loop != nil {
		return loop, nil
	}
	return nil, fmt.Errorf("%s cannot be played: it is too long", file)
}

// keptMost is how many pictures of a kept clip are played.
const keptMost = 2000

func picturesOf(path string) (pics []*frame.Picture, err error) {
	add := func(img image.Image, at time.Duration) error {
		p := frame.New(img.Bounds().Dx()&^1, img.Bounds().Dy()&^1, frame.Sub420)
		p.At, p.Index, p.Full = at, int64(len(pics)), true
		pics = append(pics, p)
		return p.CopyImage(img)
	}
	switch filepath.Ext(path) {
	case ".jpg":
		f, err := os.Open(path)
		if err != nil {
			return nil, err
		}
		defer f.Close()
		img, err := jpeg.Decode(f)
		if err != nil {
			return nil, err
		}
		return pics, errors.Join(add(img, 0))
	case ".gif":
		f, err := os.Open(path)
		if err != nil {
			return nil, err
		}
		defer f.Close()
		g, err := gif.DecodeAll(f)
		if err != nil {
			return nil, err
		}
		whole, at := image.NewRGBA(image.Rect(0, 0, g.Config.Width, g.Config.Height)), time.Duration(0)
		for i, p := range g.Image[:min(len(g.Image), keptMost)] {
			draw.Draw(whole, p.Rect, p, p.Rect.Min, draw.Over)
			if err := add(whole, at); err != nil {
				return pics, err
			}
			at += time.Duration(g.Delay[i]) * 10 * time.Millisecond
		}
		return pics, nil
	}
	in, err := clip.Open(path, 0, nil)
	if err != nil {
		return nil, err
	}
	defer in.Close()
	for len(pics) < keptMost {
		p, err := in.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return pics, err
		}
		pics = append(pics, p)
	}
	if len(pics) == 0 {
		return nil, errors.New("it has no picture")
	}
	return pics, nil
}
