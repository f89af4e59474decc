//go:build race

package live

// raced says that the race detector watches: it slows a look ten times.
const raced = true
