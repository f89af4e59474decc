package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
)

// test is one test of the package.
type test struct {
	name string
	took time.Duration
}

type outcome int

const (
	survived_ outcome = iota
	killed_
	late_ // a test ran far longer than it does
)

// run runs tests of a program by name.
func (p *pkg) run(program string, limit time.Duration, env []string, names ...string) (string, error) {
	ctx, stop := context.WithTimeout(context.Background(), limit)
	defer stop()
	pattern := "^(" + strings.Join(names, "|") + ")$"
	// A change that asks for memory without end is stopped at 8 GB of address space.
	cmd := exec.CommandContext(ctx, "sh", "-c", `ulimit -v 8000000; exec "$0" "$@"`, program, "-test.failfast", "-test.run", pattern, "-test.timeout", "0")
	cmd.Dir = p.dir
	cmd.Env = append(os.Environ(), env...)
	cmd.WaitDelay = time.Second
	out, err := cmd.CombinedOutput()
	if ctx.Err() != nil {
		return string(out), context.DeadlineExceeded
	}
	return string(out), err
}

// reach runs each test once, unchanged, and notes which changes it reaches. Tests
// that take longer than slowest are left out.
func (p *pkg) reach(slowest time.Duration) error {
	cmd := exec.Command(p.program, "-test.list", ".")
	cmd.Dir = p.dir
	out, err := cmd.Output()
	if err != nil {
		return err
	}
	for _, name := range strings.Fields(string(out)) {
		if strings.HasPrefix(name, "Benchmark") {
			continue
		}
		t := &test{name: name}
		notes := filepath.Join(p.temp, "reached")
		os.Remove(notes)
		began := time.Now()
		said, err := p.run(p.program, slowest, []string{"MUTANTS_REACHED=" + notes}, name)
		if errors.Is(err, context.DeadlineExceeded) {
			p.left = append(p.left, name)
			continue
		}
		if err != nil {
			return fmt.Errorf("%s fails before anything is changed: %v\n%s", name, err, said)
		}
		t.took = time.Since(began)
		p.tests = append(p.tests, t)
		f, err := os.Open(notes)
		if err != nil {
			continue // it reaches none
		}
		seen := map[int]bool{}
		for in := bufio.NewScanner(f); in.Scan(); {
			if id, err := strconv.Atoi(in.Text()); err == nil && id < len(p.mutants) && !seen[id] {
				seen[id] = true
				p.mutants[id].tests = append(p.mutants[id].tests, t)
			}
		}
		f.Close()
	}
	bytime := func(a, b *test) int { return int(a.took - b.took) }
	slices.SortStableFunc(p.tests, bytime)
	for _, m := range p.mutants {
		slices.SortStableFunc(m.tests, bytime)
	}
	return nil
}

// String tells a change that survived.
func (m *mutant) String() string {
	how := ""
	if len(m.tests) == 0 && !m.rebuild {
		how = "not reached: "
	}
	return fmt.Sprintf("%s:%d: %s%s\n\t%s", m.file, m.line, how, m.what, m.source)
}

// try tries changes, so many at once, and tells each that survives.
func (p *pkg) try(list []*mutant, workers int, survived func(*mutant)) {
	queue := make(chan *mutant)
	var telling sync.Mutex
	var wait sync.WaitGroup
	for range max(workers, 1) {
		wait.Go(func() {
			for m := range queue {
				if m.rebuild {
					p.tryBuilt(m)
				} else {
					m.outcome = p.tryTests(p.program, []string{"MUTANT=" + strconv.Itoa(m.id)}, m.tests)
				}
				if m.outcome == survived_ && !m.dropped {
					telling.Lock()
					survived(m)
					telling.Unlock()
				}
			}
		})
	}
	for _, m := range list {
		queue <- m
	}
	close(queue)
	wait.Wait()
}

// tryTests runs tests, the quick ones together first, until one notices.
func (p *pkg) tryTests(program string, env []string, tests []*test) outcome {
	quick := 0
	for quick < len(tests) && tests[quick].took < 200*time.Millisecond {
		quick++
	}
	batches := [][]*test{}
	if quick > 0 {
		batches = append(batches, tests[:quick])
	}
	for _, t := range tests[quick:] {
		batches = append(batches, []*test{t})
	}
	for _, batch := range batches {
		var names []string
		limit := 5 * time.Second
		for _, t := range batch {
			names = append(names, t.name)
			limit += 4 * t.took
		}
		if _, err := p.run(program, limit, env, names...); errors.Is(err, context.DeadlineExceeded) {
			return late_
		} else if err != nil {
			return killed_
		}
	}
	return survived_
}

var building sync.Mutex

// tryBuilt builds the tests with one declared number changed.
func (p *pkg) tryBuilt(m *mutant) {
	file := filepath.Join(p.root, filepath.FromSlash(m.file))
	text := p.text[file]
	changed := slices.Concat(text[:m.change.from], []byte(m.change.text), text[m.change.to:])
	program := filepath.Join(p.temp, fmt.Sprintf("%d.test", m.id))
	defer os.Remove(program)
	building.Lock()
	_, err := p.compile(program, map[string][]byte{file: changed})
	building.Unlock()
	if err != nil {
		m.dropped = true
		return
	}
	m.outcome = p.tryTests(program, nil, p.tests)
}
