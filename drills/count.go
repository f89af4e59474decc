package drills

import "fmt"

// Count is a number of things in words: "1 rep", "3 reps".
func Count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
