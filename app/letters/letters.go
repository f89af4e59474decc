// Package letters finds fonts of the system for what the built-in fonts do not
// have: names are written in the script of whoever bears them.
package letters

import (
	"io"
	"log"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"

	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/fontscan"
	"github.com/go-text/typesetting/shaping"
)

// Finder looks for fonts and cuts texts into runs of one font each. It answers
// at once from what was found so far and looks for the rest on a goroutine of
// its own. It may be used by several goroutines; a nil one has the built-in
// fonts only.
type Finder struct {
	list func() []fontscan.Footprint // those of the system

	mu      sync.Mutex
	open    func(file []byte, index int) (any, error)
	prints  []fontscan.Footprint
	listed  bool
	busy    bool
	wanted  []word
	known   map[word]*Font // nil: no font has it
	loaded  map[font.FontID]*Font
	runs    map[word][]Run
	shaper  shaping.HarfbuzzShaper
	segment shaping.Segmenter

	grown atomic.Int64
}

// word is a text in a weight.
type word struct {
	text string
	bold bool
}

// Font is a font of the system. Drawn is the drawable font that the function given to Open
// made of it.
type Font struct {
	Drawn any
	face  *font.Face
}

// most is the number of texts and of words that are kept in memory at most.
const most = 4096

// New looks among the fonts of the system. What they have is kept in a file in
// a folder, so that the next start need not read them all.
func New(folder string) *Finder {
	return newFinder(func() []fontscan.Footprint {
		if os.MkdirAll(folder, 0o700) != nil {
			return nil
		}
		found, err := fontscan.SystemFonts(log.New(io.Discard, "", 0), folder)
		if err != nil {
			return nil // as without any
		}
		return found
	})
}

// Folder returns the folder in which a program keeps what it found out about the system's
// fonts.
func Folder() string {
	dir, err := os.UserCacheDir()
	if err != nil {
		dir = os.TempDir()
	}
	return filepath.Join(dir, "drillbay")
}

func newFinder(list func() []fontscan.Footprint) *Finder {
	return &Finder{list: list, known: map[word]*Font{}, loaded: map[font.FontID]*Font{}, runs: map[word][]Run{}}
}

// Open sets the function that makes a drawable font of the bytes of a file and the font's
// number in it. It is called on the finder's goroutine.
func (f *Finder) Open(open func(file []byte, index int) (any, error)) {
	if f == nil {
		return
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	f.open = open
}

// Grown changes whenever fonts were found: texts may then look different.
func (f *Finder) Grown() int64 {
	if f == nil {
		return 0
	}
	return f.grown.Load()
}

// Looks reports whether it is looking for a font.
func (f *Finder) Looks() bool {
	if f == nil {
		return false
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.busy
}

// Has reports whether a font was found for every word of a text that the
// built-in fonts lack; true also while it is looked for.
func (f *Finder) Has(text string, own func(rune) bool) bool {
	if f == nil {
		return false
	}
	for _, r := range f.Runs(text, false, own) {
		if r.Font == nil && !all(r.Text, own) && !f.Looks() {
			return false
		}
	}
	return true
}
