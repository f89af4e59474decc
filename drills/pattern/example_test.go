package pattern_test

import (
	"fmt"

	"drillbay/drills"
	"drillbay/drills/pattern"
)

// Ten reps whose club was placed at the catch, not swung into it.
func ExampleOf() {
	var reps []pattern.Rep
	for i := range 10 {
		r := pattern.Rep{Rep: drills.Rep{Number: i + 1, Manner: drills.Placed, Verdict: drills.InLine, ShaftLine: drills.Reading{Value: 2, Sigma: 1}}}
		reps = append(reps, r)
	}
	for _, found := range pattern.Of(reps, pattern.Beside{}).Causes {
		fmt.Println(found.Cause)
		fmt.Println(found.Evidence[0])
	}
	// Output:
	// stopped and placed
	// 10 of 10 placed, not swung (95 % between 72 and 100 %).
}
