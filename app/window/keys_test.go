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

// told returns what takes effect at an update, as the program gets it.
func told(x *taps, letters string) (out string, more bool) {
	due, more := x.next([]rune(letters))
	for _, a := range inOrder(nil, due, bindings()) {
		if a.Kind == app.Typed {
			out += a.Text
		} else {
			out += "<" + a.Do.String() + ">"
		}
	}
	return out, more
}

const enter, right = 0xff0d, 0xff53

func heard(keys ...int) *taps {
	x := &taps{}
	x.listen()
	x.hear(keys...)
	return x
}

func (t *taps) hear(keys ...int) {
	for _, k := range keys {
		t.note(tap{k, false, types(k)})
	}
}

func TestAPressShorterThanAnUpdateActs(t *testing.T) {
	x := heard(right, enter)
	x.note(tap{key: right, repeat: true})
	act, more := told(x, "")
	require.Empty(t, act, "at the update after: letters typed before it come first")
	require.True(t, more)
	x.hear(enter)
	act, _ = told(x, "")
	require.Equal(t, "<→><Enter><→>", act, "in their order")
	act, more = told(x, "")
	require.Equal(t, "<Enter>", act, "pressed and let go twice")
	require.False(t, more)
	act, _ = told(x, "")
	require.Empty(t, act)
}

// Letters and other keys act in the order in which they were pressed, however the
// updates fall between them, and whichever of the two is told first.
func TestKeysActInTheOrderTheyWerePressed(t *testing.T) {
	for name, c := range map[string]struct {
		steps []struct {
			keys    []int
			letters string
		}
		want string
	}{
		"Enter, then a letter, before one update": {steps(heardAt{[]int{enter, 'n'}, "n"}), "<Enter>n"},
		"a letter, then Enter":                    {steps(heardAt{[]int{'n', enter}, "n"}), "n<Enter>"},
		"the letter is given an update later":     {steps(heardAt{[]int{enter, 'n'}, ""}, heardAt{nil, "n"}), "<Enter>n"},
		"the letter is given an update earlier":   {steps(heardAt{nil, "n"}, heardAt{[]int{'n', enter}, ""}), "n<Enter>"},
		"a name, Enter, another, Enter":           {steps(heardAt{[]int{'a', 'd', 'a', enter, 'b', 'o', enter}, "adabo"}), "ada<Enter>bo<Enter>"},
		"the same, over three updates":            {steps(heardAt{[]int{'a', 'd'}, "ad"}, heardAt{[]int{'a', enter, 'b'}, "ab"}, heardAt{[]int{'o', enter}, "o"}), "ada<Enter>bo<Enter>"},
		"Enter, a letter an update later":         {steps(heardAt{[]int{enter}, ""}, heardAt{[]int{'n'}, "n"}), "<Enter>n"},
		"a letter of an input method":             {steps(heardAt{nil, "名"}, heardAt{[]int{enter}, ""}, heardAt{[]int{'n'}, "n"}), "名<Enter>n"},
	} {
		x := heard()
		got := ""
		for _, s := range append(c.steps, steps(heardAt{}, heardAt{}, heardAt{})...) {
			x.hear(s.keys...)
			act, _ := told(x, s.letters)
			got += act
		}
		require.Equal(t, c.want, got, name)
	}
}

type heardAt = struct {
	keys    []int
	letters string
}

func steps(list ...heardAt) []heardAt { return list }

// Nothing waits where only letters are typed.
func TestLettersAloneActAtOnce(t *testing.T) {
	x := heard('a')
	act, _ := told(x, "a")
	require.Equal(t, "a", act)
	x = &taps{} // presses are not told on this system
	act, more := told(x, "ab")
	require.Equal(t, "ab", act)
	require.False(t, more)
}

// A click right behind letters that wait for a key of theirs acts after them: it
// would be lost where the letters then change the form.
func TestAClickActsAfterWhatWasTypedBefore(t *testing.T) {
	press := app.Action{Kind: app.Press, X: 3, Y: 4}
	let := app.Action{Kind: app.Let, X: 3, Y: 4}
	typed := app.Action{Kind: app.Typed, Text: "Ada"}
	acts, kept := afterKeys(nil, []app.Action{press}, true)
	require.Empty(t, acts)
	acts, kept = afterKeys([]app.Action{typed}, append(kept, let), false)
	require.Equal(t, []app.Action{typed, press, let}, acts)
	require.Empty(t, kept)
}
