package book

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"drillbay/assets"
	"drillbay/camera/whole"
	"drillbay/cues"
	"drillbay/drills"
)

// largestDrill bounds a drill file, bytes.
const largestDrill = 64 << 10

// OwnDrills is the folder of a coach's own drill files; "" when the system
// has no folder for a user's settings.
func OwnDrills() string {
	dir, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "drillbay", "drills")
}

// LoadLadder reads the built-in drills and those of a folder. A file that
// cannot be used is left out and told in faults, with its line.
func LoadLadder(folder string) (l drills.Ladder, faults []error) {
	var list []drills.Drill
	for _, f := range assets.DrillFiles() {
		d, err := drills.ParseDrill(f.Name, f.Text, words)
		if err != nil {
			faults = append(faults, err)
			continue
		}
		list = append(list, d)
	}
	own, more := ownDrills(folder)
	faults = append(faults, more...)
	l, err := drills.NewLadder(append(list, own...))
	if err != nil {
		faults = append(faults, err)
	}
	return l, faults
}

func ownDrills(folder string) (list []drills.Drill, faults []error) {
	if folder == "" {
		return nil, nil
	}
	entries, err := os.ReadDir(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, []error{fmt.Errorf("your own drills cannot be read: %w", err)}
	}
	from := map[string]string{}
	for _, e := range entries {
		name := e.Name()
		if ext := strings.ToLower(filepath.Ext(name)); e.IsDir() || (ext != ".yaml" && ext != ".yml") {
			continue
		}
		d, err := ownDrill(filepath.Join(folder, name))
		switch {
		case err != nil:
			faults = append(faults, err)
		case from[d.ID] != "":
			faults = append(faults, fmt.Errorf("%s: the id %q is that of %s already: this file is left out", name, d.ID, from[d.ID]))
		default:
			from[d.ID] = name
			list = append(list, d)
		}
	}
	return list, faults
}

func ownDrill(path string) (drills.Drill, error) {
	f, err := whole.Open(path)
	if err != nil {
		return drills.Drill{}, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return drills.Drill{}, err
	}
	if info.Size() > largestDrill {
		return drills.Drill{}, fmt.Errorf("%s: %d bytes are too many for a drill", path, info.Size())
	}
	text, err := io.ReadAll(f)
	if err != nil {
		return drills.Drill{}, err
	}
	return drills.ParseDrill(path, text, words)
}

// words checks what the cues give meaning to.
func words(key, value string) error {
	var err error
	switch key {
	case "script":
		_, err = cues.ScriptNamed(value)
	case "cues":
		_, err = cues.ParseScript("cues", value)
	case "feedback":
		_, err = cues.ParseFeedback(value)
	}
	return err
}

// Script is the cue script of a drill, with its feedback.
func Script(d drills.Drill) (cues.Script, error) {
	var s cues.Script
	var err error
	if d.Cues != "" {
		s, err = cues.ParseScript(d.ID, d.Cues)
	} else {
		s, err = cues.ScriptNamed(d.Script)
	}
	if err == nil && d.Feedback != "" {
		s.Feedback, err = cues.ParseFeedback(d.Feedback)
	}
	return s, err
}
