package live

import "testing"

// FuzzSizes: the size of the virtual bay's picture is one that can be drawn, or
// it is refused.
func FuzzSizes(f *testing.F) {
	f.Fuzz(func(t *testing.T, size string, rate float64) {
		o := Options{Size: size, Rate: rate}
		if o.Check() != nil {
			return
		}
		w, h := o.Pixels()
		if w < 16 || h < 16 || w > 4096 || h > 4096 || !(rate > 0 && rate <= 1000) {
			t.Fatalf("%d × %d at %v", w, h, rate)
		}
	})
}
