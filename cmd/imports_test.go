package cmd

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

// mayImport says which packages of the program a package imports, its tests
// apart: those and no others. What draws, records or listens stays behind what
// can be tested without a screen, a camera and a microphone.
var mayImport = map[string][]string{
	"camera":                 {"camera/frame"},
	"camera/clip":            {"camera/frame", "camera/whole"},
	"camera/eye":             {"camera/frame"},
	"camera/eye/learn/drawn": {"camera/frame", "camera/virtual"},
	"camera/frame":           {},
	"camera/lens":            {},
	"camera/lookback":        {"camera/frame"},
	"camera/sight":           {"camera/eye", "camera/frame", "camera/lens"},
	"camera/sight/sighttest": {"camera/eye", "camera/lens", "camera/sight", "camera/virtual"},
	"camera/virtual":         {"camera/frame"},
	"camera/whole":           {},

	"cues":           {"assets", "drills"},
	"cues/card":      {},
	"cues/ear":       {"cues/card"},
	"cues/sound":     {"assets", "cues", "cues/card"},
	"cues/soundtest": {},

	"drills":           {},
	"drills/bay":       {"camera/lens", "camera/sight", "drills", "drills/measure", "drills/rep", "drills/watch"},
	"drills/book":      {"assets", "camera/whole", "cues", "drills", "drills/bay", "drills/clinic", "drills/ledger", "drills/pattern", "drills/report", "drills/runner"},
	"drills/clinic":    {"drills"},
	"drills/clips":     {"camera/clip", "camera/frame", "camera/lens", "camera/lookback", "camera/whole", "drills", "drills/book", "drills/ledger", "drills/measure", "drills/picture", "drills/read", "drills/runner"},
	"drills/guide":     {"camera/frame", "camera/lens", "camera/lookback", "camera/sight", "drills", "drills/bay", "drills/runner"},
	"drills/hearing":   {"camera/sight", "cues/ear", "cues/sound", "drills/ledger", "drills/runner"},
	"drills/ledger":    {"drills"},
	"drills/measure":   {"camera/clip", "camera/eye", "camera/frame", "camera/lens", "camera/sight", "camera/whole", "drills", "drills/rep"},
	"drills/pattern":   {"drills"},
	"drills/picture":   {"camera/frame", "camera/lens", "camera/whole", "drills", "drills/measure", "drills/read", "drills/rep", "drills/runner"},
	"drills/read":      {"camera/eye", "camera/frame", "camera/lens", "camera/lookback", "camera/sight", "drills", "drills/measure", "drills/rep", "drills/runner"},
	"drills/rep":       {"camera/sight", "drills"},
	"drills/rep/learn": {"camera/sight/sighttest", "camera/virtual", "drills/rep"},
	"drills/report":    {"drills"},
	"drills/runner":    {"camera/frame", "camera/lookback", "camera/sight", "drills"},
	"drills/stage":     {"camera/virtual", "drills", "drills/bay", "drills/rep", "drills/runner"},
	"drills/table":     {"camera/clip", "drills", "drills/measure", "drills/rep"},
	"drills/voice":     {"assets", "camera/sight", "cues", "drills", "drills/bay", "drills/book", "drills/runner"},
	"drills/watch":     {"camera/eye", "camera/frame", "camera/sight", "drills", "drills/measure", "drills/rep"},

	"assets": {},

	"app":          {"app/letters", "app/widget", "camera/frame", "camera/lookback", "camera/sight", "drills", "drills/bay", "drills/book", "drills/clips", "drills/runner", "drills/watch"},
	"app/beside":   {"app", "camera/frame"},
	"app/laptop":   {"camera", "camera/frame", "camera/sight", "camera/virtual", "cues/ear", "cues/sound", "drills/hearing", "drills/ledger", "drills/measure", "drills/picture", "drills/stage"},
	"app/letters":  {},
	"app/live":     {"app", "app/letters", "app/papers", "camera", "camera/frame", "camera/lookback", "camera/sight", "camera/virtual", "cues", "cues/sound", "drills", "drills/bay", "drills/book", "drills/clips", "drills/guide", "drills/hearing", "drills/ledger", "drills/measure", "drills/read", "drills/rep", "drills/runner", "drills/stage", "drills/voice", "drills/watch"},
	"app/paint":    {"app", "app/letters", "camera/frame"},
	"app/papers":   {"app", "camera/clip", "camera/frame", "camera/lens", "camera/lookback", "camera/whole", "drills", "drills/book", "drills/ledger", "drills/picture", "drills/report", "drills/stage"},
	"app/perform":  {"app/papers", "camera/frame", "camera/lookback", "camera/sight", "camera/virtual", "drills", "drills/book", "drills/clips", "drills/ledger", "drills/measure", "drills/picture", "drills/read", "drills/rep", "drills/runner", "drills/stage", "drills/table"},
	"app/soaktest": {},
	"app/widget":   {},
	"app/window":   {"app", "app/beside", "app/letters", "app/paint"},

	"cmd/drillbay":        {"app/laptop", "app/live", "app/papers", "app/perform", "camera", "camera/clip", "camera/frame", "camera/lens", "camera/virtual", "camera/whole", "cues/card", "cues/ear", "cues/sound", "drills", "drills/book", "drills/ledger", "drills/measure", "drills/picture", "drills/table"},
	"cmd/drillbay-window": {"app", "app/beside", "app/letters", "app/live", "app/window", "cues/card", "drills", "drills/ledger", "drills/runner"},
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
	root := ".."
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

// reached are the packages that a package imports, with those that they import
// in turn.
func reached(found map[string][]string, of string) map[string]bool {
	out := map[string]bool{}
	var visit func(string)
	visit = func(p string) {
		for _, x := range found[p] {
			if q, own := strings.CutPrefix(x, module); own && !out[q] {
				out[q] = true
				visit(q)
			}
		}
	}
	visit(of)
	return out
}

func TestWhoMayImportWhom(t *testing.T) {
	found := imports(t)
	require.Greater(t, len(found), 15)
	for of, list := range found {
		may, known := mayImport[of]
		require.True(t, known, "%s is new: say what it may import", of)
		var own []string
		for _, p := range list {
			if q, is := strings.CutPrefix(p, module); is {
				own = append(own, q)
				require.Contains(t, may, q, "%s must not import %s", of, q)
			}
		}
		for _, q := range may {
			require.Contains(t, own, q, "%s does not import %s: take it out of the table", of, q)
		}
	}
	for of := range mayImport {
		require.Contains(t, found, of, "there is no package %s: take it out of the table", of)
	}
	for _, not := range [][2]string{
		{"app", "app/paint"}, {"app", "camera/virtual"}, {"app", "cues/sound"}, {"app", "cues/ear"},
		{"drills/runner", "camera/virtual"}, {"drills/runner", "cues/sound"}, {"drills/runner", "cues/ear"},
		// A wrong sign in the drawn bay cannot cancel one in what reads it.
		{"camera/virtual", "camera/lens"}, {"camera/virtual", "camera/sight"}, {"camera/virtual", "drills/rep"},
	} {
		require.False(t, reached(found, not[0])[not[1]], "%s reaches %s", not[0], not[1])
	}
	for of := range found {
		if strings.HasPrefix(of, "drills") || strings.HasPrefix(of, "camera") || strings.HasPrefix(of, "cues") {
			for q := range reached(found, of) {
				require.False(t, q == "app" || strings.HasPrefix(q, "app/"), "%s reaches %s: the way of a frame knows no screen", of, q)
			}
		}
	}
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
	seen := reached(found, path.Join("cmd", "drillbay"))
	for of := range seen {
		for _, p := range found[of] {
			require.False(t, strings.HasPrefix(p, "github.com/hajimehoshi/ebiten"), "%s draws", of)
		}
	}
	require.True(t, seen["drills/ledger"])
	require.False(t, seen["cues/soundtest"], "it is for tests")
}
