package stage

import (
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// Both drawn cameras see the same player at the same moment, also when one of them
// comes later, or the first goes.
func TestTheDrawnCamerasSeeOnePlayer(t *testing.T) {
	s := Practice(1, 64, 36, 30)
	var mu sync.Mutex
	at := time.Unix(0, 0)
	now := func() time.Time { mu.Lock(); defer mu.Unlock(); return at }
	sleep := func(d time.Duration, _ <-chan struct{}) { mu.Lock(); at = at.Add(d); mu.Unlock() }
	st, err := NewScene(s, now, sleep, func() bool { return false })
	require.NoError(t, err)
	first, second := st.Camera(0), st.Camera(0.5)
	a, b := make(chan struct{}), make(chan struct{})
	next := first(0, 30, a)
	require.Zero(t, next)
	for range 10 {
		next = first(next+1, 30, a)
	}
	require.Equal(t, 10, next)
	require.Equal(t, 10, second(0, 30, b), "it joins")
	for range 20 {
		next = first(next+1, 30, a)
		require.Equal(t, next, second(5, 30, b), "the same moment")
	}
	close(a) // unplugged
	for range 5 {
		next++
		require.Equal(t, next, second(5, 30, b), "the player goes on")
	}
	a = make(chan struct{})
	require.Equal(t, next, first(0, 30, a), "and is where he is for a camera that comes back")
	close(a)
	close(b)
	require.Zero(t, first(0, 30, make(chan struct{})), "without cameras the bay begins anew")
}
