package laptop

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"drillbay/camera"
)

func TestTheLaptopCheckReadsARep(t *testing.T) {
	began := time.Now()
	took, err := timeReading(func() time.Duration { return time.Since(began) }, camera.Mode{Width: 640, Height: 360, Rate: 30})
	require.NoError(t, err)
	t.Logf("a rep is read in %v", took)
	require.Greater(t, took, 20*time.Millisecond, "a whole rep was read")
}
