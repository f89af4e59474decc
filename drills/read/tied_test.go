package read

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// By how much the second camera's pictures come later is one sentence without
// statistics.
func TestTheSecondCamerasDelayInWords(t *testing.T) {
	var v SecondView
	require.Equal(t, "How much later its pictures come is found from the first reps.", v.Tied())
	for _, c := range []struct {
		tied
		want string
	}{
		{tied{0.0618, 0.0042, 9}, "Its pictures come 62 ms later than the first camera's, true to about 4 ms, from 9 reps."},
		{tied{-0.05, 0.0001, 1}, "Its pictures come 50 ms sooner than the first camera's, true to about 1 ms, from one rep."},
		{tied{0.0002, 0.002, 3}, "Its pictures come as soon as the first camera's, true to about 2 ms, from 3 reps."},
	} {
		v.tied.Store(&c.tied)
		require.Equal(t, c.want, v.Tied())
	}
}
