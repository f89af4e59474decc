package app

import (
	"fmt"
	"math"
	"runtime"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"drillbay/camera/sight"
	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/book"
	"drillbay/drills/runner"
)

func TestAFirstRunFromNothingToPractice(t *testing.T) {
	a := newTrial()
	require.True(t, a.step().Says("new player"))
	a.key(Go)
	v := a.typed("Marta")
	require.Equal(t, "new player", v.Screen)
	require.True(t, v.Says("Marta"))
	a.key(Go)
	v = a.key(Go)
	require.Equal(t, "caution", v.Screen)
	require.Equal(t, runner.Begin, a.did().Do)
	require.Equal(t, "two", a.did().Drill.ID)
	require.True(t, v.Says("Local rules of the range, and your coach's or doctor's word, come first."))
	v = a.key(PageOn) // with the clicker, from the mat
	require.Equal(t, "practice", v.Screen)
	require.Equal(t, runner.Ready, a.did().Do)
	require.True(t, v.Says("Swing it back"))
	require.True(t, v.Says("Rung 2"))
	require.True(t, v.Says("0 of 10"))
}

func TestNoCautionOfTheStartIsLeftOutUnderNotices(t *testing.T) {
	for _, size := range [][2]float64{{1280, 720}, {1024, 600}, {1920, 1080}} {
		a := newTrial()
		for range 3 {
			a.snap.Notices = append(a.snap.Notices, runner.Notice{Text: "No sound can be played.", To: "Connect or switch on a loudspeaker."})
			var said []string
			for _, i := range a.step(Action{Kind: Size, X: size[0], Y: size[1]}).Items {
				said = append(said, i.Text)
			}
			for _, c := range shortCautions() {
				require.Contains(t, strings.Join(said, " "), c, "%v, %d notices", size, len(a.snap.Notices))
			}
		}
	}
}

func TestWithoutSoundNoVoiceIsPromised(t *testing.T) {
	sound := "on"
	a := martaPractises()
	a.d.Sound = func() string { return sound }
	said := func() (out string) {
		for _, i := range a.step().Items {
			out += i.Text + " "
		}
		return out
	}
	require.Contains(t, said(), "The verdict is spoken.")
	sound = ""
	require.NotContains(t, said(), "spoken")
	require.Contains(t, said(), "The verdict appears here")
	sound, a.setup.Voice = "on", false
	require.NotContains(t, said(), "spoken")
}

func TestEnterSaysWhereItLeads(t *testing.T) {
	a := newTrial()
	a.key(Go)
	require.False(t, a.typed("Marta").Says("begin"), "Enter goes to the hand first")
	require.True(t, a.key(Go).Says("begin"))
}

func TestTheSetUpIsTickedBeforeTheFirstRung(t *testing.T) {
	a := newTrial()
	a.players = []book.PlayerLine{{Player: runner.Player{ID: "m", Name: "Marta"}}}
	a.check = []string{"Grip: light.", "Aim: parallel."}
	a.key(Go)
	v := a.key(PageOn)
	require.Equal(t, "check", v.Screen)
	require.Equal(t, runner.Begin, a.did().Do, "nothing counts yet")
	require.True(t, v.Says("Grip"))
	a.key(Down)
	a.key(PageOn)
	require.Equal(t, "check", a.step().Screen, "the other line is open")
	a.key(PageBack)
	a.key(PageOn)
	require.Equal(t, "caution", a.key(Back).Screen)
	a.key(Go)
	a.key(Go)
	require.Equal(t, "practice", a.key(Go).Screen)
	require.Equal(t, runner.Ready, a.did().Do)
}

func TestAPlannedSessionIsFollowedWithoutAKey(t *testing.T) {
	a := newTrial()
	a.players = []book.PlayerLine{{Player: runner.Player{ID: "m", Name: "Marta"}}}
	one, two := runner.Drill{ID: "one", Reps: 10}, runner.Drill{ID: "two", Reps: 6, Later: true}
	const due, test = "12 of 20 in line and swung: one more set.", "Are they better a day later?"
	a.plan = []book.PlanLine{{Line: "warm-up: 6 min", Why: "Light."}, {Part: drills.Work.String(), Drill: one, Line: "10 reps: one", Why: due}, {Rest: 60, Line: "rest: 1 min"}, {Part: drills.Work.String(), Drill: one, Line: "10 reps: one", Why: due}, {Part: drills.Test.String(), Drill: two, Line: "6 reps: two", Why: test}}
	require.True(t, a.step().Says(due), "why it begins so")
	require.True(t, a.step().Says("Today, 30 minutes"))
	require.True(t, a.step().Says("2 sets of 10 reps: one"))
	a.key(Go)
	require.Equal(t, one, a.did().Drill)
	a.key(Go)
	set := func() { // is done, and its lookback over
		a.snap.SetDone, a.snap.Reps = true, []runner.Done{done("a", 2)}
		a.now += 100
		a.step()
		a.snap.SetDone, a.snap.Reps = false, nil
	}
	orders := len(a.orders)
	a.snap.SetDone, a.snap.Reps, a.snap.Waiting = true, []runner.Done{done("a", 2)}, 1
	a.now += 100
	a.step()
	require.Empty(t, a.orders[orders:], "not while a rep is not told")
	a.snap.Waiting = 0
	set()
	require.True(t, a.step().Says("Rest, 60 s"))
	a.now += 30
	require.True(t, a.step().Says("Rest, 30 s"))
	require.Empty(t, a.orders[orders:])
	a.now += 31
	a.step()
	require.Equal(t, runner.NewSet, a.did().Do)
	set()
	require.Equal(t, runner.Change, a.did().Do)
	require.Equal(t, two, a.did().Drill)
	a.snap.Drill = one
	require.False(t, a.step().Says(due), "said before")
	a.snap.Drill = two
	require.True(t, a.step().Says(test), "why no verdict is told")
	set()
	require.True(t, a.step().Says("Done for today"))
}

