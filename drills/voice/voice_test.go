package voice

import (
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/cues"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/book"
	"drillbay/drills/runner"
)

// The coach chooses script and feedback in the drill's file; a test on a later
// day tells nothing whatever stands there.
func TestADrillsOwnCues(t *testing.T) {
	l, err := drills.NewLadder([]drills.Drill{
		{ID: "fading", Rung: 1, Script: "catch", Feedback: "faded"},
		{ID: "own", Rung: 2, Cues: "lead: plain\nrep: count\n", Feedback: "only misses"},
		{ID: "broken", Rung: 3, Cues: "rep: applause\n"},
	})
	require.NoError(t, err)
	v := New(cues.Silent{}, l, nil)
	for _, c := range []struct {
		drill    runner.Drill
		feedback cues.Feedback
		lead     cues.Lead
		goesOn   bool
	}{
		{runner.Drill{ID: "fading"}, cues.Faded, cues.LeadCatch, false},
		{runner.Drill{ID: "own"}, cues.OnlyMisses, cues.LeadPlain, false},
		{runner.Drill{ID: "broken"}, cues.EveryRep, cues.LeadCatch, false},
		{runner.Drill{ID: "unknown", Kind: runner.CatchTurnStrike}, cues.EveryRep, cues.LeadCatch, true},
		{runner.Drill{ID: "unknown", Kind: runner.Ordinary}, cues.EveryRep, cues.LeadSwing, false},
		{runner.Drill{ID: "fading", Later: true}, cues.NoFeedback, cues.LeadNone, false},
	} {
		s, err := v.scriptOf(c.drill)
		require.NoError(t, err)
		require.Equal(t, c.feedback, s.Feedback, c.drill)
		require.Equal(t, c.lead, s.Lead, c.drill)
		require.Equal(t, c.goesOn, s.GoesOn, c.drill)
	}
	for _, d := range book.Ladder() {
		_, err := v.scriptOf(d)
		require.NoError(t, err, d.ID)
	}
}

func TestInMixedPracticeTheVoiceSaysWhichDrillIsNext(t *testing.T) {
	out := &heard{}
	l, _ := book.LoadLadder("")
	v := New(out, l, nil)
	d := runner.Drill{ID: "both-hands-strike", Kind: runner.CatchTurnStrike, Rung: 4, Reps: 10, Mixed: "mixed-practice"}
	v.Tell(runner.Moment{Kind: runner.DrillChanged, Drill: d})
	require.Equal(t, []cues.Phrase{"next", "both-hands-strike"}, out.said)
	s, err := v.scriptOf(d)
	require.NoError(t, err)
	require.True(t, s.GoesOn, "silence over the strike")
	require.Equal(t, cues.AfterSet, s.Feedback, "as the mixed practice has it")
	out.said = nil
	d.ID = "a-coach's-own"
	v.Tell(runner.Moment{Kind: runner.DrillChanged, Drill: d})
	require.Equal(t, []cues.Phrase{"next", "rung", "4"}, out.said)
	out.said, d.Mixed = nil, ""
	v.Tell(runner.Moment{Kind: runner.DrillChanged, Drill: d})
	require.Empty(t, out.said)
}

// heard is an output that notes what was said.
type heard struct {
	cues.Silent
	said []cues.Phrase
}

func (h *heard) Say(p ...cues.Phrase) { h.said = append(h.said, p...) }

func TestTheLensIsSpoken(t *testing.T) {
	for _, c := range []struct {
		o    bay.Offset
		want []cues.Phrase
	}{
		{bay.Offset{UpCm: 12, NearCm: -5}, []cues.Phrase{"raise-camera", "12", "centimetres", "camera-nearer-player", "5", "centimetres"}},
		{bay.Offset{UpCm: -20, NearCm: 1}, []cues.Phrase{"lower-camera", "20", "centimetres"}},
		{bay.Offset{NearCm: 7}, []cues.Phrase{"camera-nearer-ball", "7", "centimetres"}},
		{bay.Offset{UpCm: 1, NearCm: -1}, []cues.Phrase{"lens-right"}},
	} {
		h := &heard{}
		New(h, drills.Ladder{}, nil).Lens(c.o)
		require.Equal(t, c.want, h.said)
	}
}
