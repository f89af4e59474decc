package rep_test

import (
	"fmt"
	"math"

	"drillbay/drills/rep"
)

// One smooth movement of a second, seen 60 times a second, is smoother than two
// in a row.
func ExampleSPARC() {
	one, two := make([]float64, 61), make([]float64, 61)
	for i := range one {
		one[i] = math.Pow(math.Sin(math.Pi*float64(i)/60), 2)
		two[i] = math.Pow(math.Sin(2*math.Pi*float64(i)/60), 2)
	}
	fmt.Printf("%.1f %.1f\n", rep.SPARC(one, 60), rep.SPARC(two, 60))
	// Output: -1.4 -2.3
}
