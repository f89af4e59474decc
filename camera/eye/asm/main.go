// Command asm writes the eye's kernels for amd64. It is a module of its own:
// the program is built without it. Run "go generate" in camera/eye.
package main

import . "github.com/mmcloughlin/avo/build"

func main() {
	for _, columns := range []int{16, 8} {
		for _, rows := range []int{6, 4, 1} {
			pointwise(rows, columns)
		}
	}
	for _, stride := range []int{1, 2} {
		for _, outputs := range []int{4, 1} {
			depthwise(outputs, stride)
		}
	}
	for _, rows := range []int{16, 8} {
		wide(rows)
	}
	addition()
	weigh()
	turn()
	mix()
	Generate()
}
