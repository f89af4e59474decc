package main

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

//go:embed helpers.go.txt
var helpers string

// build compiles one test program with all changes in it. What does not compile
// is left out.
func (p *pkg) build() error {
	var err error
	if p.temp, err = os.MkdirTemp("", "mutants"); err != nil {
		return err
	}
	for range 20 {
		replaced := map[string][]byte{filepath.Join(p.dir, "mutants_helpers.go"): []byte(strings.Replace(helpers, "PACKAGE", p.goName, 1))}
		for _, f := range p.files {
			replaced[f] = p.changed(f)
		}
		p.program = filepath.Join(p.temp, "all.test")
		said, err := p.compile(p.program, replaced)
		if err == nil {
			return nil
		}
		if !p.drop(said) {
			return fmt.Errorf("the changed package does not compile: %s", said)
		}
	}
	return fmt.Errorf("the changed package does not compile")
}

func (p *pkg) clean() { os.RemoveAll(p.temp) }

// changed is a file with all its changes.
func (p *pkg) changed(file string) []byte {
	edits := slices.DeleteFunc(slices.Clone(p.edits[file]), func(e edit) bool { return e.mutant.dropped || e.mutant.rebuild })
	slices.SortStableFunc(edits, func(a, b edit) int {
		switch {
		case a.from != b.from:
			return a.from - b.from
		default:
			return a.order - b.order
		}
	})
	text := p.text[file]
	var out bytes.Buffer
	at := 0
	for _, e := range edits {
		out.Write(text[at:e.from])
		out.WriteString(e.text)
		at = e.to
	}
	out.Write(text[at:])
	return out.Bytes()
}

// compile builds the package's tests with files replaced; said is what the compiler says.
func (p *pkg) compile(to string, replaced map[string][]byte) (said string, err error) {
	overlay := map[string]map[string]string{"Replace": {}}
	for file, text := range replaced {
		as := filepath.Join(p.temp, filepath.Base(file))
		if err := os.WriteFile(as, text, 0o600); err != nil {
			return "", err
		}
		overlay["Replace"][file] = as
	}
	list := filepath.Join(p.temp, "overlay.json")
	b, err := json.Marshal(overlay)
	if err != nil {
		return "", err
	}
	if err := os.WriteFile(list, b, 0o600); err != nil {
		return "", err
	}
	cmd := exec.Command("go", "test", "-c", "-vet=off", "-gcflags=-e", "-overlay", list, "-o", to, p.path)
	cmd.Dir = p.root
	out, err := cmd.CombinedOutput()
	return string(out), err
}

var complaint = regexp.MustCompile(`(?m)^([^\s:]+\.go):(\d+):(\d+): (.*)$`)

// drop leaves out the changes on lines that the compiler complains of.
func (p *pkg) drop(said string) (any bool) {
	for _, c := range complaint.FindAllStringSubmatch(said, -1) {
		line, _ := strconv.Atoi(c[2])
		for _, m := range p.mutants {
			if m.line == line && filepath.Base(m.file) == filepath.Base(c[1]) && !m.dropped && !m.rebuild {
				m.dropped, any = true, true
			}
		}
	}
	return any
}
