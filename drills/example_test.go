package drills_test

import (
	"fmt"

	"drillbay/drills"
)

// A shaft 11° inside, sure to 1.5°, with a band of 8° each way.
func ExampleJudge() {
	verdict, just := drills.Judge(drills.Reading{Value: 11, Sigma: 1.5}, drills.Band)
	fmt.Println(verdict, just)
	verdict, just = drills.Judge(drills.Reading{Value: 9, Sigma: 1.5}, drills.Band)
	fmt.Println(verdict, just)
	// Output:
	// inside false
	// inside true
}

// Nine of ten reps count: in the long run that is more than half of them.
func ExampleShare_Bounds() {
	low, high := drills.Share{Good: 9, Of: 10}.Bounds()
	fmt.Printf("%.3f to %.3f\n", low, high)
	// Output: 0.596 to 0.982
}
