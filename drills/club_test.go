package drills

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Lengths are common practice.
var bag = []Club{{"7-iron", 0.940}, {"wedge", 0.889}, {"9-iron", 0.914}, {"gap wedge", 0.889}}

func TestTheNextLongerClubOfTheList(t *testing.T) {
	for club, want := range map[string]string{"wedge": "9-iron", "gap wedge": "9-iron", "9-iron": "7-iron", "7-iron": "", "driver": ""} {
		next, ok := Longer(bag, club)
		assert.Equal(t, want, next.Name, club)
		assert.Equal(t, want != "", ok)
	}
}

// A rung passed with a short iron offers the next longer club; each club has a
// standing of its own.
func TestAPassedRungOffersTheNextLongerClub(t *testing.T) {
	l := short(t)
	with := func(club string, s Set) Set { s.Club = club; return s }
	sets := []Set{with("wedge", practised("one", 0, 5, 10))}
	_, _, ok := l.Offer(sets, bag, "wedge")
	require.False(t, ok, "nothing is passed")

	sets = append(sets, with("wedge", practised("one", 1, 10, 10)))
	next, why, ok := l.Offer(sets, bag, "wedge")
	require.True(t, ok)
	assert.Equal(t, "9-iron", next.Name)
	assert.Equal(t, "Rung 1 is passed with this club, wedge (10 of 10 in line and swung). The next longer club of the list is 9-iron, 91 cm: it begins on rung 1.", why)
	assert.Equal(t, 1, l.Stand(sets, "wedge").Here)
	assert.Equal(t, 0, l.Stand(sets, "9-iron").Here, "another club, another standing")
	_, _, ok = l.Offer(sets, bag, "9-iron")
	require.False(t, ok)

	sets = append(sets, with("9-iron", practised("one", 2, 9, 10)))
	_, _, ok = l.Offer(sets, bag, "wedge")
	require.False(t, ok, "the 9-iron stands on rung 2, which the wedge has not passed")
	next, _, ok = l.Offer(sets, bag, "9-iron")
	require.True(t, ok)
	assert.Equal(t, "7-iron", next.Name)
	_, _, ok = l.Offer(sets, bag, "7-iron")
	require.False(t, ok, "there is no longer one")
}
