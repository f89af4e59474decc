//go:build !amd64 && !arm64

package eye

// available are the kernels that this machine can run, the quickest first.
func available() []kernels { return []kernels{plain()} }
