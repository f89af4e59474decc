package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// mayImport says which packages of the program a package may import, beside
// those that these may import in turn. What draws, records or listens stays
// behind what can be tested without a screen, a camera and a microphone.
var mayImport = map[string][]string{
	"camera/frame": {}, "drills": {}, "camera/lens": {}, "app/widget": {}, "app/letters": {}, "assets": {}, "camera/whole": {}, "cues/card": {}, "cues/soundtest": {},
	"camera/eye": {"camera/frame"}, "camera/eye/learn/drawn": {"camera/frame", "camera/virtual"},
	"camera/sight": {"camera/frame", "camera/lens", "camera/eye"},
	"camera":       {"camera/frame"}, "camera/lookback": {"camera/frame"}, "camera/clip": {"camera/frame", "camera/whole"}, "camera/virtual": {"camera/frame"},
	"drills/rep": {"drills", "camera/sight", "camera/lens"}, "drills/pattern": {"drills", "camera/sight", "camera/lens"}, "drills/clinic": {"drills", "camera/sight", "camera/lens"},
	"drills/measure": {"drills/rep", "camera/sight", "camera/lens", "camera/clip", "camera"},
	"drills/ledger":  {"drills", "assets"}, "drills/report": {"drills", "assets"}, "cues": {"drills", "assets"},
	"cues/sound": {"cues", "cues/card"}, "cues/ear": {"cues", "cues/card"},
	"drills/runner": {"drills/measure", "drills/pattern", "drills/clinic", "drills/ledger", "drills/report", "cues", "camera/lookback"},
	"app":           {"drills/runner", "app/widget", "app/letters"}, "app/doctor": {"drills/runner", "app/widget"},
	"app/paint":  {"app", "camera/frame"},
	"app/beside": {"app", "camera/frame"}, "app/window": {"app", "app/paint", "app/beside"},
}

// only says which packages alone may import a library.
var only = map[string][]string{
	"github.com/hajimehoshi/ebiten": {"app/paint", "app/window"},
	"github.com/pion/mediadevices":  {"camera", "camera/virtual"},
	"modernc.org/sqlite":            {"drills/ledger"},
	"database/sql":                  {"drills/ledger"},
	"github.com/gopxl/beep":         {"cues/sound"},
	"github.com/ebitengine/oto":     {"cues/sound"},
	"github.com/gen2brain/malgo":    {"cues/card", "cues/sound", "cues/ear"},
	"github.com/alecthomas/kong":    {"cmd/drillbay", "cmd/drillbay-window"},
	"net/http":                      {},
	"net":                           {},
}

const module = "drillbay/"

// imports are those of every package of the program, without tests.
func imports(t *testing.T) map[string][]string {
	t.Helper()
	out := map[string][]string{}
	root := filepath.Join("..", "..")
	err := filepath.WalkDir(root, func(file string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := d.Name()
		if d.IsDir() && file != root && (strings.HasPrefix(name, ".") || name == "testdata" || name == "artefacts" || name == "dist") {
			return filepath.SkipDir
		}
		if d.IsDir() && file != root {
			if _, err := os.Stat(filepath.Join(file, "go.mod")); err == nil {
				return filepath.SkipDir // a module of its own, no part of the program
			}
		}
		if d.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, filepath.Dir(file))
		if err != nil {
			return err
		}
		of := filepath.ToSlash(rel)
		for _, s := range parsed.Imports {
			p, err := strconv.Unquote(s.Path.Value)
			if err != nil {
				return err
			}
			if !slices.Contains(out[of], p) {
				out[of] = append(out[of], p)
			}
		}
		if out[of] == nil {
			out[of] = []string{}
		}
		return nil
	})
	require.NoError(t, err)
	return out
}

// allowed are the packages that a package may import, with those in turn.
func allowed(of string) map[string]bool {
	out := map[string]bool{}
	var add func(string)
	add = func(p string) {
		for _, q := range mayImport[p] {
			if !out[q] {
				out[q] = true
				add(q)
			}
		}
	}
	add(of)
	return out
}

func TestWhoMayImportWhom(t *testing.T) {
	found := imports(t)
	require.Greater(t, len(found), 15)
	for of, list := range found {
		if strings.HasPrefix(of, "cmd/") {
			continue
		}
		_, known := mayImport[of]
		require.True(t, known, "%s is new: say what it may import", of)
		may := allowed(of)
		for _, p := range list {
			if q, own := strings.CutPrefix(p, module); own {
				require.True(t, may[q], "%s must not import %s", of, q)
			}
		}
	}
	require.False(t, allowed("app")["app/paint"])
	require.False(t, allowed("drills/runner")["camera/virtual"])
	require.False(t, allowed("drills/runner")["cues/sound"])
}

func TestWhoMayUseWhichLibrary(t *testing.T) {
	for of, list := range imports(t) {
		for _, p := range list {
			for library, users := range only {
				if p == library || strings.HasPrefix(p, library+"/") && library != "net" {
					require.Contains(t, users, of, "%s must not use %s", of, p)
				}
			}
		}
	}
}

// The command line must run where there is no display, and the graphics
// library ends a program at once there.
func TestTheCommandLineNeedsNoDisplay(t *testing.T) {
	found := imports(t)
	seen := map[string]bool{}
	var visit func(string)
	visit = func(of string) {
		if seen[of] {
			return
		}
		seen[of] = true
		for _, p := range found[of] {
			require.False(t, strings.HasPrefix(p, "github.com/hajimehoshi/ebiten"), "%s draws", of)
			if q, own := strings.CutPrefix(p, module); own {
				visit(q)
			}
		}
	}
	visit(path.Join("cmd", "drillbay"))
	require.True(t, seen["drills/ledger"])
	require.False(t, seen["cues/soundtest"], "it is for tests")
}
