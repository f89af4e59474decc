package ledger

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// What a value of an import may be: counts and times from 0, uncertainties too,
// angles within half a turn, a band within a right angle, ratios over 0.
func TestWhichNumbersCanBe(t *testing.T) {
	number, count := column{name: "depth"}, column{name: "number", form: whole}
	for _, c := range []struct {
		c     column
		value float64
		ok    bool
	}{
		{count, 0, true}, {count, -1, false}, {count, 1e12, true}, {count, 1e12 + 1, false}, {number, -50, true}, {number, 1e13, true},
		{column{name: "line_sigma"}, 0, true}, {column{name: "line_sigma"}, 0.5, true}, {column{name: "line_sigma"}, -0.1, false},
		{column{name: "line"}, 180, true}, {column{name: "line"}, -180, true}, {column{name: "line"}, 180.1, false}, {column{name: "elevation"}, -181, false}, {column{name: "roll"}, 181, false}, {column{name: "roll"}, 10, true},
		{column{name: "band"}, 0, false}, {column{name: "band"}, 0.5, true}, {column{name: "band"}, 90, true}, {column{name: "band"}, 90.1, false},
		{column{name: "tempo"}, 0, false}, {column{name: "tempo_low"}, 0.5, true}, {column{name: "tempo_high"}, -1, false},
	} {
		require.Equal(t, c.ok, c.c.possible(c.value) == nil, "%s %v", c.c.name, c.value)
	}
	for text, ok := range map[string]bool{
		"1969-12-31T23:59:59Z": false, "1970-01-01T00:00:00Z": true, "2200-12-31T23:59:59Z": true, "2201-01-01T00:00:00Z": false, "2026-03-01": false,
	} {
		_, err := unstamp(text)
		require.Equal(t, ok, err == nil, text)
	}
	for text, ok := range map[string]bool{"0123456789abcdef": true, "0123456789abcde": false, "0123456789abcdef0": false, "0123456789abcdeg": false, "0123456789abcde/": false, "0123456789abcde:": false, "0123456789abcde`": false} {
		require.Equal(t, ok, isVersion(text), text)
	}
	// R&A / USGA, Equipment Rules, Part 2 §1c: a club is 18 to 48 inches long.
	for length, ok := range map[float64]bool{0.4571: false, 0.4572: true, 1.2192: true, 1.2193: false} {
		require.Equal(t, ok, FitsRules(length) == nil, "%v m", length)
	}
	for stature, ok := range map[float64]bool{0.49: false, 0.5: true, 2.6: true, 2.61: false} {
		require.Equal(t, ok, fitsStature(stature) == nil, "%v m", stature)
	}
	name := func(n int) string { return strings.Repeat("a", n-4) + ".avi" }
	require.NoError(t, fitsFile(name(200)))
	require.Error(t, fitsFile(name(201)))
	text := column{name: "text"}
	require.NoError(t, text.readable(strings.Repeat("a", 10_000)))
	require.Error(t, text.readable(strings.Repeat("a", 10_001)))
}

func TestWhatIsToldOfADeletion(t *testing.T) {
	require.Equal(t, "Marta is deleted: nothing else was kept.", Gone{Name: "Marta"}.String())
	require.Equal(t, "Marta is deleted: 1 note.", Gone{Name: "Marta", Notes: 1}.String())
	require.Equal(t, "Marta is deleted: 2 marks, 1 clip.", Gone{Name: "Marta", Marks: 2, Clips: 1}.String())
	require.Equal(t, "9 rows read: 3 new, 2 changed, 3 known already, 1 left out, of players who were deleted here: Ben.", Imported{Rows: 9, New: 3, Changed: 2, Forgotten: 1, Deleted: []string{"Ben"}}.String())
	require.Contains(t, Imported{Conflicts: make([]Conflict, 1)}.String(), "1 was changed on both sides: both are kept")
	require.Contains(t, Imported{Conflicts: make([]Conflict, 2)}.String(), "2 were changed on both sides")
	require.NotContains(t, Imported{}.String(), "both sides")
}
