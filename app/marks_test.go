package app

import (
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills"
)

// marked is a mark as it is drawn, with the line of a reading that is just
// on its side.
func marked(r drills.Rep) []Item {
	a := New(Deps{})
	c := a.canvas()
	n := len(c.Items)
	c.reach(axis{left: 0, right: 600}, 100, 40, r)
	c.mark(300, 100, 40, r, drills.Right, onPage())
	return c.Items[n:]
}

func TestWhatDoesNotCountHasAShapeOfItsOwn(t *testing.T) {
	line := drills.Reading{Value: 1, Sigma: 0.8}
	shapes := map[string]string{}
	for name, r := range map[string]drills.Rep{
		"counts":         {Verdict: drills.InLine, Manner: drills.Swung, ShaftLine: line},
		"unsure":         {Verdict: drills.InLine, Manner: drills.Unsure, ShaftLine: line},
		"placed":         {Verdict: drills.InLine, Manner: drills.Placed, ShaftLine: line},
		"just":           {Verdict: drills.InLine, Manner: drills.Swung, ShaftLine: line, Just: true},
		"inside":         {Verdict: drills.Inside, Manner: drills.Swung, ShaftLine: line},
		"inside, unsure": {Verdict: drills.Inside, Manner: drills.Unsure, ShaftLine: line},
		"inside, just":   {Verdict: drills.Inside, Manner: drills.Swung, ShaftLine: line, Just: true},
	} {
		drawn := ""
		for _, i := range marked(r) {
			drawn += shapeNames[i.Shape]
			if i.Thick > 0 {
				drawn += " hollow"
			}
			drawn += ", "
		}
		require.Empty(t, shapes[drawn], "%s looks like %s", name, shapes[drawn])
		shapes[drawn] = name
	}
}
