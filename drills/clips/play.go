package clips

import (
	"errors"
	"fmt"
	"image"
	"image/draw"
	"image/gif"
	"image/jpeg"
	"io"
	"math"
	"os"
	"path/filepath"
	"time"

	"drillbay/camera/clip"
	"drillbay/camera/frame"
)

// Play reads a kept clip, a moving or a single picture so that it can be
// played.
func Play(path string) (Loop, error) {
	file := filepath.Base(path)
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

// keptMost limits the pictures of a kept clip that are played.
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
			at += time.Duration(g.Delay[i]) * 10 * time.Millisecond / gifSlow // it plays at real time, as the others do
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
