package soundtest

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestAQuarterThatIsNotHeardFails(t *testing.T) {
	for _, c := range []struct {
		busy, all int
		want      bool
	}{{0, 0, false}, {0, 8, false}, {1, 8, false}, {2, 8, true}, {1, 4, true}, {1, 5, false}, {3, 3, true}} {
		require.Equal(t, c.want, tooBusy(c.busy, c.all), "%d of %d", c.busy, c.all)
	}
}