func TestAClinicFromAPastedListGoesRoundByItself(t *testing.T) {
	a := newTrial()
	require.Equal(t, "new clinic", a.key(Clinic).Screen)
	a.step(Action{Kind: Pasted, Text: "Ada\r\nBo, Cy (L);D"})
	a.typed("i")
	require.Equal(t, "start", a.key(Back).Screen)
	v := a.key(Clinic)
	require.True(t, v.Says("Di") && v.Says("Bo"), "Escape lost nothing")
	a.key(Next) // Di is on the list
	a.key(Right)
	require.Equal(t, "clinic", a.key(Go).Screen)
	require.Equal(t, []string{"{10 0}"}, a.turns)
	require.Empty(t, a.sheet.Stations)
	require.Len(t, a.sheet.Players, 4)

	require.Equal(t, "caution", a.key(Go).Screen, "for the group, before its first rep")
	a.check = []string{"Grip: light."}
	require.Equal(t, "check", a.key(Go).Screen, "before each player's first rep")
	require.Equal(t, "practice", a.key(Go).Screen)
	require.Equal(t, "Ada", a.snap.Player.Name)
	a.sheet.Over, a.snap.Phase = true, sight.Hold
	a.now++
	a.step()
	require.Equal(t, "Ada", a.snap.Player.Name, "the catch is still held")
	a.snap.Phase = sight.Away
	a.now++
	a.step()
	require.Equal(t, "Bo", a.snap.Player.Name)
	require.Equal(t, runner.Begin, a.did().Do)
	require.True(t, a.step().Says("Bo, step in"))
	a.now++
	require.Equal(t, "practice", a.key(PageOn).Screen, "the clicker ticks it from the mat")
	require.Equal(t, runner.Ready, a.did().Do)
	a.typed("3")
	require.Equal(t, "Cy (L)", a.snap.Player.Name, "out of turn")
	a.key(Go)
	a.typed("1")
	require.Equal(t, "practice", a.step().Screen, "Ada ticked hers")
	require.Equal(t, runner.Ready, a.did().Do)
	a.sheet.Players[2].Of, a.App.group.checked = 3, map[string]bool{}
	a.typed("3")
	require.Equal(t, "practice", a.step().Screen, "after a restart who made reps is not asked again")
	require.True(t, a.typed("9").Says("There is no player 9."))
	require.Equal(t, "clinic", a.key(Clinic).Screen)
	require.Equal(t, "late players", a.key(Join).Screen)
	a.typed("Eve\n")
	require.Equal(t, "clinic", a.key(Go).Screen)
	require.Contains(t, a.turns, "join Eve")
	a.key(Less)
	require.Contains(t, a.turns, "− 3", "the frame is on who is up")
	require.Equal(t, "practice", a.key(Go).Screen, "the practice went on")
	for range 3 {
		require.Equal(t, "clinic", a.key(Clinic).Screen)
		require.Equal(t, "practice", a.key(Clinic).Screen, "one key goes from the board to what the mat sees, and back")
	}
	a.key(Clinic)
	a.key(Report)
	for a.busy != "" {
		a.step()
		runtime.Gosched()
	}
	require.Equal(t, Job{Do: Clinic}, a.jobs[0])
	a.key(EndGroup)
	a.step(Action{Kind: Pasted, Text: "q\n"})
	require.True(t, a.group)
	a.key(Go)
	require.False(t, a.group)
	require.Equal(t, runner.Finish, a.did().Do)
	require.Equal(t, "start", a.step().Screen)
}

// What stands on reports is asked once, and kept with the settings.
func TestTheCoachsNameStandsOnReports(t *testing.T) {
	a := newTrial()
	a.key(Settings)
	require.Equal(t, "coach", a.typed("i").Screen)
	a.typed("Wil Acht")
	a.key(Go)
	a.typed("The mill")
	require.Equal(t, "settings", a.key(Go).Screen)
	last := a.kept[len(a.kept)-1]
	require.Equal(t, []string{"Wil Acht", "The mill"}, []string{last.Coach, last.Place})
	a.key(Go)
	a.key(Settings)
	a.typed("i")
	a.typed("x")
	require.Equal(t, "settings", a.key(Back).Screen)
	require.Equal(t, "Wil Acht", a.kept[len(a.kept)-1].Coach, "back changes nothing")
}

