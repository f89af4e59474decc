package cues

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/assets"
	"drillbay/drills"
)

func inWords(p []Phrase) string {
	var words []string
	for _, p := range p {
		words = append(words, string(p))
	}
	return strings.Join(words, " ")
}

func rep(n int, v drills.Verdict, line float64, m drills.Manner) drills.Rep {
	return drills.Rep{Number: n, Verdict: v, Manner: m, ShaftLine: drills.Reading{Value: line, Sigma: 1}}
}

func TestVerdictsInWords(t *testing.T) {
	front := rep(1, drills.NoReading, math.NaN(), drills.Swung)
	front.Why = drills.SeenFaceOn
	require.Equal(t, "swung", inWords(VerdictWords(front)), "face-on there is no shaft line to tell")
	just := rep(1, drills.Outside, -9.2, drills.Swung)
	just.Just = true
	justIn := rep(1, drills.InLine, 7, drills.Swung)
	justIn.Just = true
	for _, c := range []struct {
		rep  drills.Rep
		want string
	}{
		{rep(1, drills.InLine, 2, drills.Swung), "in-line swung"},
		{justIn, "in-line-just swung"},
		{rep(1, drills.Inside, 8.4, drills.Swung), "inside 8"},
		{rep(1, drills.InLine, 2, drills.Placed), "in-line but-placed go-again"},
		{rep(1, drills.Outside, -27.6, drills.Placed), "outside 20 8 and-placed"},
		{just, "outside-just 9"},
		{rep(1, drills.InLine, 0, drills.Unsure), "in-line swung-or-placed"},
		{rep(1, drills.Short, 0, drills.Swung), "short"},
		{rep(1, drills.NoReading, math.NaN(), drills.Swung), "no-reading"},
		{rep(1, drills.Inside, math.NaN(), drills.Swung), "inside"},
	} {
		require.Equal(t, c.want, inWords(VerdictWords(c.rep)))
	}
}

func TestNumbersInWords(t *testing.T) {
	for n, want := range map[int]string{0: "0", 8: "8", 13: "13", 20: "20", 21: "20 1", 90: "90", 99: "90 9", 100: "1 hundred", 101: "1 hundred-and 1",
		120: "1 hundred-and 20", 345: "3 hundred-and 40 5", 999: "9 hundred-and 90 9", 12345: "9 hundred-and 90 9", -7: "7", math.MinInt: "9 hundred-and 90 9"} {
		require.Equal(t, want, inWords(Number(n)), "%d", n)
	}
	require.Zero(t, Gap("20", "8"))
	require.Positive(t, Gap("inside", "8"))
	require.Less(t, Gap("inside", "8"), 0.1, "s, between words of one sentence")
}

// Whatever can be said was recorded.
func TestEveryWordIsRecorded(t *testing.T) {
	var all []Phrase
	for n := range 1000 {
		all = append(all, Number(n)...)
	}
	for v := drills.NoReading; v <= drills.Short; v++ {
		for m := drills.Unsure; m <= drills.Placed; m++ {
			for _, just := range []bool{false, true} {
				r := rep(1, v, 12, m)
				r.Just = just
				all = append(all, VerdictWords(r)...)
			}
		}
	}
	for p := range drills.BodyPart(drills.BodyParts) {
		all = append(append(all, LossWords(drills.Loss{Part: p, Side: -1})...), LossWords(drills.Loss{Part: p, Side: 1})...)
	}
	all = append(append(append(all, CautionWords()...), SummaryWords(0, 10)...), SummaryWords(9, 10)...)
	known := assets.Phrases()
	for _, p := range all {
		require.Contains(t, known, string(p))
	}
}

func TestFeedbackByRep(t *testing.T) {
	told := func(f Feedback, of int) string {
		out := ""
		for n := 1; n <= 12; n++ {
			r := rep(n, drills.InLine, 0, drills.Swung)
			if n%4 == 0 {
				r.Verdict = drills.Inside
			}
			if f.Due(n, of, r) {
				out += "x"
			} else {
				out += "."
			}
		}
		return out
	}
	for f, want := range map[Feedback]string{
		EveryRep: "xxxxxxxxxxxx", EverySecond: "x.x.x.x.x.x.", Faded: "xxxx.x.x..x.", OnlyMisses: "...x...x...x", AfterSet: "............", NoFeedback: "............",
	} {
		require.Equal(t, want, told(f, 12), f.String())
		again, err := ParseFeedback(f.String())
		require.NoError(t, err)
		require.Equal(t, f, again)
	}
	require.Equal(t, "xxxxxxx.x.x.", told(Faded, 0), "a set without end fades over 20")
	_, err := ParseFeedback("often")
	require.ErrorContains(t, err, `"often"`)
}

