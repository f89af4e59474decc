package app

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills"
	"drillbay/drills/bay"
	"drillbay/drills/book"
	"drillbay/drills/runner"
)

// bodied is a rep with a body.
func bodied(id string) runner.Done {
	r := done(id, 3)
	r.Overlay.Hands = runner.Dot{X: 31, Y: 19}
	r.Overlay.Here = runner.Joints{Crown: runner.Dot{X: 31.6, Y: 10}, Neck: runner.Dot{X: 30.2, Y: 14.6}, Hips: runner.Dot{X: 26, Y: 23}, LeadShoulder: runner.Dot{X: 33, Y: 17}, Seen: true}
	r.Overlay.Home = r.Overlay.Here
	r.Rep.Body = drills.Body{drills.HandsUnder: {Value: 7, Sigma: 1}, drills.SpineTilt: {Value: -8, Sigma: 1}}
	// The spine's tilt is that of its line in the picture, the hands hang 12 px a cm.
	r.Overlay.Again = func(home, j runner.Joints) drills.Body {
		b := r.Rep.Body
		if home.Neck != r.Overlay.Home.Neck {
			b[drills.SpineTilt] = drills.Reading{Value: -1, Sigma: 2}
		}
		if j.Neck != r.Overlay.Here.Neck || j.Hips != r.Overlay.Here.Hips {
			b[drills.SpineTilt] = drills.Reading{Value: -3, Sigma: 2}
		}
		if j.LeadShoulder != r.Overlay.Here.LeadShoulder {
			b[drills.HandsUnder] = drills.Reading{Value: 1, Sigma: 2}
		}
		return b
	}
	return r
}

// The coach puts a joint right: the nearest one, kept as the coach's; what was
// read stays.
func TestTheCoachPutsAJointRight(t *testing.T) {
	a := martaPractises()
	a.tell(bodied("a"))
	a.step()
	a.key(Pencil)
	for range 3 {
		a.key(Next)
	}
	require.InDelta(t, a.snap.All[0].Rep.Moments.Level, a.step().Pictures[0].Seconds(), 0.5/30, "at level, where they are marked")
	p := a.top().(*practiceScreen).look.pencil
	at := p.over
	a.step(Action{Kind: Press, X: at.x(30), Y: at.y(14)}, Action{Kind: Let, X: at.x(30), Y: at.y(14)})
	v := a.step()
	require.True(t, v.Says("neck"))
	// What the joint carries is read anew, and kept as the coach's beside what was read.
	require.True(t, v.Says("spine 3° more upright") && v.Says("Read: spine 8° more upright") && v.Says("None of this is medical advice; pain ends"), "%v", v)
	a.key(Back)
	require.Len(t, a.marks["a"].Joints, 1)
	j := a.marks["a"].Joints[0]
	require.Equal(t, "neck", j.Name)
	require.InDelta(t, 30, j.At.X, 0.6)
	require.InDelta(t, 14, j.At.Y, 0.6)
	require.Equal(t, -8.0, a.snap.All[0].Rep.Body[drills.SpineTilt].Value)
	require.Equal(t, drills.Body{drills.SpineTilt: {Value: -3, Sigma: 2}}, a.marks["a"].Body)
	v = a.step()
	require.True(t, v.Says("Yours"))
	require.True(t, v.Says(drills.NoAdvice))
	// A second tap beside it moves the same joint; rubbed out, it is as it was seen.
	a.key(Pencil)
	for range 3 {
		a.key(Next)
	}
	a.step(Action{Kind: Press, X: at.x(29), Y: at.y(13)}, Action{Kind: Let, X: at.x(29), Y: at.y(13)})
	a.key(Back)
	require.Len(t, a.marks["a"].Joints, 1)
	a.key(Pencil)
	for range 3 {
		a.key(Next)
	}
	a.key(TakeBack)
	a.key(Back)
	require.Empty(t, a.marks["a"].Joints)
	require.Zero(t, a.marks["a"].Body, "taken back")
	require.False(t, a.step().Says("Yours"))
}

