package runner

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"drillbay/camera/frame"
	"drillbay/camera/sight"
)

// mixing is mixed practice of a catch, a strike and an ordinary swing.
func mixing() Command {
	one := Drill{ID: "lead", Name: "Lead arm", Rung: 1, Kind: Catch, MovingStart: true, Reps: 4, Beat: 60, Mixed: "mix"}
	two, three := one, one
	two.ID, two.Name, two.Kind, two.Beat = "strike", "Turn and strike", CatchTurnStrike, 0
	three.ID, three.Name, three.Kind, three.MovingStart, three.Beat = "full", "Ordinary", Ordinary, false, 80
	c := catching(4)
	c.Drill, c.Order = one, []Drill{one, three, two, three}
	return c
}

// finish is the end of a swing with its finish.
func (b *bench) finish(to seer, span sight.Span) {
	b.show(to, sight.Finish, 0.8, func(g *sight.Glance) {
		span.End = g.At
		g.Ended, g.Span = true, span
	})
	b.show(to, sight.Settling, 0.4, nil)
}

func (b *bench) changes() (out []string) {
	for _, m := range b.told {
		if m.Kind == DrillChanged {
			out = append(out, m.Drill.ID)
		}
	}
	return out
}

func TestMixedPracticeChangesTheDrillFromRepToRep(t *testing.T) {
	b := newBench()
	var read []Kind
	found := b.next
	b.next = func(t Take) Analysis { read = append(read, t.Drill.Kind); return found(t) }
	s := NewStepper(b.options())
	s.Order(mixing())
	s.Order(Command{Do: Ready})
	require.Equal(t, []string{"lead"}, b.changes(), "the first is told before it")

	b.address(s)
	require.Equal(t, "Swing it forward", s.Snapshot().Cue)
	span := b.swing(s)
	require.Len(t, s.Snapshot().Reps, 1)
	require.Equal(t, "lead", s.Snapshot().Drill.ID, "the catch is still held")
	b.hold(s, span)
	require.Equal(t, "full", s.Snapshot().Drill.ID)
	require.True(t, s.Snapshot().Beat.Whole)

	b.address(s)
	require.Equal(t, "Swing it back", s.Snapshot().Cue)
	span = b.swing(s)
	require.Len(t, s.Snapshot().Reps, 1, "a pause at the top is no catch")
	b.finish(s, span)
	require.Len(t, s.Snapshot().Reps, 2)
	require.Equal(t, "strike", s.Snapshot().Drill.ID)
	require.False(t, s.Snapshot().Beat.On)

	b.address(s)
	span = b.swing(s)
	require.Len(t, s.Snapshot().Reps, 3)
	b.show(s, sight.Back, 0.2, nil)
	require.Equal(t, "strike", s.Snapshot().Drill.ID, "nothing is said over the strike")
	b.finish(s, span)
	require.Equal(t, "full", s.Snapshot().Drill.ID)

	b.address(s)
	b.finish(s, b.swing(s))
	require.True(t, s.Snapshot().SetDone)
	require.Equal(t, []string{"lead", "full", "strike", "full"}, b.changes(), "after the set no drill is named")
	require.Equal(t, []Kind{Catch, Ordinary, CatchTurnStrike, Ordinary}, read, "each rep is read as what it is")
	for i, id := range []string{"lead", "full", "strike", "full"} {
		require.Equal(t, id, b.saved[i].Drill.ID)
		require.Equal(t, "mix", b.saved[i].Drill.Mixed)
		require.Equal(t, 1, b.saved[i].Set)
		require.Equal(t, i+1, b.saved[i].Rep.Number)
	}

	// The next set goes through the same drills from the first, without an order.
	b.address(s)
	b.swing(s)
	snap := s.Snapshot()
	require.Equal(t, 2, snap.Set)
	require.Equal(t, "lead", b.saved[4].Drill.ID)
}

func TestARepTakenBackOfMixedPracticeIsMadeAgain(t *testing.T) {
	b := newBench()
	s := NewStepper(b.options())
	s.Order(mixing())
	s.Order(Command{Do: Ready})
	b.address(s)
	b.hold(s, b.swing(s))
	require.Equal(t, "full", s.Snapshot().Drill.ID)
	s.Order(Command{Do: TakeBack})
	require.Equal(t, "lead", s.Snapshot().Drill.ID)
	b.next = func(Take) Analysis { return Analysis{Void: true} }
	b.address(s)
	b.hold(s, b.swing(s))
	require.Equal(t, "lead", s.Snapshot().Drill.ID, "nor does what was no rep turn to the next")
}

func TestANewMixedSetBeginsWithItsFirstDrill(t *testing.T) {
	b := newBench()
	s := NewStepper(b.options())
	s.Order(mixing())
	s.Order(Command{Do: Ready})
	b.address(s)
	b.hold(s, b.swing(s))
	s.Order(Command{Do: NewSet})
	require.Equal(t, "lead", s.Snapshot().Drill.ID)
	c := catching(10)
	s.Order(Command{Do: Change, Drill: c.Drill})
	b.address(s)
	b.hold(s, b.swing(s))
	require.Equal(t, c.Drill, s.Snapshot().Drill, "a set of one drill mixes nothing")
}

// slow is a session whose readings wait until they are let go.
type slow struct {
	*bench
	s     *session
	reads []*pending
}

func newSlow(reps int) *slow {
	b := &slow{bench: newBench()}
	b.s = newSession(checked(b.options()))
	b.s.order(catching(reps))
	b.s.order(Command{Do: Ready})
	return b
}

func (b *slow) See(p *frame.Picture, g sight.Glance) { b.s.see(p, g); b.carry() }

func (b *slow) carry() {
	for len(b.s.out) > 0 {
		e := b.s.out[0]
		b.s.out = b.s.out[1:]
		switch {
		case e.tell != nil:
			b.Tell(*e.tell)
		case e.read != nil:
			b.reads = append(b.reads, e.read)
		case e.save != nil:
			b.s.saved(e.save, b.Save(context.Background(), e.save.record))
		}
	}
}

// let lets the oldest reading go; void: it is no rep.
func (b *slow) let(void bool) {
	p := b.reads[0]
	b.reads = b.reads[1:]
	take := b.s.takeOf(p)
	for _, f := range take.Frames {
		f.Release()
	}
	r := b.next(take)
	r.Void = void
	b.s.read(p, r)
	b.carry()
}

func (b *slow) rep() { b.address(b); b.hold(b, b.swing(b)) }

func (b *slow) places() (out []string) {
	for _, r := range b.saved {
		out = append(out, fmt.Sprintf("%d.%d", r.Set, r.Rep.Number))
	}
	return out
}
