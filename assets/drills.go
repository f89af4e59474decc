package assets

import (
	"embed"
	"path"
	"slices"
	"strings"
)

//go:embed drills/*.yaml
var drillFiles embed.FS

// File is a file by its name.
type File struct {
	Name string
	Text []byte
}

// DrillFiles are the built-in drills, by name.
func DrillFiles() []File {
	entries, err := drillFiles.ReadDir("drills")
	if err != nil {
		return nil
	}
	var out []File
	for _, e := range entries {
		name := path.Join("drills", e.Name())
		text, err := drillFiles.ReadFile(name)
		if err != nil {
			continue
		}
		out = append(out, File{name, text})
	}
	slices.SortFunc(out, func(a, b File) int { return strings.Compare(a.Name, b.Name) })
	return out
}
