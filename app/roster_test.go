package app

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// clinicOf is a trial in which a list of names stands in the form.
func clinicOf(list string) *trial {
	a := newTrial()
	a.key(Clinic)
	a.step(Action{Kind: Pasted, Text: list})
	return a
}

// began are the names of the clinic that was begun.
func (t *trial) began() (names []string) {
	for _, p := range t.sheet.Players {
		names = append(names, p.Name)
	}
	return names
}

func TestANameInTheFieldIsInTheClinic(t *testing.T) {
	for name, begin := range map[string]func(a *trial){
		"by Enter on another row": func(a *trial) { a.key(Next); a.key(Go) },
		"by the clicker":          func(a *trial) { a.key(PageOn) },
		"by the button twice":     func(a *trial) { a.click(Go); a.click(Go) },
		"by Enter twice":          func(a *trial) { a.key(Go); a.key(Go) },
		"by a press on the turns": func(a *trial) { a.top().act(a.App, Choose, 10*rosterTurns+2); a.key(Go) },
	} {
		a := clinicOf("Ada\nBo")
		begin(a)
		require.Equal(t, []string{"Ada", "Bo"}, a.began(), name)
	}
}

func TestEachNameIsMendedOrTakenOutWhereItStands(t *testing.T) {
	a := clinicOf("Ada\nBo\nCy\nDee\n")
	a.key(Up)
	a.key(Up)
	a.key(Up) // Bo
	a.typed("ris")
	require.True(t, a.step().Says("Boris"))
	a.key(Up) // Ada
	a.key(EraseOn)
	a.key(EraseOn) // as a key that is held
	a.key(EraseOn)
	a.key(Go) // an empty line: begin
	require.Equal(t, []string{"Boris", "Cy", "Dee"}, a.began())

	a = clinicOf("Ada\nBo\nCy\n")
	for _, h := range a.step().Hits {
		if h.Do == Choose && h.N == rosterName+1 {
			a.step(Action{Kind: Press, X: h.X + 2, Y: h.Y + 2})
			a.step(Action{Kind: Let, X: h.X + 2, Y: h.Y + 2})
		}
	}
	for range 20 { // held
		a.key(Erase)
	}
	a.key(Down) // on to the name after it
	a.typed("!")
	a.key(Down)
	a.typed("Di")
	a.key(PageOn)
	require.Equal(t, []string{"Ada", "Cy!", "Di"}, a.began())
}

func TestAKeyThatIsHeldEmptiesOneName(t *testing.T) {
	a := clinicOf("Ada\nBo\n")
	for range 60 {
		a.key(Erase)
	}
	a.key(PageOn)
	require.Equal(t, []string{"Ada"}, a.began())
}