func TestAClipIsKeptOnlyOnceSomebodyAgreed(t *testing.T) {
	a := martaPractises()
	a.tell(done("a", 20))
	a.step()
	a.step()
	require.Equal(t, "consent", a.key(Keep).Screen)
	require.Equal(t, runner.Stay, a.did().Do, "the lookback waits")
	a.key(Back)
	require.Empty(t, a.agreed)
	require.Empty(t, a.jobs)
	a.key(Keep)
	a.typed("3")
	require.Equal(t, "keep", a.key(Go).Screen)
	require.Empty(t, a.jobs)
	a.key(Go)
	a.worked()
	require.Equal(t, book.GuardianAgrees, a.agreed["m"])
	require.Equal(t, "avi", a.jobs[0].As)
	require.Equal(t, "a", a.jobs[0].RepID)
	require.False(t, a.jobs[0].Overlay)
	require.True(t, a.did().Kept)
	require.Equal(t, "lookback", a.step().Screen)
	a.key(Back)
	a.key(Progress)
	require.Equal(t, "consent", a.key(Agree).Screen)
	a.typed("1")
	a.key(Go)
	require.Equal(t, book.NoConsent, a.agreed["m"], "it can be taken back")
}

func TestGoingOnTakesOneKey(t *testing.T) {
	a := newTrial()
	a.players = []book.PlayerLine{{Player: runner.Player{ID: "m", Name: "Marta"}}}
	require.True(t, a.step().Says("Marta"))
	require.Equal(t, "caution", a.key(Go).Screen)
	require.Equal(t, "Marta", a.did().Player.Name)
}

func TestEscapeGoesOneStepBackFromEverywhere(t *testing.T) {
	for _, d := range []Do{NewPlayer, Clinic, Progress, Drills, Lens, Settings, Keys} {
		a := newTrial()
		opened := a.key(d).Screen
		require.NotEqual(t, "start", opened, "%v", d)
		require.Equal(t, "start", a.key(Back).Screen, "%v", d)
	}
	a := newTrial()
	require.False(t, a.key(Back).Quit, "the first Escape asks")
	require.True(t, a.step().Says("Leave drillbay?"))
	require.False(t, a.key(Back).Quit)
	a.key(Back)
	require.True(t, a.key(Go).Quit)
}

func TestEveryButtonOfEveryScreenDoesWhatItsKeyDoes(t *testing.T) {
	open := map[string]func(*trial){
		"start":    func(*trial) {},
		"settings": func(a *trial) { a.key(Settings) },
		"drills":   func(a *trial) { a.key(Drills) },
		"progress": func(a *trial) { a.key(Progress) },
		"lens":     func(a *trial) { a.key(Lens) },
		"practice": func(a *trial) { a.key(Go); a.key(Go); a.snap.Beat.Rate = 60 },
		"lookback": func(a *trial) { a.key(Go); a.key(Go); a.tell(done("a", 2), done("b", 20)) },
	}
	begin := func(to func(*trial)) *trial {
		a := newTrial()
		a.players = []book.PlayerLine{{Player: runner.Player{ID: "m", Name: "Marta"}}}
		to(a)
		a.step()
		return a
	}
	for name, to := range open {
		for _, h := range append([]Hit{}, begin(to).step().Hits...) {
			if h.Do == Choose || h.N > 0 || h.Do == FullScreen {
				continue
			}
			t.Run(fmt.Sprintf("%s %v", name, h.Do), func(t *testing.T) {
				byKey, byMouse := begin(to), begin(to)
				byKey.key(h.Do)
				_, ok := byMouse.click(h.Do)
				require.True(t, ok)
				// The pointer takes two steps more.
				byKey.step()
				byKey.step()
				require.Equal(t, len(byKey.orders), len(byMouse.orders))
				require.Equal(t, byKey.did().Do, byMouse.did().Do)
				require.Equal(t, byKey.step().Screen, byMouse.step().Screen)
			})
		}
	}
}

func TestLettersAreTypedInAFieldAndKeysElsewhere(t *testing.T) {
	a := newTrial()
	require.Equal(t, "progress", a.typed("p").Screen)
	a.key(Back)
	a.typed("N")
	v := a.typed("PSD? x")
	require.Equal(t, "new player", v.Screen)
	require.True(t, v.Says("PSD? x"))
	require.Equal(t, "start", a.key(Back).Screen)
	require.Equal(t, "keys", a.typed("?").Screen)
	require.Equal(t, "start", a.typed("?").Screen)
}

