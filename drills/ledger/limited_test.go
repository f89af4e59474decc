package ledger

import (
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestWhatIsTooLargeIsNotCutOff(t *testing.T) {
	all, err := io.ReadAll(&limited{strings.NewReader("abc"), 4})
	require.NoError(t, err)
	require.Equal(t, "abc", string(all))
	_, err = io.ReadAll(&limited{strings.NewReader("abcdef"), 4})
	require.ErrorContains(t, err, "larger than 256 MB")
}
