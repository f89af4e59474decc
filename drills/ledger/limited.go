package ledger

import (
	"fmt"
	"io"
)

// largestImport is the most that is read of an export, bytes: some hundred thousand reps.
const largestImport = 256 << 20

// limited reads so much and no more; what is longer is an error, not cut off.
type limited struct {
	from io.Reader
	left int64
}

// Read implements io.Reader.
func (l *limited) Read(p []byte) (int, error) {
	if l.left <= 0 {
		return 0, fmt.Errorf("it is larger than %d MB: is this an export?", largestImport>>20)
	}
	n, err := l.from.Read(p[:min(int64(len(p)), l.left)])
	l.left -= int64(n)
	return n, err
}