func TestPracticeByKeyClickerAndPointer(t *testing.T) {
	a := martaPractises()
	a.snap.Reps = []runner.Done{done("a", 12)}
	a.snap.All = a.snap.Reps
	v := a.step()
	require.True(t, v.Says("inside"))
	require.True(t, v.Says("12°"))
	for d, want := range map[Do]runner.Do{
		Hold: runner.Pause, LookBack: runner.LookBack, PageBack: runner.LookBack, SayAgain: runner.Say, TakeBack: runner.TakeBack, Tempo: runner.Tempo,
	} {
		a.key(d)
		require.Equal(t, want, a.did().Do, "%v", d)
	}
	a.snap.Paused = true
	a.key(PageOn)
	require.False(t, a.snap.Paused, "the clicker goes on")
	a.snap.SetDone = true
	a.key(PageOn)
	require.Equal(t, runner.NewSet, a.did().Do)
	a.snap.Beat.Rate = 60
	a.typed("+")
	require.Equal(t, 62.0, a.did().Number)
	require.False(t, a.kept != nil)
	a.key(LookUp)
	require.True(t, a.step().Says("look-up picture, 3.0 s late"))
	require.Equal(t, viewLookUp, a.kept[0].View, "a choice is kept")
	a.key(LookUp)
	require.Nil(t, a.step().Pictures[0], "the scale alone")
	require.NotNil(t, a.key(LookUp).Pictures[0], "and the live picture again")
	a.key(Back)
	require.Equal(t, runner.Finish, a.did().Do)
	require.Equal(t, "start", a.step().Screen)
}

func TestTheLookbackComesAndGoesByItself(t *testing.T) {
	a := martaPractises()
	a.tell(done("a", 20))
	v := a.step()
	require.Equal(t, "lookback", v.Screen)
	require.NotNil(t, v.Pictures[0])
	require.True(t, v.Says("inside"))
	require.True(t, v.Says("quarter speed"))
	a.key(Next)
	require.True(t, a.step().Says("half speed"))
	a.key(Right)
	require.True(t, a.step().Says("half speed, held"))
	at := a.step().Pictures[0].At
	require.Equal(t, at, a.step().Pictures[0].At)
	a.key(Right)
	require.Greater(t, a.step().Pictures[0].At, at)
	require.Equal(t, runner.Stay, a.did().Do, "who steps through it keeps it")
	a.key(Down)
	require.InDelta(t, 0.3, a.step().Pictures[0].Seconds(), 1e-6, "the next moment is the turn-round")
	a.key(Down)
	require.InDelta(t, 0.9, a.step().Pictures[0].Seconds(), 1e-6, "then level")
	a.key(Up)
	require.InDelta(t, 0.3, a.step().Pictures[0].Seconds(), 1e-6)
	a.snap.Lookback.On = false
	require.Equal(t, "practice", a.step().Screen)
}

func TestALookbackOfARepThatIsNotStoredSaysNoVerdict(t *testing.T) {
	a := martaPractises()
	a.tell(done("a", 20))
	a.snap.Lookback.Known, a.snap.Reps, a.snap.All = false, nil, nil
	a.top().(*practiceScreen).look = lookbackPart{}
	v := a.step()
	require.Equal(t, "lookback", v.Screen)
	require.False(t, v.Says("inside"))
	require.True(t, v.Says("Reading"))
	// A key that needs the reading says so; K is done then.
	for _, d := range []Do{Pencil, Keep} {
		a.told = nil
		v = a.key(d)
		require.Equal(t, "lookback", v.Screen)
		require.True(t, v.Says("This rep is still being read."), "%v", v)
	}
	a.snap.Lookback.Known = true
	a.step()
	require.Equal(t, "consent", a.step().Screen)
}

func TestTwoRepsSideBySideMeetAtLevel(t *testing.T) {
	a := martaPractises()
	a.tell(done("a", 1), done("b", 20))
	other := done("a", 1)
	other.Rep.Moments.Level = 0.6
	a.snap.Against = []runner.Compare{{Label: "best", Rep: other, Loop: a.ring.Cut(0.1, 1.2)}}
	a.step()
	a.key(Against)
	v := a.step()
	require.NotNil(t, v.Pictures[1])
	require.True(t, v.Says("19° more inside"))
	a.key(Down)
	a.key(Down)
	v = a.step()
	require.InDelta(t, 0.9, v.Pictures[0].Seconds(), 1e-6)
	require.InDelta(t, 0.6, v.Pictures[1].Seconds(), 1e-6)
}

func TestThePencil(t *testing.T) {
	a := martaPractises()
	a.tell(done("a", 20))
	a.step()
	v := a.key(Pencil)
	require.True(t, v.Says("Draw"))
	a.step(Action{Kind: Press, X: 200, Y: 400}, Action{Kind: Move, X: 300, Y: 300}, Action{Kind: Let, X: 300, Y: 300})
	require.True(t, a.step().Says("45°"))
	a.typed("z")
	require.False(t, a.step().Says("45°"))
	a.typed("++")
	a.key(Go)
	a.typed("look at N and Z")
	a.key(Go)
	a.key(Back)
	require.Equal(t, runner.Mark, a.did().Do)
	require.Equal(t, "inside", a.did().Coach)
	require.Equal(t, "look at N and Z", a.did().Note)
	require.Equal(t, "lookback", a.step().Screen)
}

