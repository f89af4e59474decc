package measure_test

import (
	"fmt"

	"drillbay/drills/measure"
)

// What is known of a bay is checked before anything is measured.
func ExampleBay_Known() {
	bay := measure.Bay{Width: 1280, Height: 720, Field: 70, Distance: 3.2, Club: 0.94, Grip: 0.09}
	known, err := bay.Known()
	fmt.Printf("%.2f m from hands to head, sure to %.0f cm of distance, %v\n", known.Setting.Reach, 100*known.Distance, err)
	bay.Club = 1.3
	_, err = bay.Known()
	fmt.Println(err)
	// Output:
	// 0.85 m from hands to head, sure to 6 cm of distance, <nil>
	// the bay cannot be as given: a club of 1.3 m; clubs are 0.4572 to 1.219 m long
}
