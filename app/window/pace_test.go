package window

import (
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"
)

func TestAnUpdateWaitsUntilThereIsSomethingToDo(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := newPace()
		next := func(input, waiting bool) (step bool, took time.Duration) {
			at := time.Now()
			step = p.next(input, waiting)
			return step, time.Since(at)
		}
		expect := func(step bool, took time.Duration, input, waiting bool, why string) {
			t.Helper()
			s, d := next(input, waiting)
			require.Equal(t, step, s, why)
			require.Equal(t, took, d, why)
		}
		expect(true, 0, true, false, "what the user did acts at once")
		expect(false, alert, false, false, "and more of it is looked for often")
		expect(false, soon, false, true, "soon, where something waits for the next update")
		p.again(0.010)
		expect(true, 10*time.Millisecond, false, false, "the screen changes by itself")
		p.again(0)
		time.Sleep(alertly)
		p.next(false, false)
		expect(false, atEase, false, false, "nobody does anything")
		go func() {
			time.Sleep(7 * time.Millisecond)
			p.hurry()
		}()
		expect(true, 7*time.Millisecond, false, false, "something came from outside")
		p.hurry()
		p.hurry()
		expect(true, 0, false, false, "before it waits")
		expect(false, atEase, false, false, "twice is once")
		p.again(5)
		time.Sleep(6 * time.Second)
		expect(true, 0, false, false, "what was due before is done at once")
	})
}
