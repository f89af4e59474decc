package window

import (
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/app"
)

func TestAHeldKeyRepeatsOnlyWhereItShould(t *testing.T) {
	r := repeater{make([]float64, 2)}
	acts := func(i int, repeats bool, times ...float64) (n int) {
		for _, at := range times {
			if r.acts(i, true, repeats, at) {
				n++
			}
		}
		return n
	}
	require.Equal(t, 4, acts(0, true, 1, 1.2, 1.39, 1.4, 1.42, 1.45, 1.5))
	require.Equal(t, 1, acts(1, false, 1, 1.5, 2))
	require.False(t, r.acts(1, false, false, 2.1))
	require.Equal(t, 1, acts(1, false, 2.2), "let go and pressed again")
	list := []binding{{repeats: true}, {repeats: false}}
	require.True(t, r.holds(list))
	r.acts(0, false, true, 3)
	require.False(t, r.holds(list))
}

func TestEveryBindingIsADifferentKey(t *testing.T) {
	seen := map[string]bool{}
	for _, b := range bindings() {
		require.NotEqual(t, app.Nothing, b.do)
		require.False(t, seen[b.key.String()], b.key.String())
		seen[b.key.String()] = true
	}
}

func TestAPressShorterThanAnUpdateActs(t *testing.T) {
	x := taps{}
	x.listen()
	const enter, right = 0xff0d, 0xff53
	x.note(right, false)
	x.note(enter, false)
	x.note(right, true)
	act, more := x.next()
	require.Empty(t, act, "at the update after: letters typed before it come first")
	require.True(t, more)
	x.note(enter, false)
	act, _ = x.next()
	require.Equal(t, []tap{{right, false}, {enter, false}, {right, true}}, act, "in their order")
	act, more = x.next()
	require.Equal(t, []tap{{enter, false}}, act, "pressed and let go twice")
	require.False(t, more)
	act, _ = x.next()
	require.Empty(t, act)
}
