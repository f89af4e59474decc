package ledger

import (
	"bufio"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestHelperClaims is no test: it is the program that holds a ledger, and is
// killed.
func TestHelperClaims(t *testing.T) {
	path := os.Getenv("DRILLBAY_TEST_CLAIM")
	if path == "" {
		t.Skip("a helper of TestAProgramThatWasEndedIsTold")
	}
	l, err := Open(path)
	require.NoError(t, err)
	l.Claim()
	os.Stdout.WriteString("claimed\n")
	_, _ = io.Copy(io.Discard, os.Stdin)
}

// That another program practises with a ledger is told, and that the last one
// was ended in the middle; a ledger that was closed has nothing to tell.
func TestAProgramThatWasEndedIsTold(t *testing.T) {
	path := filepath.Join(t.TempDir(), FileName)
	helper := exec.Command(os.Args[0], "-test.run=^TestHelperClaims$")
	helper.Env = append(os.Environ(), "DRILLBAY_TEST_CLAIM="+path)
	out, err := helper.StdoutPipe()
	require.NoError(t, err)
	_, err = helper.StdinPipe() // open until it is killed
	require.NoError(t, err)
	require.NoError(t, helper.Start())
	said, err := bufio.NewReader(out).ReadString('\n')
	require.NoError(t, err)
	require.Equal(t, "claimed\n", said)
	claims := func(want Found) {
		t.Helper()
		l, err := Open(path)
		require.NoError(t, err)
		require.Equal(t, want, l.Claim())
		require.NoError(t, l.Close())
	}
	claims(Shared)
	claims(Shared) // the one that found it so has not given it up
	require.NoError(t, helper.Process.Kill())
	require.Error(t, helper.Wait())
	claims(Left)
	claims(Free)
	_, err = os.Stat(path + ".in-use")
	require.ErrorIs(t, err, os.ErrNotExist)
	require.Empty(t, Free.Sentence())
	require.Regexp(t, `^[A-Za-z].*\.$`, Shared.Sentence())
	require.Regexp(t, `^[A-Za-z].*\.$`, Left.Sentence())
}
