package lens_test

import (
	"fmt"

	"drillbay/camera/lens"
)

// A level club whose head is 10 cm nearer the player than the hands: the hands
// are seen 2.7 m from the lens, the head where the camera projects it.
func ExampleView_Reading() {
	view, err := lens.NewView(lens.Camera{Width: 1280, Height: 720, Focal: 914, Target: lens.Point{U: 640, V: 360}})
	if err != nil {
		fmt.Println(err)
		return
	}
	hands := lens.Vec{X: 2.7, Y: 0.05, Z: 0.1}
	head := hands.Add(lens.Direction(6.75, 0).Mul(0.85))
	a, _ := view.Project(hands)
	b, _ := view.Project(head)
	line, elevation, ok := view.Reading(lens.Club{Hands: a, Head: b, Forward: hands.X, Reach: 0.85})
	fmt.Printf("%.2f° inside, %.2f m at the head, %.0f° above level, %v\n", line, head.Y-hands.Y, elevation, ok)
	// Output: 6.75° inside, 0.10 m at the head, 0° above level, true
}
