package book

import (
	"context"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills/bay"
	"drillbay/drills/ledger"
)

// The camera of the other view is known before a session is open.
func TestTheSecondCameraIsKnownFromTheFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), ledger.FileName)
	require.Empty(t, SecondAt(path, "USB camera"))
	require.NoFileExists(t, path, "nothing is made")
	l, err := ledger.Open(path)
	require.NoError(t, err)
	b, err := Read(context.Background(), l, "")
	require.NoError(t, err)
	require.NoError(t, b.KeepBay(context.Background(), "USB camera", bay.Bay{Name: "Net 2", Second: "Phone"}))
	require.NoError(t, l.Close())
	require.Equal(t, "Phone", SecondAt(path, "USB camera"))
	require.Empty(t, SecondAt(path, "another"))
	require.Empty(t, SecondAt(path, ""))
}