func TestTheCoachsMarksAreStoredAndComeBack(t *testing.T) {
	// Right-hander as seen: between the vertical and the spine line is neutral,
	// the toe beyond the vertical toward the player (left) open, beyond the
	// spine line toward the ball (right) shut. In a flipped picture a
	// left-hander looks like that.
	for _, c := range []struct {
		toe     float64
		want    string
		hand    drills.Hand
		flipped bool
	}{{190, "open", drills.Right, false}, {210, "neutral", drills.Right, false}, {290, "shut", drills.Right, false}, {190, "open", drills.Left, true}} {
		a := newTrial()
		a.players = []book.PlayerLine{{Player: runner.Player{ID: "m", Name: "Marta", Hand: c.hand}}}
		a.bay.Flipped = c.flipped
		a.d.Lens.Under = func(bay.Bay, drills.Pixel, drills.Pixel, drills.Hand) (float64, error) { return -7.2, nil }
		a.key(Go)
		a.key(Go)
		one := done("a", 20)
		one.Overlay.Hands = runner.Dot{At: 0.9, X: 30, Y: 20}
		a.tell(one)
		a.step()
		a.key(Pencil)
		look := &a.top().(*practiceScreen).look
		look.pencil.face = []drills.Pixel{{X: 200, Y: 300}, {X: c.toe, Y: 250}, {X: 100, Y: 300}, {X: 160, Y: 200}}
		look.pencil.lead = []drills.Pixel{{X: 20, Y: 10}}
		v := a.step()
		require.True(t, v.Says("Face "+c.want), "%+v", c)
		require.True(t, v.Says("Hands 7 cm outside the shoulder"))
		a.key(Back)
		m := a.marks["a"]
		require.Equal(t, c.want, m.FaceWord)
		require.Len(t, m.Face, 4)
		require.InDelta(t, -7.2, m.Under, 1e-9)
		a.marks["a"] = m
		stored := a.stored
		a.key(Pencil)
		require.True(t, a.step().Says("Face "+c.want), "they come back")
		a.key(Back)
		require.Equal(t, stored, a.stored, "what did not change is not stored again")
	}
}

func TestTheLensIsLedFromTheMat(t *testing.T) {
	a := newTrial()
	a.key(Lens)
	a.key(Left) // an end was put in its place
	a.key(PageOn)
	v := a.key(PageOn)
	require.True(t, v.Says("Looking"))
	a.hands, a.offset = drills.Pixel{X: 30, Y: 20}, bay.Offset{UpCm: 12.3, NearCm: -5.4, SigmaNow: 2.1, SigmaThere: 0.9}
	v = a.step()
	for _, s := range []string{"raise", "12 cm", "Then move it 5 cm nearer you."} {
		require.True(t, strings.Contains(strings.Join(v.Texts(), " "), s), s)
	}
	require.False(t, v.Says("nearer you"), "one instruction at a time")
	require.Equal(t, []string{"Raise the camera 12 centimetres, and move it 6 centimetres nearer to you."}, a.said)
	for range 60 {
		a.step()
	}
	require.Len(t, a.said, 1, "it does not chatter")
	a.offset = bay.Offset{UpCm: 1, NearCm: -2, SigmaNow: 0.9, SigmaThere: 0.9}
	a.now += 6
	v = a.step()
	require.True(t, v.Says("Good, leave the camera there"))
	require.Equal(t, "Good. Leave the camera there.", a.said[1])
	a.now += 60
	a.step()
	require.Len(t, a.said, 2, "what is good is said once")
	a.key(Go)
	require.True(t, a.Bay().Set)
}

func TestLinesAreDraggedInThePicture(t *testing.T) {
	a := newTrial()
	a.key(Lens)
	v := a.step()
	before := a.Bay()
	require.Len(t, before.Lines, 2)
	var pic Item
	for _, i := range v.Items {
		if i.Shape == Picture {
			pic = i
		}
	}
	end := before.Lines[0].A
	x, y := pic.X+end.X*pic.W/64, pic.Y+end.Y*pic.H/36
	a.step(Action{Kind: Press, X: x, Y: y}, Action{Kind: Move, X: x + 50, Y: y - 20}, Action{Kind: Let, X: x + 50, Y: y - 20})
	after := a.Bay()
	require.InDelta(t, end.X+50*64/pic.W, after.Lines[0].A.X, 0.01)
	require.InDelta(t, after.Lines[0].A.X, after.Target.X, 1e-9, "the target point follows")
	a.key(Next)
	a.key(Left)
	require.InDelta(t, before.Lines[0].B.X-1, a.Bay().Lines[0].B.X, 1e-9)
}

func TestValuesOfTheBayStayWithinReason(t *testing.T) {
	a := newTrial()
	a.key(Lens)
	a.typed("e")
	for range 200 {
		a.typed("+")
	}
	require.InDelta(t, 5, a.Bay().Distance, 1e-9)
	a.typed("u")
	for range 200 {
		a.typed("+")
	}
	// The Equipment Rules (R&A / USGA), part 2 §1c: at most 48 in, 1.2192 m.
	require.LessOrEqual(t, a.Bay().Club, 1.2192)
	for range 200 {
		a.typed("-")
	}
	require.GreaterOrEqual(t, a.Bay().Club, 0.4572)
}

