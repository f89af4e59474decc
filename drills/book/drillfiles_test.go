package book

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/drills"
	"drillbay/drills/runner"
)

func TestTheBuiltInLadderIsWhole(t *testing.T) {
	l, faults := LoadLadder("")
	require.Empty(t, faults)
	require.NotNil(t, l.Check)
	require.GreaterOrEqual(t, len(l.Check.Steps), 4, "grip, posture, aim, ball position")
	var ids []string
	for _, d := range l.Rungs {
		ids = append(ids, d.ID)
		for what, n := range map[string]int{"purpose": len(d.Purpose), "set-up": len(d.Setup), "steps": len(d.Steps), "feel": len(d.Feel), "measured": len(d.Measured), "cautions": len(d.Cautions)} {
			assert.NotZero(t, n, "%s: %s", d.ID, what)
		}
		assert.Equal(t, drills.UsualPassing(), d.Passing, d.ID)
		_, err := Script(d)
		assert.NoError(t, err, d.ID)
	}
	assert.Equal(t, []string{"lead-arm-catch", "lead-arm-strike", "both-hands-catch", "both-hands-strike", "free-return", "half-swings", "ordinary-swings", "mixed-practice"}, ids)
	for _, c := range drills.Causes() {
		_, ok := l.For(c)
		assert.True(t, ok, "no rung works on: %s", c)
	}
	assert.Equal(t, "ordinary-swings", l.Rungs[l.Ordinary()].ID)
	assert.Equal(t, "mixed-practice", l.Rungs[l.Mixed()].ID)
}

// With a moving start there is no ball before the strike rungs.
func TestNoBallInTheWayOfAMovingStart(t *testing.T) {
	for _, d := range Ladder() {
		if d.Kind == runner.Catch {
			assert.False(t, d.Ball, d.ID)
		}
	}
	assert.False(t, Ladder()[4].Ball, "the free return")
}

func TestACoachsOwnDrills(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600))
	}
	const gate = "id: gate\nname: Gate\nform: catch\npurpose: p\nsteps: [a]\nfeel: [b]\nscript: catch\nreps: 6\n"
	write("gate.yaml", gate+"rung: 3\n")
	write("mine.yml", "id: lead-arm-catch\nname: My own first\nrung: 1\nform: catch\npurpose: p\nsteps: [a]\nfeel: [b]\nreps: 5\ncues: |\n  rep: tone seen, verdict\n")
	write("wrong.yaml", gate+"feedback: shouting\n")
	write("again.yaml", gate)
	write("notes.txt", "not a drill")
	l, faults := LoadLadder(dir)
	require.Len(t, faults, 2)
	assert.ErrorContains(t, faults[0], `the id "gate" is that of again.yaml already`)
	assert.ErrorContains(t, faults[1], `wrong.yaml: line 9: feedback: feedback "shouting" is not one of`)
	assert.Equal(t, "My own first", l.Rungs[0].Name)
	assert.Len(t, l.Rungs, 8)
	_, ok := l.Drill("gate")
	assert.True(t, ok, "beside the ladder")
	_, err := Script(l.Rungs[0])
	assert.NoError(t, err)

	require.NoError(t, os.Remove(filepath.Join(dir, "again.yaml")))
	l, faults = LoadLadder(dir)
	require.Len(t, faults, 1)
	assert.Equal(t, "gate", l.Rungs[3].ID, "after the built-in third rung")
	l, faults = LoadLadder(filepath.Join(dir, "none"))
	assert.Empty(t, faults)
	assert.Len(t, l.Rungs, 8)
}
