package main

import (
	"context"
	"fmt"
	"strconv"
	"strings"
)

type settleCommand struct {
	Ledger string `help:"File of the ledger; default: the user's own." placeholder:"FILE"`
}

// Run asks, for each row that was changed on two laptops, which version stays. Where
// nobody can answer, it lists them.
func (s *settleCommand) Run(c console) error {
	l, err := openKept(s.Ledger)
	if err != nil {
		return err
	}
	defer l.Close()
	ctx := context.Background()
	all, err := l.Conflicts(ctx)
	if err != nil {
		return err
	}
	if len(all) == 0 {
		fmt.Fprintln(c.out, "Nothing was changed on two laptops.")
		return nil
	}
	settled := 0
	for i, k := range all {
		fmt.Fprintf(c.out, "%d of %d: a %s was changed on two laptops.\n", i+1, len(all), k.Kind)
		versions := append([]map[string]any{k.Shown}, k.Beside...)
		for n, v := range versions {
			fmt.Fprintf(c.out, "  %d  %s\n", n+1, differing(v, k.Differs))
		}
		if c.in == nil {
			continue
		}
		line := answer(c, "Which one stays? Its number, or Enter to leave it as it is: 1 is shown, the others are kept. ")
		if line == "" {
			continue
		}
		n, err := strconv.Atoi(line)
		if err != nil || n < 1 || n > len(versions) {
			fmt.Fprintf(c.out, "%q is none of these numbers: it is left as it is.\n", line)
			continue
		}
		if err := l.Settle(ctx, k.Kind, k.ID, n-1); err != nil {
			return err
		}
		settled++
	}
	if c.in == nil {
		fmt.Fprintln(c.out, "1 is shown, the others are kept. To choose, run this where it can ask you.")
		return nil
	}
	fmt.Fprintf(c.out, "%d settled, %d left as they are. An export from here settles them on the other laptop too.\n", settled, len(all)-settled)
	return nil
}

// differing are the values in which a version differs from another.
func differing(v map[string]any, names []string) string {
	var out []string
	for _, name := range names {
		value := v[name]
		if value == nil {
			value = "nothing"
		}
		out = append(out, fmt.Sprintf("%s: %v", strings.ReplaceAll(name, "_", " "), value))
	}
	return strings.Join(out, ", ")
}