func TestSettingsTakeEffectAtOnceAndAreKept(t *testing.T) {
	a := newTrial()
	a.key(Settings)
	a.key(Right)
	require.Equal(t, "indoors", a.step().Theme)
	a.key(Next)
	a.key(Next)
	for range 5 {
		a.key(Right)
	}
	require.InDelta(t, 4, a.Setup().ViewMetres, 1e-9)
	a.key(Go)
	require.Equal(t, a.Setup(), a.kept[len(a.kept)-1])
	require.True(t, a.Setup().Asked)
}

func TestWorkIsToldWhenItIsDone(t *testing.T) {
	a := newTrial()
	a.players = []book.PlayerLine{{Player: runner.Player{ID: "m", Name: "Marta"}}}
	a.key(Progress)
	a.key(Report)
	a.worked()
	require.True(t, a.step().Says("Written."))
	require.Equal(t, []Job{{Do: Report, Player: "m"}}, a.jobs)
	a.now += toldFor
	require.False(t, a.step().Says("Written."))
}

func TestTheCoachAnswersWhatTheCameraDoesNotSee(t *testing.T) {
	a := newTrial()
	a.players = []book.PlayerLine{{Player: runner.Player{ID: "m", Name: "Marta"}}}
	a.key(Progress)
	require.Equal(t, "answers", a.key(Pencil).Screen)
	require.Equal(t, "progress", a.key(Back).Screen)
	require.Empty(t, a.answers)
	a.key(Pencil)
	a.key(Right)
	a.key(Go)
	require.Equal(t, []string{"open late"}, a.answers)
}

// When the hands gain height is not asked where it was read, and what was answered
// before stays.
func TestWhatWasReadIsNotAsked(t *testing.T) {
	a := newTrial()
	a.players = []book.PlayerLine{{Player: runner.Player{ID: "m", Name: "Marta"}}}
	a.key(Progress)
	require.True(t, a.key(Pencil).Says("When do the hands gain height?"))
	a.key(Back)
	a.heightRead = true
	v := a.key(Pencil)
	require.Equal(t, "answers", v.Screen)
	require.False(t, v.Says("When do the hands gain height?"))
	require.True(t, v.Says("How does the face look at level?"))
	a.key(Next) // on to the name, past what is not asked
	a.typed("h")
	require.True(t, a.step().Says("Marta"+"h"))
	a.key(Next)
	a.key(Right)
	a.key(Go)
	require.Equal(t, []string{"open late"}, a.answers)
}

func TestAPlayerIsRenamed(t *testing.T) {
	a := marta()
	a.key(Progress)
	a.key(Pencil)
	a.key(Up) // from the first line to the last
	require.True(t, a.step().Says("Marta"))
	a.typed("h")
	require.True(t, a.step().Says("Martah"), "letters are the name's there")
	a.key(Back)
	require.Equal(t, "Marta", a.players[0].Player.Name, "Escape changes nothing")
	a.key(Pencil)
	a.key(Up)
	a.typed("h")
	a.key(Go)
	require.Equal(t, "progress", a.step().Screen)
	require.Equal(t, "Martah", a.players[0].Player.Name)
	require.Equal(t, "m", a.players[0].Player.ID, "the reps stay hers")
	a.key(Pencil)
	a.key(Up)
	for range 6 {
		a.key(Erase)
	}
	require.Equal(t, "answers", a.key(Go).Screen)
	require.True(t, a.step().Says("A player needs a name."))
}

func TestTheBobIsAtAPostOnEveryBeat(t *testing.T) {
	for k := range 8 {
		require.InDelta(t, float64(k%2), swingShare(float64(k), false), 1e-9, "beat %d", k)
	}
	// Whole swings: left in three parts, right in one.
	for beat, want := range map[float64]float64{0: 0, 1.5: 0.5, 3: 1, 3.5: 0.5, 4: 0, 7: 1, -1: 1} {
		require.InDelta(t, want, swingShare(beat, true), 1e-9, "beat %v", beat)
	}
	require.Zero(t, swingShare(math.NaN(), false))
}

func TestInsideLiesOnThePlayersSide(t *testing.T) {
	right, left := axis{0, 600, drills.Right}, axis{0, 600, drills.Left}
	require.InDelta(t, 200, right.at(10), 1e-9)
	require.InDelta(t, 400, left.at(10), 1e-9)
	require.InDelta(t, 600, right.at(-77), 1e-9, "what lies beyond stands at the end")
}

func TestCapitalHeights(t *testing.T) {
	// ISO 9241-303: h = 2·D·tan(θ/2). Of 16, 20 and 22 minutes at 3, 3.5 and
	// 4 m, in mm; a screen of 1 px per mm has the same number of px.
	for _, c := range []struct{ metres, minutes, mm float64 }{
		{3, 16, 13.96}, {3, 20, 17.45}, {3, 22, 19.20}, {3.5, 16, 16.29}, {3.5, 20, 20.36}, {3.5, 22, 22.40}, {4, 16, 18.62}, {4, 20, 23.27}, {4, 22, 25.60},
	} {
		require.InDelta(t, c.mm, CapPixels(c.minutes, c.metres, 100, 2540), 0.006, "%+v", c)
	}
}

