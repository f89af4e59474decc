package app

import (
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/camera/sight"
	"drillbay/drills/runner"
)

// over lets the turn of who is up end, between reps.
func (t *trial) over() *View {
	t.sheet.Over, t.snap.Phase = true, sight.Away
	t.now++
	return t.step()
}

func TestATurnEndsWhileTheBoardIsLookedAt(t *testing.T) {
	a := inClinic()
	require.Equal(t, "clinic", a.key(Clinic).Screen)
	require.True(t, a.step().Says("Ada is up"))
	require.Equal(t, "check", a.over().Screen)
	require.Equal(t, "Bo", a.snap.Player.Name)
	a.now++
	require.Equal(t, "clinic", a.key(Go).Screen, "where the list came over")
	require.Equal(t, runner.Ready, a.did().Do)
	require.Equal(t, "practice", a.key(Go).Screen)

	a.key(Clinic)
	a.key(EndGroup)
	a.over()
	require.Equal(t, "Bo", a.snap.Player.Name, "nothing changes under a question")
}

// A turn that ends just before the question was asked covers it with nobody's list.
func TestAQuestionOnTheBoardIsNotCovered(t *testing.T) {
	a := inClinic()
	a.check = []string{"Grip: light."}
	a.key(Clinic)
	a.key(EndGroup)
	a.sheet.Up, a.sheet.UpID = "Bo", "Bo"
	a.stepIn()
	v := a.step()
	require.Equal(t, "clinic", v.Screen)
	require.True(t, v.Says("End the clinic?"))
	a.key(Back)
	require.Equal(t, "check", a.key(Go).Screen, "Bo's list comes with Enter")
}

// The frame of the board says whom + and − are about.
func TestTheFrameOfTheBoardIsOnWhoIsUpUntilItIsMoved(t *testing.T) {
	a := inClinic()
	a.key(Clinic)
	framed := func() string {
		a.key(Less)
		return a.turns[len(a.turns)-1]
	}
	require.Equal(t, "− 1", framed())
	a.key(NextPlayer)
	a.key(Go)
	require.Equal(t, "− 2", framed(), "it goes with the turn")
	a.key(Down)
	require.Equal(t, "− 3", framed())
	a.sheet.Players[2].Needs = "inside 7 of 8"
	a.step()
	require.Equal(t, "− 3", framed(), "Cy is on top now")
	a.typed("1")
	require.Equal(t, "− 3", framed(), "another turn changes nothing")
}

func TestEscapeFromAListInAClinicGoesToTheBoard(t *testing.T) {
	a := inClinic()
	a.check = []string{"Grip: light.", "Aim: at the mark."}
	a.key(Clinic)
	require.Equal(t, "check", a.typed("3").Screen)
	a.now++
	a.key(Go)
	require.Equal(t, "clinic", a.key(Back).Screen)
	require.True(t, a.step().Says("set-up check"), "what Enter does")
	require.Equal(t, "check", a.key(Go).Screen)
	require.Equal(t, "clinic", a.key(Clinic).Screen)
	require.Equal(t, "check", a.key(Clinic).Screen)
	require.Equal(t, "clinic", a.key(Go).Screen, "one line was ticked before")
	require.Equal(t, "Cy", a.snap.Player.Name)
	require.Equal(t, runner.Ready, a.did().Do)

	a.typed("2")
	a.typed("1") // out of the list of another
	require.Equal(t, "clinic", a.step().Screen, "Ada ticked hers")
	require.Equal(t, "practice", a.key(Back).Screen, "no list of another is under it")

	a.typed("2")
	a.now++
	require.Equal(t, "clinic", a.key(Back).Screen, "from practice too")
	require.Equal(t, "clinic", a.key(Back).Screen)
	require.Equal(t, runner.Finish, a.did().Do, "one more ends what had not begun")
	_, under := a.turning()
	require.False(t, under)
	require.Equal(t, "start", a.key(Back).Screen)

	a = inClinic()
	a.typed("2")
	a.now++
	a.key(Back)
	a.key(EndGroup)
	require.Equal(t, "start", a.key(Go).Screen, "Q is asked, and Enter ends it")
	require.False(t, a.group)
}

