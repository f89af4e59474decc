//go:build !race

package measure

const raced = false
