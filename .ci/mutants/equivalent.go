package main

import (
	"bufio"
	"fmt"
	"os"
	"path"
	"strings"
)

// equivalents are changes that change nothing a test could see. A line names one
// by file, change and source line, then says why:
//
//	drills/club.go | boundary: > to >= | if c.Length > list[i].Length { | equal lengths were sorted out
//
// The numbers of lines play no part, so that the list lives as long as the code. An
// entry counts only where the change survives.
type equivalents map[string]*bool

func readEquivalent(name string) (equivalents, error) {
	e := equivalents{}
	if name == "" {
		return e, nil
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	in := bufio.NewScanner(f)
	for n := 1; in.Scan(); n++ {
		line := strings.TrimSpace(in.Text())
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		parts := strings.Split(line, " | ")
		if len(parts) < 4 {
			return nil, fmt.Errorf("%s: line %d: file | change | source line | reason", name, n)
		}
		source := strings.Join(parts[2:len(parts)-1], " | ")
		e[parts[0]+"|"+parts[1]+"|"+strings.TrimSpace(source)] = new(bool)
	}
	return e, in.Err()
}

func (e equivalents) has(m *mutant) bool {
	used, ok := e[m.file+"|"+m.what+"|"+m.source]
	if ok {
		*used = true
	}
	return ok
}

// unused tells of entries of packages that were tried whose code is gone, or which a
// test notices by now.
func (e equivalents) unused(tried map[string]bool) {
	for key, used := range e {
		if file, _, _ := strings.Cut(key, "|"); !*used && tried[path.Dir(file)] {
			fmt.Println("Noticed or gone by now:", key)
		}
	}
}
