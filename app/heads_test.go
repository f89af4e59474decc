package app

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/drills"
)

// Nothing on the page of keys is cut off, on a window of the usual size.
func TestThePageOfKeysHasRoomForItsWords(t *testing.T) {
	for name := range on {
		a := newTrial()
		a.open(&keysScreen{of: name})
		v := a.step()
		for _, l := range keyLines(name) {
			assert.True(t, v.Says(l.word), "%s: %s", name, l.word)
		}
	}
}

func TestTheSetUpCheckNamesTheLineThatEnterTicks(t *testing.T) {
	a := marta()
	a.check = []string{"Grip: light.", "Aim: at the mark."}
	a.key(Go)
	require.True(t, a.key(Go).Says("Grip? Enter"))
	require.True(t, a.step().Says("tick grip"))
	require.True(t, a.key(Go).Says("Aim? Enter"))
	require.True(t, a.key(Up).Says("Grip? Enter"), "the marked one, ticked or not")

	a = inClinic()
	a.check = []string{"Grip: light.", "Aim: at the mark."}
	require.True(t, a.typed("2").Says("Bo, step in"))
	require.True(t, a.step().Says("tick grip") && a.step().Says("to the board"))
	a.now++
	require.True(t, a.key(Go).Says("Aim? Enter"), "who has stepped in sees what is next")
}

// Head and button of a clinic's list say what Enter does at each moment.
func TestTheListOfAClinicSaysWhatEnterDoes(t *testing.T) {
	a := newTrial()
	v := a.key(Clinic)
	require.False(t, v.Says("Enter") || v.Says("begin"), "there is nobody to begin with")
	v = a.typed("Ben")
	require.True(t, v.Says("add Ben") && v.Says("Add Ben"))
	require.False(t, v.Says("begin"))
	v = a.key(Go)
	require.True(t, v.Says("begin") && v.Says("Begin"))
	require.True(t, v.Says("reps, stations"))
	a.key(Up)
	require.True(t, a.typed("ny").Says("keep Benny"))
	for range 5 {
		a.key(Erase)
	}
	require.True(t, a.step().Says("take Ben off"))
	a.typed("Ben")
	v = a.key(Next)
	require.True(t, v.Says("begin") && v.Says("→") && v.Says("change"))

	a = clinicOf("Ada\n")
	a.key(PageOn)
	a.key(Join)
	require.True(t, a.typed("Cy").Says("add Cy"))
	require.True(t, a.key(Go).Says("let them join"))
}

func TestTheStartNamesItsKeys(t *testing.T) {
	a := marta()
	require.True(t, a.step().Says("Kept clips"))
	v := a.key(Back)
	stay := 0
	for _, i := range v.Items {
		if i.Text == "stay" {
			stay++
		}
	}
	require.Equal(t, 2, stay, "in the head and in the box")
}

func TestADigitMarksAnAnswerAndEnterNotesIt(t *testing.T) {
	a := marta()
	a.key(Progress)
	a.key(Agree)
	require.True(t, a.typed("2").Says("note: the player agrees"))
	require.Empty(t, a.agreed)
}

func TestWhatCannotBeToldIsNamed(t *testing.T) {
	r := done("a", 0).Rep
	r.Manner = drills.Unsure
	require.Equal(t, "can't tell if swung", tellingOf(r).how)
	require.Equal(t, "swung?", tellingOf(r).short().how)
}
