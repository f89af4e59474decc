// Command mutants shows which changes of the code no test would notice. It
// changes one thing at a time (a boundary, a condition, a sign of arithmetic, a
// number) and runs the tests of that package. A change that makes none of them
// fail survives, and is printed.
//
// All changes of a package are compiled into one test program and switched on
// one by one through the environment; only the tests that reach a change are run
// for it. Nothing in the repository is written.
package main

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

func main() {
	root := flag.String("C", ".", "root of the module")
	sample := flag.Int("sample", 0, "try so many changes of each package, drawn at random; 0: all")
	seed := flag.Uint64("seed", 1, "of the sample")
	workers := flag.Int("p", 1, "changes that are tried at once")
	slowest := flag.Duration("slowest", 10*time.Minute, "leave out tests that take longer")
	least := flag.Float64("least", 0, "fail when less than so many percent are noticed in a package")
	equal := flag.String("equivalent", "", "file of changes that change nothing, with the reason")
	only := flag.String("only", "", "try only changes in files whose name has this in it")
	quiet := flag.Bool("q", false, "do not list the survivors")
	flag.Parse()
	if flag.NArg() == 0 {
		fmt.Fprintln(os.Stderr, "Name the packages to try: mutants [flags] ./drills ./drills/rep")
		os.Exit(2)
	}
	known, err := readEquivalent(*equal)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
	under, tried := false, map[string]bool{}
	for _, pattern := range flag.Args() {
		began := time.Now()
		p, err := load(*root, pattern)
		if err == nil {
			err = p.build()
		}
		if err == nil {
			err = p.reach(*slowest)
		}
		if err != nil {
			fmt.Fprintf(os.Stderr, "%s: %v\n", pattern, err)
			os.Exit(1)
		}
		list := slices.DeleteFunc(slices.Clone(p.mutants), func(m *mutant) bool {
			return m.dropped || !strings.Contains(filepath.Base(m.file), *only)
		})
		if *sample > 0 && *sample < len(list) {
			dice := rand.New(rand.NewPCG(*seed, 0))
			dice.Shuffle(len(list), func(i, k int) { list[i], list[k] = list[k], list[i] })
			list = list[:*sample]
			slices.SortFunc(list, func(a, b *mutant) int { return a.id - b.id })
		}
		p.try(list, *workers, func(m *mutant) {
			if m.equal = known.has(m); !m.equal && !*quiet {
				fmt.Println(m)
			}
		})
		list = slices.DeleteFunc(list, func(m *mutant) bool { return m.dropped })
		share := summary(p, list, time.Since(began))
		under, tried[p.name] = under || share < *least, true
		p.clean()
	}
	if *sample == 0 && *only == "" {
		known.unused(tried)
	}
	if under {
		fmt.Fprintf(os.Stderr, "Less than %g %% are noticed.\n", *least)
		os.Exit(1)
	}
}

// summary prints the share that was noticed, %, and returns it.
func summary(p *pkg, list []*mutant, took time.Duration) float64 {
	var killed, late, survived, unreached, equal int
	for _, m := range list {
		switch {
		case m.outcome == killed_:
			killed++
		case m.outcome == late_:
			killed++
			late++
		case m.equal:
			equal++
		case len(m.tests) == 0 && !m.rebuild:
			unreached++
		default:
			survived++
		}
	}
	all, share := len(list)-equal, 100.0
	if all > 0 {
		share = 100 * float64(killed) / float64(all)
	}
	dropped := 0
	for _, m := range p.mutants {
		if m.dropped {
			dropped++
		}
	}
	if len(p.left) > 0 {
		fmt.Printf("Left out, too slow: %s\n", strings.Join(p.left, ", "))
	}
	fmt.Printf("%-18s %5.1f %% noticed: %d of %d (%d ran too long), %d survived, %d not reached; besides %d change nothing, %d do not compile; %.0f s\n",
		p.name, share, killed, all, late, survived, unreached, equal, dropped, took.Seconds())
	return share
}