func TestTheRulerMeasuresTheGoFonts(t *testing.T) {
	r := NewRuler(nil)
	for w := Regular; w <= Bold; w++ {
		// Figures are 0.5562 em in all three weights: a value may turn bold
		// without moving.
		for _, figure := range "0123456789" {
			require.InDelta(t, 0.5562, r.Width(string(figure), 1, w), 5e-4)
		}
	}
	require.True(t, r.Draws("Łódź Ωμέγα Юлия − ± ° ← →"))
	require.False(t, r.Draws("日本"))
	long := strings.Repeat("Wilhelmina ", 9)
	cut := r.Cut(long, 20, Bold, 200)
	require.LessOrEqual(t, r.Width(cut, 20, Bold), 200.0)
	require.True(t, strings.HasSuffix(cut, "…"))
	for _, l := range r.Wrap(long, 20, Regular, 300) {
		require.LessOrEqual(t, r.Width(l, 20, Regular), 300.0)
	}
}

func TestALetterMeansOneThing(t *testing.T) {
	seen := map[string]Do{}
	for d := Go; d < dos; d++ {
		if c := d.Cap(); c != "" {
			require.NotContains(t, seen, c)
			seen[c] = d
		}
	}
	for _, r := range "ncpdslbmvtyheufaiokzgrx?+" {
		d, _ := doOf(r)
		require.NotEqual(t, Nothing, d, "%c", r)
	}
	d, n := doOf('7')
	require.Equal(t, Number, d)
	require.Equal(t, 7, n)
}

func FuzzNothingTypedOrPressedPanics(f *testing.F) {
	f.Add([]byte("n Marta\x80\x80p\x81"), 3)
	f.Add([]byte{0x81, 0x82, 0x90, 0xa0, 0xb0, 'l', 'e', '+'}, 0)
	f.Fuzz(func(t *testing.T, keys []byte, where int) {
		a := newTrial()
		a.players = []book.PlayerLine{{Player: runner.Player{ID: "m", Name: "Marta"}}}
		for i, k := range keys[:min(len(keys), 200)] {
			x, y := float64((where*7+i*131)%1400), float64((where*13+i*61)%800)
			switch {
			case k < 0x80:
				a.typed(string(rune(k)))
			case k < 0x80+byte(dos):
				a.key(Do(k - 0x80))
			case k < 0xd0:
				a.step(Action{Kind: Press, X: x, Y: y}, Action{Kind: Move, X: y, Y: x})
			case k < 0xe0:
				a.step(Action{Kind: Let, X: x, Y: y})
			case k < 0xf0:
				a.tell(done("a", float64(int(k)%40-20)))
			default:
				a.step(Action{Kind: Size, X: x * 3, Y: y * 3, N: int(x * 4)})
			}
			v := a.step()
			for _, item := range v.Items {
				if item.Shape == Text && !utf8.ValidString(item.Text) {
					t.Fatalf("%q is no text", item.Text)
				}
			}
		}
	})
}

func TestAViewGivesItsPicturesBack(t *testing.T) {
	a := newTrial()
	v := a.step()
	require.NotNil(t, v.Pictures[0])
	v.Release()
	require.Nil(t, v.Pictures[0])
	v.Release()
	a.ring.Clear()
	require.Zero(t, a.ring.Stats().Held)
}

func TestMixedPracticeNamesTheDrillOfEachRep(t *testing.T) {
	a := newTrial()
	a.players = []book.PlayerLine{{Player: runner.Player{ID: "m", Name: "Marta"}}}
	mix := runner.Drill{ID: "mix", Name: "Mixed practice", Rung: 8, Reps: 10}
	one := runner.Drill{ID: "one", Name: "Lead arm", Rung: 1, Reps: 10, Mixed: "mix"}
	two := runner.Drill{ID: "two", Name: "Both hands", Rung: 2, Reps: 10, Mixed: "mix", Kind: runner.Ordinary}
	a.plan = []book.PlanLine{{Drill: mix, Order: []runner.Drill{one, two}, Line: "10 reps: mixed practice"}, {Rest: 60, Line: "rest: 1 min"}}
	a.key(Go)
	require.Equal(t, []runner.Drill{one, two}, a.did().Order)
	require.Equal(t, one, a.did().Drill)
	a.key(Go)
	require.True(t, a.step().Says("Lead arm"))
	a.now += 100
	a.step()
	a.snap.Drill = two // the session goes from drill to drill
	require.True(t, a.step().Says("Both hands"))
	require.False(t, a.step().Says("Rest, 60 s"))
	a.snap.Set = 2
	a.step()
	a.snap.SetDone, a.snap.Reps = true, []runner.Done{done("a", 2)}
	a.step()
	require.True(t, a.step().Says("Rest, 60 s"), "the set is known as the plan's")
}

