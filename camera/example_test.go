package camera_test

import (
	"fmt"
	"time"

	"drillbay/camera"
)

// Pictures of a camera that takes 30 a second arrive late, each third by 8 ms. The
// fit finds when they were taken.
func ExampleFit() {
	var fit camera.Fit
	fit.Reset(time.Second / 30)
	var last time.Duration
	for i := range 91 {
		arrival := time.Duration(i) * time.Second / 30
		if i%3 == 1 {
			arrival += 8 * time.Millisecond
		}
		last = fit.Add(arrival)
	}
	fmt.Println(last.Round(time.Millisecond), fit.Period().Round(10*time.Microsecond), fit.Drops())
	// Output: 3s 33.33ms 0
}