// A shoulder that is tapped carries the hands under it; a reading that came from the
// other camera is not changed by a joint of this picture.
func TestAJointChangesTheReadingsOfItsOwnPicture(t *testing.T) {
	r := bodied("a")
	m := book.Marks{Lead: []drills.Pixel{{X: 30, Y: 16}}, Joints: []book.JointMark{{Name: "hips", At: drills.Pixel{X: 24, Y: 23}}}}
	require.Equal(t, drills.Body{drills.HandsUnder: {Value: 1, Sigma: 2}, drills.SpineTilt: {Value: -3, Sigma: 2}}, coached(r, m, drills.DownTheLine, 0))
	r.Rep.Views.Line, r.Rep.Views.Body[drills.SpineTilt], r.Rep.Views.Body[drills.HandsUnder] = drills.DownTheLine, drills.FaceOn, drills.DownTheLine
	require.Equal(t, drills.Body{drills.HandsUnder: {Value: 1, Sigma: 2}}, coached(r, m, drills.DownTheLine, 0))
	require.Zero(t, coached(r, book.Marks{}, drills.DownTheLine, 0))
	r.Overlay.Again = nil
	require.Zero(t, coached(r, m, drills.DownTheLine, 0), "a bay without lengths")
}

// One line of the body at a time: that of what was lost by itself, then the next
// by a key, and none at last; with the caution.
func TestOneLineOfTheBodyAtATime(t *testing.T) {
	a := martaPractises()
	r := bodied("a")
	r.Lost = drills.Loss{Part: drills.SpineTilt, Side: -1}
	a.tell(r)
	a.now += 30
	a.key(Down) // stand at the level moment
	a.key(Down)
	const spine, hands = "spine 8° more upright, give or take 1°", "hands 7 cm outside the lead shoulder, give or take 1 cm"
	v := a.step()
	require.True(t, v.Says(spine))
	require.True(t, v.Says(drills.NoAdvice))
	v = a.key(Lines)
	require.False(t, v.Says(spine), "none after the last")
	require.False(t, v.Says(hands))
	v = a.key(Lines)
	require.True(t, v.Says(hands))
	require.False(t, v.Says(spine))
	a.marks["a"] = book.Marks{Body: drills.Body{drills.HandsUnder: {Value: 2, Sigma: 2}}}
	v = a.step()
	require.Contains(t, v.String(), "By the coach's joints: hands 2 cm outside the lead shoulder, give or take 2 cm; read:")
	require.Contains(t, v.String(), "hands 7 cm outside the lead shoulder\"")
}

// With two cameras the pencil draws on the picture that is shown: a joint that is put
// right in the second camera's changes the readings that came from there, and the mark
// says which picture it is on.
func TestThePencilDrawsOnEitherPicture(t *testing.T) {
	a := seenTwice(t, 0.5)
	rep := &a.snap.Lookback.Rep
	for p := range rep.Rep.Body {
		if rep.Rep.Body[p].Known() && rep.Rep.Views.Body[p] == drills.NoView {
			rep.Rep.Views.Body[p] = drills.DownTheLine
		}
	}
	read := rep.Rep.Body
	hips := rep.Beside.Here.Hips
	rep.Beside.Again = func(_, j runner.Joints) drills.Body {
		b := read
		if j.Hips != hips {
			b[drills.HipsBack] = drills.Reading{Value: 6, Sigma: 2}
			b[drills.SpineTilt] = drills.Reading{Value: 20, Sigma: 2} // it is read in the first one's
		}
		return b
	}
	a.step()
	a.key(Pencil)
	p := func() *pencil { return a.top().(*practiceScreen).look.pencil }
	drag := func() {
		at := p().over.at
		a.step(Action{Kind: Press, X: at.X + 50, Y: at.Y + 50}, Action{Kind: Move, X: at.X + 150, Y: at.Y + 150}, Action{Kind: Let, X: at.X + 150, Y: at.Y + 150})
	}
	drag()
	require.Contains(t, a.step().String(), "45°")
	v := a.key(LookUp)
	require.Equal(t, 32, v.Pictures[0].Width)
	require.True(t, v.Says("face-on") && !v.Says("face") && !v.Says("shoulder"), "face and shoulder are marked in the other one")
	require.NotContains(t, v.String(), "45°", "its own lines")
	a.key(Next)
	at := p().over
	a.step(Action{Kind: Press, X: at.x(18), Y: at.y(9)}, Action{Kind: Let, X: at.x(18), Y: at.y(9)})
	v = a.step()
	require.True(t, v.Says("hips"), "%v", v)
	v = a.key(LookUp)
	require.NotEqual(t, 32, v.Pictures[0].Width)
	require.False(t, v.Says("hips"), "it is not put in the first one's picture")
	a.key(Back)
	m := a.marks["a"]
	require.Len(t, m.Joints, 1)
	require.Equal(t, drills.FaceOn, m.Joints[0].View)
	require.InDelta(t, 18, m.Joints[0].At.X, 0.6)
	require.Equal(t, drills.Body{drills.HipsBack: {Value: 6, Sigma: 2}}, m.Body)
}