// lastRep is a trial in which the last rep of Ada's turn was told and she is back at
// address, where the session ends a lookback.
func lastRep() *trial {
	a := inClinic()
	a.sheet.Then = "Bo"
	a.tell(done("a", 20))
	a.sheet.Over, a.snap.Lookback.On = true, false
	a.now += lookEvery
	a.step()
	return a
}

func TestTheLastRepOfATurnIsSeenOnceBeforeTheNextIsCalled(t *testing.T) {
	a := lastRep()
	require.Equal(t, "lookback", a.step().Screen)
	require.Equal(t, "Ada", a.snap.Player.Name)
	require.Equal(t, runner.Enough, a.did().Do, "no rep more counts in this turn")
	require.True(t, a.step().Says("Next: Bo"))
	look := &a.stack[2].(*practiceScreen).look
	own, player := look.own[0], look.player
	for a.step().Screen == "lookback" {
		require.Less(t, player.At(a.now).Lap, 1)
	}
	require.Equal(t, 1, player.At(a.now).Lap)
	a.now += lookEvery
	require.Equal(t, "check", a.step().Screen)
	require.Equal(t, "Bo", a.snap.Player.Name)
	require.Nil(t, own.Frame(0), "its pictures are let go")

	a = lastRep()
	a.key(Go)
	a.now += lookEvery
	require.Equal(t, "check", a.step().Screen, "a key ends it")

	a = lastRep()
	a.key(LookBack)
	a.now += 60
	require.Equal(t, "lookback", a.step().Screen, "B keeps it")
	a.key(LookBack)
	a.now += lookEvery
	require.Equal(t, "check", a.step().Screen)

	a = lastRep()
	a.sheet.Over = false // the rep was taken back
	a.step()
	a.now += lookEvery
	a.step()
	require.Equal(t, "practice", a.step().Screen)
	require.Equal(t, "Ada", a.snap.Player.Name)
	require.Equal(t, runner.Ready, a.did().Do, "her turn goes on")

	a = inClinic()
	a.tell(done("a", 20))
	a.snap.Lookback.On = false
	require.Equal(t, "practice", a.step().Screen, "others end at address")
}

// A rep that is still being read at address may be the last of its turn.
func TestTheLastRepOfATurnIsWaitedFor(t *testing.T) {
	a := inClinic()
	a.tell(done("a", 20))
	reps := a.snap.All
	a.snap.Reps, a.snap.All, a.snap.Waiting, a.snap.SetFull = nil, nil, 1, true
	a.snap.Lookback.On, a.snap.Lookback.Known = false, false
	look := &a.stack[2].(*practiceScreen).look
	look.known = false
	a.now += 30
	require.Equal(t, "lookback", a.step().Screen)
	a.snap.Reps, a.snap.All, a.snap.Waiting, a.sheet.Over = reps, reps, 0, true
	a.now += lookEvery
	a.step()
	require.True(t, look.known)
	a.now += 30
	a.step()
	a.now += lookEvery
	require.Equal(t, "check", a.step().Screen)
}

// Escape in a lookback that came by itself means what it meant before it came.
func TestEscapeEndsPracticeAlsoInALookbackThatCameByItself(t *testing.T) {
	a := martaPractises()
	a.tell(done("a", 20))
	a.now += 5
	require.True(t, a.step().Says("end"))
	require.Equal(t, "start", a.key(Back).Screen)
	require.Equal(t, runner.Finish, a.did().Do)

	a = martaPractises()
	a.tell(done("a", 20))
	a.step()
	a.snap.Lookback.On = false // it has just gone
	a.step()
	require.Equal(t, "start", a.key(Back).Screen)

	a = martaPractises()
	a.tell(done("a", 20))
	a.key(LookBack)
	require.True(t, a.step().Says("back"))
	require.Equal(t, "practice", a.key(Back).Screen, "who called it leaves it")
}
