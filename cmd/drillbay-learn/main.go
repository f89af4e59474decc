// Drillbay-learn teaches the network that finds hands and clubhead
// (camera/sight/net) on drawn bays:
//
//	drillbay-learn draw  -to FILE [-seed N] [-bays N]
//	drillbay-learn learn -from FILE -test FILE -to camera/sight/taught.bin [-minutes N]
//
// No clip and no bay that a test draws is learnt from: tests draw from seeds
// under 1000.
package main

import (
	"flag"
	"fmt"
	"os"
	"runtime"
)

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "drillbay-learn:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	if len(args) == 0 {
		return fmt.Errorf("say draw or learn")
	}
	f := flag.NewFlagSet(args[0], flag.ExitOnError)
	to := f.String("to", "", "file to write")
	workers := f.Int("workers", runtime.NumCPU(), "goroutines")
	switch args[0] {
	case "draw":
		seed := f.Uint64("seed", 10001, "of the first bay; 1000 or more")
		bays := f.Int("bays", 3000, "how many")
		f.Parse(args[1:])
		if *to == "" || *seed < 1000 {
			return fmt.Errorf("draw needs -to FILE, and a seed that no test uses")
		}
		return drawAll(*to, *seed, *bays, *workers)
	case "learn":
		from := f.String("from", "", "samples to learn from")
		held := f.String("test", "", "samples to test with, of other bays")
		on := f.String("on", "", "a network to go on with")
		minutes := f.Float64("minutes", 40, "how long")
		rate := f.Float64("rate", 1.5e-3, "of learning, at first")
		f.Parse(args[1:])
		if *from == "" || *held == "" || *to == "" {
			return fmt.Errorf("learn needs -from, -test and -to")
		}
		return learn(*from, *held, *to, *on, *minutes, *rate, *workers)
	}
	return fmt.Errorf("%s is neither draw nor learn", args[0])
}
