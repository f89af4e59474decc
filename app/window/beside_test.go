package window

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The second window goes where the first one is not.
func TestTheSecondWindowGoesToTheOtherScreen(t *testing.T) {
	for _, c := range []struct {
		names []string
		away  string
		want  int
	}{
		{nil, "", -1}, {[]string{"panel"}, "panel", -1},
		{[]string{"panel", "tv"}, "panel", 1}, {[]string{"panel", "tv"}, "tv", 0}, {[]string{"panel", "tv"}, "", 1},
		{[]string{"panel", "tv", "tablet"}, "tv", 2}, {[]string{"same", "same"}, "same", 1},
	} {
		require.Equal(t, c.want, otherScreen(c.names, c.away), "%v, away from %q", c.names, c.away)
	}
}
