package window

import (
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"
)

func TestAListIsDropped(t *testing.T) {
	require.Equal(t, "Ada\nBo\n", dropped(fstest.MapFS{"names.txt": {Data: []byte("\ufeffAda\nBo")}}))
	require.Equal(t, "\n", dropped(fstest.MapFS{"photo.jpg": {Data: []byte{0xff, 0xd8, 0, 1, 2, 3, 4, 5, 6}}}), "no text")
	long := dropped(fstest.MapFS{"long.txt": {Data: []byte(strings.Repeat("é", longestPaste))}})
	require.LessOrEqual(t, len(long), longestPaste+1)
	require.NotEmpty(t, strings.TrimSpace(long))
}