// A player quicker than the reading begins the next set before the last rep of
// this one was told.
func TestThePlanGoesOnWhenTheNextSetWasBegunAlready(t *testing.T) {
	a := newTrial()
	a.players = []book.PlayerLine{{Player: runner.Player{ID: "m", Name: "Marta"}}}
	one := runner.Drill{ID: "one", Reps: 10}
	a.plan = []book.PlanLine{{Drill: one, Line: "10 reps: one"}, {Rest: 60, Line: "rest: 1 min"}}
	a.key(Go)
	a.key(Go)
	a.snap.Set = 1
	a.now += 100
	a.step()
	a.snap.Set = 2
	a.step()
	require.True(t, a.step().Says("Rest, 60 s"))
}

func TestTheCoachSetsTheStationsOfAClinic(t *testing.T) {
	a := newTrial()
	a.key(Clinic)
	a.step(Action{Kind: Pasted, Text: "Ada\nBo\nCy\nDi\n"})
	a.key(Next)
	a.key(Next)
	require.Equal(t, "new clinic", a.key(Right).Screen)
	a.key(Right) // three
	a.key(Next)
	a.typed("net 2, mirror")
	a.key(Go)
	require.Equal(t, []book.StationLine{{Name: "net 2", Who: "Ada", Camera: true}, {Name: "mirror", Who: "Bo", Camera: false}, {Name: "c", Who: "Cy", Camera: false}}, a.sheet.Stations)
	v := a.step()
	require.True(t, v.Says("net 2, the camera") && v.Says("mirror") && v.Says("Cy"))
	a.key(Go)
	a.key(Go)
	require.True(t, a.key(NextPlayer).Says("mirror: Bo. c: Cy. Waiting: Di."))
}

// The lookback shows the rep as the row of its moments; a press on one goes there.
func TestARepIsARowOfItsMoments(t *testing.T) {
	a := martaPractises()
	a.tell(done("a", 20))
	v := a.step(Action{Kind: Size, X: 1280, Y: 720, N: 1469})
	require.Equal(t, "lookback", v.Screen)
	var at []float64
	for _, p := range v.Pictures[rowSlot:] {
		if p != nil {
			at = append(at, p.Seconds())
		}
	}
	require.Len(t, at, 3)
	for i, want := range []float64{0.3, 0.6, 0.9} { // turn-round, half way, level
		require.InDelta(t, want, at[i], 0.034)
	}
	for _, h := range v.Hits {
		if h.Do == Choose && h.N == 1 {
			a.step(Action{Kind: Press, X: h.X + 5, Y: h.Y + 5})
			a.step(Action{Kind: Let, X: h.X + 5, Y: h.Y + 5})
			break
		}
	}
	v = a.step()
	require.InDelta(t, 0.6, v.Pictures[0].Seconds(), 0.034, "the picture is that of the moment")
	require.Equal(t, runner.Stay, a.did().Do)
}

// The virtual bay follows no plan: its start screen says which rung is next, and why.
func TestTheVirtualBaySaysWhatIsNextAndWhy(t *testing.T) {
	a := newTrial()
	a.players = []book.PlayerLine{{Player: runner.Player{ID: "m", Name: "Marta"}}}
	a.d.Virtual = true
	require.True(t, a.step().Says("Before the first swing"))
	a.d.Book = nextUp{a}
	require.True(t, a.step().Says("10 reps: both hands"))
	require.True(t, a.step().Says("12 of 20 in line and swung: one more set."))
}

type nextUp struct{ *trial }

func (nextUp) Progress(string) book.ProgressSheet {
	return book.ProgressSheet{Why: "12 of 20 in line and swung: one more set.", Sessions: []book.SessionLine{{}}, Rungs: []book.RungLine{{Here: true, Drill: runner.Drill{Name: "Both hands", Reps: 10}}}}
}

// After a set the feel is that of the drill that was practised, also where it is the turn
// of another rung; the likely cause of the misses comes first.
func TestTheFeelIsOfTheDrillThatWasPractised(t *testing.T) {
	a := martaPractises()
	a.d.Book = feels{a, nil, false}
	a.snap.Drill.ID, a.snap.Session, a.snap.Set = "mine", "s", 1
	require.Equal(t, "The head goes first", new(setEnd).feeling(a.App, &a.snap))
	a.snap.Drill.ID = "other"
	require.Equal(t, "Of the rung", new(setEnd).feeling(a.App, &a.snap))
	a.snap.Drill.ID = "mine"
	a.d.Book = feels{a, nil, true}
	require.Equal(t, "Of the rung", new(setEnd).feeling(a.App, &a.snap), "where it fits the misses")
	a.d.Book = feels{a, []book.CauseLine{{Feel: "against the cause"}}, false}
	require.Equal(t, "Against the cause", new(setEnd).feeling(a.App, &a.snap))
}

type feels struct {
	*trial
	causes []book.CauseLine
	own    bool
}

func (f feels) Progress(string) book.ProgressSheet {
	return book.ProgressSheet{Feel: "of the rung", Own: f.own, Causes: f.causes, Rungs: []book.RungLine{{Drill: runner.Drill{ID: "mine"}, Feel: "the head goes first"}}}
}
