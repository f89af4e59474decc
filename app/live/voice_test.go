package live

import (
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/cues"
	"drillbay/drills"
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
	v := newVoice(Silent{})
	v.ladder = l
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

func TestTwoTapsAskForTheVerdictOrTheNextSet(t *testing.T) {
	require.Equal(t, runner.Say, tapped(&runner.Snapshot{}))
	require.Equal(t, runner.NewSet, tapped(&runner.Snapshot{SetDone: true}))
}

func TestInMixedPracticeTheVoiceSaysWhichDrillIsNext(t *testing.T) {
	out := &heard{}
	v := newVoice(out)
	v.ladder, _ = book.LoadLadder("")
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