func TestScriptsAreChecked(t *testing.T) {
	for _, name := range []string{"catch", "strike", "ordinary", "later"} {
		_, err := ScriptNamed(name)
		require.NoError(t, err)
	}
	_, err := ScriptNamed("../caller")
	require.Error(t, err)
	for text, want := range map[string]string{
		"rep verdict":                `own.txt: line 1: "rep verdict" has no colon`,
		"\n# ok\nswing: verdict":     `line 3: "swing" is no moment`,
		"rep: tone gong":             `line 1: there is no tone "gong"`,
		"rep: say hello":             `line 1: there is no spoken phrase "hello"`,
		"rep: applause":              `line 1: "applause" cannot be heard`,
		"rep: verdict\nrep: verdict": `line 2: "rep" stands there twice`,
		"feedback: sometimes":        `line 1: feedback "sometimes"`,
		"lead: waltz":                `line 1: lead "waltz"`,
		"goes on: maybe":             `line 1: "maybe" is neither yes nor no`,
		"rep: say":                   `cannot be heard`,
	} {
		_, err := ParseScript("own.txt", text)
		require.ErrorContains(t, err, want, text)
	}
	s, err := ParseScript("own.txt", "feedback: faded # fewer and fewer\nlead: plain\nrep: tone seen, verdict\n")
	require.NoError(t, err)
	require.Equal(t, Faded, s.Feedback)
	require.Len(t, s.cues[RepDone], 2)
}

// heard writes down what an output is asked for.
type heard struct{ log []string }

func (h *heard) Play(t Tone)     { h.log = append(h.log, "tone "+t.Name) }
func (h *heard) Say(p ...Phrase) { h.log = append(h.log, inWords(p)) }
func (h *heard) Hush()           { h.log = append(h.log, "hush") }
func (h *heard) Metronome(b *Beat) {
	if b == nil {
		h.log = append(h.log, "beat off")
		return
	}
	h.log = append(h.log, fmt.Sprintf("beat %v, %d sounds", b.Rate, len(b.Steps)))
}

func (h *heard) take() []string { out := h.log; h.log = nil; return out }

func caller(t *testing.T, script string) (*Caller, *heard) {
	t.Helper()
	h := &heard{}
	c := NewCaller(h)
	s, err := ScriptNamed(script)
	require.NoError(t, err)
	c.Use(s)
	return c, h
}

func TestARepInACatchDrill(t *testing.T) {
	c, h := caller(t, "catch")
	c.Tell(Moment{Kind: AddressTaken, At: 1})
	require.Equal(t, []string{"tone ready"}, h.take())
	c.Tell(Moment{Kind: TurnedRound, At: 2})
	require.Equal(t, []string{"hush"}, h.take())
	c.Tell(Moment{Kind: NoticeRaised, At: 2.1, Notice: "too-dark"})
	require.Empty(t, h.take(), "nothing is heard over a swing")
	c.Tell(Moment{Kind: CatchSeen, At: 2.8})
	require.Equal(t, []string{"tone trouble", "too-dark"}, h.take())
	c.Tell(Moment{Kind: RepDone, At: 3.1, Rep: rep(1, drills.Inside, 8, drills.Swung), Of: 10})
	require.Equal(t, []string{"hush", "inside 8"}, h.take(), "the verdict goes first")
	c.Tell(Moment{Kind: SetDone, At: 3.1, Counted: 16, Done: 20})
	require.Equal(t, []string{"tone set done", "set-done 16 of 20 in-line-and-swung", "next-set-when-ready"}, h.take())
	c.Tell(Moment{Kind: RepAgain, At: 5, Rep: rep(1, drills.Inside, 8, drills.Swung)})
	require.Equal(t, []string{"hush", "inside 8"}, h.take())
	lost := drills.Loss{Part: drills.SpineTilt, Side: -1}
	c.Tell(Moment{Kind: RepDone, At: 6, Rep: rep(1, drills.InLine, 2, drills.Swung), Lost: lost, Of: 10})
	require.Equal(t, []string{"hush", "in-line swung spine-tilt-low"}, h.take(), "what was lost of the body comes after the verdict, never instead")
	c.Mute(true)
	h.take()
	c.Tell(Moment{Kind: RepDone, At: 9, Rep: rep(2, drills.InLine, 0, drills.Swung)})
	c.Tell(Moment{Kind: AddressTaken, At: 9})
	require.Equal(t, []string{"tone ready"}, h.take())
}

