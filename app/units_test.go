package app

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills/book"
)

// An inch is 2.54 cm and a yard 0.9144 m (international yard and pound agreement,
// 1959).
func TestLengthsInInchesAndYards(t *testing.T) {
	require.Equal(t, []string{"5 cm", "94 cm", "93.5 cm", "3.20 m"}, []string{metric.short(5.1), metric.club(94), metric.club(93.5), metric.far(3.2, 2)})
	require.Equal(t, []string{"2 in", "37 in", "36.5 in", "3.50 yd"}, []string{imperial.short(5.1), imperial.club(94), imperial.club(92.7), imperial.far(3.2, 2)})
}

func TestLengthsInWordsFromElsewhere(t *testing.T) {
	require.Equal(t, "hands 3 in farther out, within 2 in", imperial.text("hands 7 cm farther out, within 5 cm"))
	require.Equal(t, "hands 7 cm farther out", metric.text("hands 7 cm farther out"))
	require.Equal(t, "head from −2 to 3 in, hands from −4 to −2 in", imperial.text("head from −5 to 8 cm, hands from −10 to −5 cm"))
	require.Equal(t, "5 cmx, a cm", imperial.text("5 cmx, a cm"))
}

// The choice is kept, and holds on every screen: no centimetre is left on one.
func TestInchesEverywhere(t *testing.T) {
	a := marta()
	a.key(Settings)
	for range unitsRow {
		a.key(Next)
	}
	a.key(Right)
	a.key(Go)
	require.True(t, a.kept[len(a.kept)-1].Inches)
	for name, open := range on {
		b := open()
		b.App.setup.Inches = true
		b.clubs = []book.ClubLine{{Name: "wedge", Cm: 89, Used: true}}
		for _, text := range b.step().Texts() {
			require.False(t, strings.Contains(text+" ", " cm ") || strings.Contains(text, " cm,"), "%s: %q", name, text)
		}
	}
}
