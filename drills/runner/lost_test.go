package runner

import (
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/drills"
)

// A rep that loses what its drill watches is told so beside its verdict, and
// counts all the same; in a test on a later day nothing is told.
func TestWhatARepLostOfTheBodyIsToldBesideItsVerdict(t *testing.T) {
	watched := drills.WatchedOf([]drills.Watch{drills.UsualWatch(drills.HeadUp)})
	for name, c := range map[string]struct {
		watched drills.Watched
		later   bool
		body    drills.Body
		want    drills.Loss
	}{
		"lost":           {watched, false, drills.Body{drills.HeadUp: {Value: 12, Sigma: 2}}, drills.Loss{Part: drills.HeadUp, Side: 1}},
		"kept":           {watched, false, drills.Body{drills.HeadUp: {Value: 3, Sigma: 2}}, drills.Loss{}},
		"not read":       {watched, false, drills.Body{}, drills.Loss{}},
		"not watched":    {drills.Watched{}, false, drills.Body{drills.HeadUp: {Value: 12, Sigma: 2}}, drills.Loss{}},
		"on a later day": {watched, true, drills.Body{drills.HeadUp: {Value: 12, Sigma: 2}}, drills.Loss{}},
	} {
		t.Run(name, func(t *testing.T) {
			b := newBench()
			b.next = func(take Take) Analysis {
				r := read(2, drills.Swung)(take)
				r.Rep.Body = c.body
				return r
			}
			s := NewStepper(b.options())
			begin := catching(3)
			begin.Drill.Watched, begin.Drill.Later = c.watched, c.later
			s.Order(begin)
			s.Order(Command{Do: Ready})
			b.address(s)
			b.swing(s)
			last, ok := s.Snapshot().Last()
			require.True(t, ok)
			require.Equal(t, c.want, last.Lost)
			require.True(t, last.Rep.Counts(), "it changes no verdict")
			require.Equal(t, c.body, b.saved[0].Rep.Body, "what was read is stored with the rep")
			s.Close()
		})
	}
}

// A set that was seen face-on has nothing to count: it is done, and no more is said.
func TestASetFaceOnHasNothingToCount(t *testing.T) {
	b := newBench()
	b.next = func(take Take) Analysis {
		r := read(2, drills.Swung)(take)
		r.Rep.ShaftLine, r.Rep.Verdict, r.Rep.Why = drills.None(), drills.NoReading, drills.SeenFaceOn
		return r
	}
	s := NewStepper(b.options())
	s.Order(catching(2))
	s.Order(Command{Do: Ready})
	for range 2 {
		b.address(s)
		b.hold(s, b.swing(s))
	}
	require.True(t, s.Snapshot().SetDone)
	require.Equal(t, "Set done", s.Snapshot().Cue)
	last := b.told[len(b.told)-1]
	require.Equal(t, SetDone, last.Kind)
	require.Zero(t, last.Of)
	s.Close()
}