func TestNothingSpeaksOverTheStrike(t *testing.T) {
	c, h := caller(t, "strike")
	c.Tell(Moment{Kind: Moving, At: 1})
	c.Tell(Moment{Kind: TurnedRound, At: 1.2})
	require.Equal(t, []string{"hush"}, h.take())
	c.Tell(Moment{Kind: CatchSeen, At: 1.8})
	c.Tell(Moment{Kind: RepDone, At: 2, Rep: rep(20, drills.InLine, 0, drills.Swung)})
	c.Tell(Moment{Kind: SetDone, At: 2, Counted: 3, Done: 20})
	require.Equal(t, []string{"hush", "in-line swung"}, h.take(), "at the catch the verdict alone")
	c.Tell(Moment{Kind: Moving, At: 3.5})
	require.Equal(t, []string{"hush"}, h.take(), "whatever is still being said ends")
	c.Tell(Moment{Kind: NoticeRaised, At: 3.6})
	c.Tick(4)
	require.Empty(t, h.take())
	c.Tell(Moment{Kind: Still, At: 5})
	require.Equal(t, []string{"tone set done", "set-done 3 of 20 in-line-and-swung", "next-set-when-ready", "tone trouble", "look-at-the-screen"}, h.take())
	// Where nobody says that it is still, it waits a while.
	c.Tell(Moment{Kind: RepDone, At: 20, Rep: rep(20, drills.InLine, 0, drills.Swung)})
	c.Tell(Moment{Kind: SetDone, At: 20, Counted: 3, Done: 20})
	h.take()
	c.Tick(20 + patience)
	require.Empty(t, h.take())
	c.Tick(20.1 + patience)
	require.Len(t, h.take(), 3)
	// A verdict that comes when the player has turned already waits as well.
	c.Tell(Moment{Kind: Still, At: 40})
	c.Tell(Moment{Kind: CatchSeen, At: 41})
	c.Tell(Moment{Kind: Moving, At: 41.8})
	h.take()
	c.Tell(Moment{Kind: RepDone, At: 42, Rep: rep(1, drills.InLine, 0, drills.Swung)})
	c.Tell(Moment{Kind: RepAgain, At: 42.1, Rep: rep(1, drills.InLine, 0, drills.Swung)})
	require.Empty(t, h.take())
	c.Tell(Moment{Kind: Still, At: 44})
	require.Equal(t, []string{"in-line swung", "in-line swung"}, h.take())
}

func TestTheMetronomesSettings(t *testing.T) {
	s, err := ScriptNamed("ordinary")
	require.NoError(t, err)
	b, ok := s.Beat(240)
	require.True(t, ok)
	require.Equal(t, 4, b.CountIn)
	s, err = ParseScript("own.txt", "lead: whole swing\nratio: 2.5\ncount in: 0")
	require.NoError(t, err)
	b, ok = s.Beat(240)
	require.True(t, ok)
	require.Zero(t, b.CountIn)
	require.InDelta(t, 2.5, b.Steps[1].At/(4-b.Steps[1].At), 1e-9)
	for _, wrong := range []string{"ratio: 9", "ratio: nan", "ratio: much", "count in: 17", "count in: -1", "count in: one"} {
		_, err := ParseScript("own.txt", wrong)
		require.ErrorContains(t, err, "line 1", wrong)
	}
}

func TestALaterDayTellsNothingOfTheReps(t *testing.T) {
	c, h := caller(t, "later")
	c.Tell(Moment{Kind: RepDone, At: 2, Rep: rep(1, drills.Inside, 12, drills.Placed), Lost: drills.Loss{Part: drills.HeadUp, Side: 1}, Of: 10})
	c.Tell(Moment{Kind: SetDone, At: 2, Counted: 3, Done: 10})
	c.Tell(Moment{Kind: BeatChanged, At: 2, On: true, Rate: 72})
	require.Equal(t, []string{"tone seen", "tone set done", "set-done", "beat off"}, h.take())
}

func TestFadedFeedbackMarksTheOtherRepsWithATone(t *testing.T) {
	c, h := caller(t, "catch")
	s, err := ParseScript("own.txt", "feedback: every second\nrep: verdict\nset done: summary\n")
	require.NoError(t, err)
	c.Use(s)
	for n := 1; n <= 2; n++ {
		c.Tell(Moment{Kind: RepDone, At: float64(n), Rep: rep(n, drills.InLine, 0, drills.Swung), Of: 10})
	}
	require.Equal(t, []string{"hush", "in-line swung", "tone seen"}, h.take())
}

func TestTheScriptLeads(t *testing.T) {
	c, h := caller(t, "catch")
	c.Tell(Moment{Kind: BeatChanged, On: true, Rate: 72})
	c.Tell(Moment{Kind: BeatChanged, On: false, Rate: 72})
	c.Tell(Moment{Kind: BeatChanged, On: true, Rate: 1e9})
	require.Equal(t, []string{"beat 72, 4 sounds", "beat off", "beat off"}, h.take())
	c, h = caller(t, "ordinary")
	c.Tell(Moment{Kind: BeatChanged, On: true, Rate: 200})
	require.Equal(t, []string{"beat 200, 3 sounds"}, h.take())
	s, err := ScriptNamed("ordinary")
	require.NoError(t, err)
	b, ok := s.Beat(240)
	require.True(t, ok)
	require.Equal(t, 3.0, b.Steps[1].At, "the top three quarters of the way: 3 to 1")
}

func TestAPauseEndsAllWords(t *testing.T) {
	c, h := caller(t, "catch")
	c.Tell(Moment{Kind: Began})
	require.Equal(t, "hush", h.log[0])
	require.Contains(t, h.log[1], "caution-room")
	h.take()
	c.Tell(Moment{Kind: Paused})
	require.Equal(t, []string{"hush", "tone pause", "paused"}, h.take())
}

func FuzzParseScript(f *testing.F) {
	f.Add("rep: tone seen, verdict\nfeedback: faded")
	f.Fuzz(func(t *testing.T, text string) {
		ParseScript("own.txt", text)
	})
}
