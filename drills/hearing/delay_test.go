package hearing

import (
	"context"
	"math"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills/ledger"
)

func TestTheDelayIsKeptForEachPairOfDevices(t *testing.T) {
	l, err := ledger.Open(filepath.Join(t.TempDir(), ledger.FileName))
	require.NoError(t, err)
	defer l.Close()
	ctx := context.Background()
	require.NoError(t, KeepDelay(ctx, l, "loudspeaker", "microphone", 0.0834))
	for _, c := range []struct {
		out, in string
		want    float64
	}{{"loudspeaker", "microphone", 0.0834}, {"headphones", "microphone", math.NaN()}, {"loudspeaker", "", math.NaN()}} {
		d, err := KeptDelay(ctx, l, c.out, c.in)
		require.NoError(t, err)
		if math.IsNaN(c.want) {
			require.True(t, math.IsNaN(d), c)
			continue
		}
		require.InDelta(t, c.want, d, 1e-9)
	}
	for _, junk := range []string{"much", "NaN", "1e300"} {
		require.NoError(t, l.PutSetting(ctx, delayKey("loudspeaker", "microphone"), junk))
		d, err := KeptDelay(ctx, l, "loudspeaker", "microphone")
		require.NoError(t, err)
		require.True(t, math.IsNaN(d), junk)
	}
}
