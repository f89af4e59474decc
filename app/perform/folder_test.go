package perform

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestFoldersForDemosAreNew(t *testing.T) {
	t.Chdir(t.TempDir())
	a, err := Folder("")
	require.NoError(t, err)
	b, err := Folder("")
	require.NoError(t, err)
	require.NotEqual(t, a, b)
	c, err := Folder("mine")
	require.NoError(t, err)
	require.Equal(t, "mine", filepath.Base(c))
}