// Where the first camera looks face-on, face and shoulder are marked on the picture of the
// second, which looks down the line, and are read in its bay.
func TestFaceAndShoulderAreMarkedDownTheLine(t *testing.T) {
	a := seenTwice(t, 0.5)
	a.bay.FaceOn = true
	a.d.Other.Bay = func() bay.Bay { return bay.Bay{Name: "the other's", Roll: 3} }
	rep := &a.snap.Lookback.Rep
	rep.Beside.Hands = runner.Dot{X: 12, Y: 10}
	var in bay.Bay
	var under drills.Pixel
	a.d.Lens.Under = func(b bay.Bay, hands, _ drills.Pixel, _ drills.Hand) (float64, error) {
		in, under = b, hands
		return 3, nil
	}
	read := rep.Rep.Body
	shoulder := runner.Dot{X: 14, Y: 5}
	rep.Beside.Here.LeadShoulder = shoulder
	rep.Beside.Again = func(_, j runner.Joints) drills.Body {
		b := read
		if j.LeadShoulder != shoulder {
			b[drills.HandsUnder] = drills.Reading{Value: 4, Sigma: 2}
		}
		return b
	}
	rep.Rep.Views.Body[drills.HandsUnder] = drills.DownTheLine
	a.step()
	v := a.key(Pencil)
	require.True(t, v.Says("face-on") && !v.Says("face") && !v.Says("shoulder"))
	v = a.key(LookUp)
	require.True(t, v.Says("down the line") && v.Says("face") && v.Says("shoulder"))
	require.Equal(t, 32, v.Pictures[0].Width)
	p := a.top().(*practiceScreen).look.pencil
	a.key(Next)
	for _, at := range [][2]float64{{10, 4}, {10, 14}, {14, 14}, {14, 4}} { // a face along the spine
		a.step(Action{Kind: Press, X: p.over.x(at[0]), Y: p.over.y(at[1])}, Action{Kind: Let, X: p.over.x(at[0]), Y: p.over.y(at[1])})
	}
	a.key(Next)
	a.step(Action{Kind: Press, X: p.over.x(16), Y: p.over.y(6)}, Action{Kind: Let, X: p.over.x(16), Y: p.over.y(6)})
	require.True(t, a.step().Says("lead shoulder"))
	require.False(t, a.key(LookUp).Says("lead shoulder"), "it is not put in the first one's picture")
	a.key(Back)
	m := a.marks["a"]
	require.Len(t, m.Face, 4)
	require.NotEmpty(t, m.FaceWord)
	require.Len(t, m.Lead, 1)
	require.InDelta(t, 16, m.Lead[0].X, 0.6)
	require.InDelta(t, 3, m.Under, 1e-9)
	require.Equal(t, "the other's", in.Name, "in the bay of that camera")
	require.Equal(t, drills.Pixel{X: 12, Y: 10}, under)
	require.Equal(t, drills.Reading{Value: 4, Sigma: 2}, m.Body[drills.HandsUnder])
}

