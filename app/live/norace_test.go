//go:build !race

package live

const raced = false
