package soundtest

import "time"

// Overloaded is the longest time between two ticks on a machine that keeps up: one that
// exceeds it is too busy.
const Overloaded = 15 * time.Millisecond

// Stalls measures how long this machine stands still: the largest time
// between two ticks of 5 ms, until it is asked. What is heard while a machine
// stands still says nothing about the program.
func Stalls() (ask func() time.Duration) {
	stop, worst := make(chan struct{}), make(chan time.Duration)
	go func() {
		tick := time.NewTicker(5 * time.Millisecond)
		defer tick.Stop()
		last, most := time.Now(), time.Duration(0)
		for {
			select {
			case <-tick.C:
				now := time.Now()
				most, last = max(most, now.Sub(last)), now
			case <-stop:
				worst <- most
				return
			}
		}
	}()
	return func() time.Duration { close(stop); return <-worst }
}
