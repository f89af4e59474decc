package drills

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const plainDrill = `id: gate
rung: 3
name: Through the gate
form: catch
purpose: To see the way back.
steps:
  - Swing it back.
feel:
  - Heavy club.
script: catch
reps: 10
`

func TestADrillIsReadFromItsFile(t *testing.T) {
	d, err := ParseDrill("gate.yaml", []byte(plainDrill+`set-up: [No ball.]
arms: lead
ball: false
moving start: true
measured: [shaft line, depth]
beat: 72
feedback: faded
passing: {least: 9, pass: 0.6}
works on: ["hurried", "face held shut, head outside"]
cautions: [Room all round.]
`), nil)
	require.NoError(t, err)
	assert.Equal(t, Drill{ID: "gate", Name: "Through the gate", Rung: 3, Form: FormCatch, Purpose: "To see the way back.", Setup: []string{"No ball."},
		Steps: []string{"Swing it back."}, Feel: []string{"Heavy club."}, MovingStart: true, Arms: LeadArm, Measured: []string{"shaft line", "depth"},
		Script: "catch", Beat: 72, Reps: 10, Feedback: "faded", Passing: Passing{Least: 9, Reps: 20, Pass: 0.6, Keep: 0.7, Back: 0.55},
		WorksOn: []Cause{Hurried, HeldShut}, Cautions: []string{"Room all round."}}, d)
}

func TestFaultsInADrillFileAreToldWithTheirLine(t *testing.T) {
	refuse := func(key, value string) error {
		if value == "nonsense" {
			return errors.New("there is none of that name")
		}
		return nil
	}
	for name, c := range map[string]struct{ text, says string }{
		"unknown key":       {plainDrill + "colour: red\n", `gate.yaml: line 12: "colour" is not known: one of arms, ball`},
		"twice":             {plainDrill + "name: Again\n", `line 12: "name" stands in line 3 already`},
		"wrong form":        {"id: gate\nname: G\nform: throw\n", `line 3: form: form "throw" is not one of`},
		"no number at all":  {plainDrill + "beat: .nan\n", "line 12: beat: NaN"},
		"two drills":        {plainDrill + "---\nid: b\n", "one drill"},
		"not a number":      {plainDrill + "beat: fast\n", "line 12: beat: cannot"},
		"a word for a list": {plainDrill + "cautions: none\n", "line 12: cautions: a list is expected"},
		"item of a list":    {plainDrill + "works on:\n  - hurried\n  - bad luck\n", `line 14: cause "bad luck" is not one of`},
		"inside passing":    {plainDrill + "passing:\n  least: 8\n  luck: 1\n", `line 14: "luck" is not known`},
		"impossible share":  {plainDrill + "passing: {pass: 7}\n", "line 12: passing: pass, keep and back are shares"},
		"missing":           {"id: gate\nname: G\nform: catch\nsteps: [a]\nfeel: [b]\n", `"purpose" is missing`},
		"bad id":            {"id: Big Gate\n", "line 1: id: "},
		"empty":             {"", "a drill is a list of keys"},
		"a list":            {"- a\n- b\n", "a drill is a list of keys"},
		"not YAML":          {"id: [\nname: x\n", "line 2"},
		"a ball in the way": {plainDrill + "moving start: true\nball: true\n", "line 13: ball: no ball on a catch"},
		"checked by others": {plainDrill + "feedback: nonsense\n", "line 12: feedback: there is none of that name"},
		"too many reps":     {"id: g\nname: G\nform: catch\npurpose: p\nsteps: [a]\nfeel: [b]\nscript: catch\nreps: 1000\n", "line 8: reps: 1000 in a set"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := ParseDrill("gate.yaml", []byte(c.text), refuse)
			require.ErrorContains(t, err, c.says)
			assert.ErrorContains(t, err, "gate.yaml")
		})
	}
}

func FuzzParseDrill(f *testing.F) {
	f.Add([]byte(plainDrill))
	f.Add([]byte("id: [\n"))
	f.Add([]byte("passing: {least: {}}"))
	f.Fuzz(func(t *testing.T, text []byte) {
		if d, err := ParseDrill("f.yaml", text, nil); err == nil {
			require.NoError(t, d.Check())
		}
	})
}

func TestALadderIsPutInOrder(t *testing.T) {
	l, err := NewLadder([]Drill{
		{ID: "b", Rung: 2}, {ID: "a", Rung: 1, Name: "old"}, {ID: "list", Form: FormCheck}, {ID: "own", Rung: 2}, {ID: "aside"}, {ID: "a", Rung: 1, Name: "new"},
	})
	require.NoError(t, err)
	var ids []string
	for i, d := range l.Rungs {
		ids = append(ids, d.ID)
		assert.Equal(t, i+1, d.Rung)
	}
	assert.Equal(t, []string{"a", "b", "own"}, ids)
	assert.Equal(t, "new", l.Rungs[0].Name)
	assert.Equal(t, "list", l.Check.ID)
	_, ok := l.Drill("aside")
	assert.True(t, ok)
	_, err = NewLadder(nil)
	assert.Error(t, err)
}

// The definition: between the vertical and the spine line is neutral, beyond
// the vertical toward the player open, beyond the spine toward the ball shut;
// a left-hander's picture is mirrored.
func TestAFaceIsReadFromItsMarks(t *testing.T) {
	hip, neck := Pixel{300, 400}, Pixel{360, 280} // leans 26.6° toward the ball
	for name, c := range map[string]struct {
		toe  Pixel
		want Face
	}{
		"upright":           {Pixel{500, 440}, Neutral},
		"with the spine":    {Pixel{525, 440}, Neutral},
		"toward the ball":   {Pixel{550, 450}, Shut},
		"toward the player": {Pixel{480, 440}, Open},
		"flat, to the ball": {Pixel{560, 500}, Shut},
	} {
		t.Run(name, func(t *testing.T) {
			heel := Pixel{500, 500}
			got, ok := FaceOf(heel, c.toe, hip, neck, Right, 0)
			require.True(t, ok)
			assert.Equal(t, c.want, got)
			m := func(d Pixel) Pixel { return Pixel{1279 - d.X, d.Y} }
			got, ok = FaceOf(m(heel), m(c.toe), m(hip), m(neck), Left, 0)
			require.True(t, ok)
			assert.Equal(t, c.want, got, "the mirror's")
		})
	}
	got, ok := FaceOf(Pixel{500, 500}, Pixel{497, 440}, hip, neck, Right, 5)
	require.True(t, ok)
	assert.Equal(t, Neutral, got, "the picture's roll is taken out")
	_, ok = FaceOf(Pixel{5, 5}, Pixel{5, 5}, hip, neck, Right, 0)
	assert.False(t, ok)
}
