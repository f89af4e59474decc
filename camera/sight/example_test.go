package sight_test

import (
	"fmt"

	"drillbay/camera/frame"
	"drillbay/camera/sight"
)

// The near edge of a mat, level in the picture at row 240.
func ExampleEdges() {
	picture := frame.New(640, 360, frame.Sub420)
	for y := range 360 {
		for x := range 640 {
			picture.Y[y*picture.YStride+x] = 60
			if y >= 240 {
				picture.Y[y*picture.YStride+x] = 140
			}
		}
	}
	for _, edge := range sight.Edges([]*frame.Picture{picture}) {
		fmt.Printf("at row %.0f, sure to %.1f px: %v\n", edge.From.V, edge.Sd, edge.Length() > 600)
	}
	// Output: at row 240, sure to 0.2 px: true
}
