//go:build race

package measure

// raced says that the race detector watches: it is after how the passes run,
// not after what they read, and slows them ten times.
const raced = true
