//go:build unix

package card

import (
	"fmt"
	"os"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// What a library writes to the terminal by itself is not seen; what the
// program says is, and why it crashed.
func TestLibrariesDoNotWriteToTheTerminal(t *testing.T) {
	if os.Getenv("DRILLBAY_HUSHED") != "" {
		own, restore := Hush()
		_, _ = unix.Write(2, []byte("library\n"))
		fmt.Fprintln(own, "program")
		restore()
		_, _ = unix.Write(2, []byte("restored\n"))
		Hush()
		panic("crashed")
	}
	c := exec.Command(os.Args[0], "-test.run", t.Name())
	c.Env = append(os.Environ(), "DRILLBAY_HUSHED=1")
	var said writer
	c.Stderr = &said
	require.Error(t, c.Run())
	require.NotContains(t, string(said), "library")
	require.Contains(t, string(said), "program\nrestored\n")
	require.Contains(t, string(said), "crashed", "the reason of a crash is told")
}

type writer []byte

func (w *writer) Write(p []byte) (int, error) { *w = append(*w, p...); return len(p), nil }