// A joint that the eye did not see is named by its number and put where the next tap is;
// its readings are there then.
func TestAJointThatWasNotSeenIsPlaced(t *testing.T) {
	a := martaPractises()
	r := bodied("a")
	nowhere := runner.Dot{X: math.NaN(), Y: math.NaN()}
	r.Overlay.Here.Neck, r.Rep.Body[drills.SpineTilt] = nowhere, drills.None()
	r.Overlay.Again = func(_, j runner.Joints) drills.Body {
		b := r.Rep.Body
		if there(j.Neck) {
			b[drills.SpineTilt] = drills.Reading{Value: -3, Sigma: 2}
		}
		return b
	}
	a.tell(r)
	a.now += 30
	a.key(Down)
	a.key(Down)
	require.False(t, a.step().Says("spine 3° more upright"))
	a.key(Pencil)
	for range 3 {
		a.key(Next)
	}
	require.Contains(t, strings.Join(a.step().Texts(), " "), "Not seen: 2 neck, 5 trail elbow, 6 trail hip. Press the number, then tap.")
	a.step(Action{Kind: Key, Do: Number, N: 2})
	require.Contains(t, strings.Join(a.step().Texts(), " "), "Neck: tap where it is at level.")
	at := a.top().(*practiceScreen).look.pencil.over
	a.step(Action{Kind: Press, X: at.x(26), Y: at.y(22)}, Action{Kind: Let, X: at.x(26), Y: at.y(22)}) // the hips are nearer
	v := a.step()
	require.True(t, v.Says("neck") && v.Says("spine 3° more upright"), "%v", v)
	require.Contains(t, strings.Join(v.Texts(), " "), "Not seen: 5 trail elbow, 6 trail hip.")
	a.key(Back)
	require.Len(t, a.marks["a"].Joints, 1)
	require.Equal(t, "neck", a.marks["a"].Joints[0].Name)
	require.Equal(t, drills.Body{drills.SpineTilt: {Value: -3, Sigma: 2}}, a.marks["a"].Body)
	a.key(Lines) // hands
	v = a.key(Lines)
	require.Contains(t, strings.Join(v.Texts(), " "), "By the coach's joints: spine 3° more upright, give or take 2°")
}

// At address a joint is put right in the picture of address; its mark is another than that
// at level, and each is taken back by itself. Without that picture the tool is not there.
func TestTheCoachPutsAJointRightAtAddress(t *testing.T) {
	a := martaPractises()
	a.tell(bodied("a"))
	require.False(t, a.key(Pencil).Says("at address"), "no picture of address is held")
	a.key(Back)
	a.snap.Lookback.Loop.KeepStill(0.05)
	a.step()
	a.key(Pencil)
	for range 4 {
		a.key(Next)
	}
	v := a.step()
	require.InDelta(t, 0.05, v.Pictures[0].Seconds(), 1.0/30, "the picture of address, which the loop does not play")
	require.Contains(t, strings.Join(v.Texts(), " "), "Tap where a joint really is at address")
	require.InDelta(t, 0.05, a.key(Right).Pictures[0].Seconds(), 1.0/30, "it stands")
	at := a.top().(*practiceScreen).look.pencil.over
	tap := func(x, y float64) {
		a.step(Action{Kind: Press, X: at.x(x), Y: at.y(y)}, Action{Kind: Let, X: at.x(x), Y: at.y(y)})
	}
	tap(32.6, 17) // the lead shoulder is nearest, but at address it carries nothing
	v = a.step()
	require.True(t, v.Says("neck") && v.Says("spine 1° more upright") && v.Says("Read: spine 8° more upright") && v.Says("None of this is medical advice; pain ends"), "%v", v)
	a.key(Back)
	require.Len(t, a.marks["a"].Joints, 1)
	j := a.marks["a"].Joints[0]
	require.True(t, j.Name == "neck" && j.Address, "%v", j)
	require.Equal(t, drills.Body{drills.SpineTilt: {Value: -1, Sigma: 2}}, a.marks["a"].Body)
	// The neck at level is another mark.
	a.key(Pencil)
	for range 3 {
		a.key(Next)
	}
	require.False(t, a.step().Says("neck"), "it is not put where the rep is read")
	tap(30, 14)
	a.key(Back)
	require.Len(t, a.marks["a"].Joints, 2)
	require.Equal(t, -3.0, a.marks["a"].Body[drills.SpineTilt].Value)
	a.key(Pencil)
	for range 4 {
		a.key(Next)
	}
	a.key(TakeBack)
	a.key(Back)
	require.Len(t, a.marks["a"].Joints, 1)
	require.False(t, a.marks["a"].Joints[0].Address)
}
