package clip_test

import (
	"errors"
	"fmt"
	"io"
	"log"
	"os"
	"path/filepath"
	"time"

	"drillbay/camera/clip"
	"drillbay/camera/frame"
)

// A clip appears under its name once Close has put all of it on the disk.
func Example() {
	folder, err := os.MkdirTemp("", "clip")
	if err != nil {
		log.Fatal(err)
	}
	defer os.RemoveAll(folder)
	path := filepath.Join(folder, "rep.avi")
	w, err := clip.NewWriter(path, 64, 48, 30)
	if err != nil {
		log.Fatal(err)
	}
	for i := range 15 {
		p := frame.New(64, 48, frame.Sub420)
		p.At = time.Duration(i) * time.Second / 30
		if err := w.Add(p); err != nil {
			log.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		log.Fatal(err)
	}

	r, err := clip.Open(path, 0, nil)
	if err != nil {
		log.Fatal(err)
	}
	defer r.Close()
	n := 0
	for {
		p, err := r.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			log.Fatal(err)
		}
		n++
		p.Release()
	}
	fmt.Println(n, r.Info().Width, r.Info().Height, r.Info().FPS)
	// Output: 15 64 48 30
}
