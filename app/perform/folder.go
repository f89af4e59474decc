package perform

import (
	"fmt"
	"os"
	"path/filepath"
)

// Folder makes a folder for what a demo leaves: the one named, or the first
// of drillbay-demo, drillbay-demo-2, … that is not there yet.
func Folder(name string) (string, error) {
	if name != "" {
		if err := os.MkdirAll(name, 0o700); err != nil {
			return "", fmt.Errorf("the folder %s cannot be made: %w", name, err)
		}
		return filepath.Abs(name)
	}
	for n := 1; n < 1000; n++ {
		name := "drillbay-demo"
		if n > 1 {
			name = fmt.Sprintf("drillbay-demo-%d", n)
		}
		err := os.Mkdir(name, 0o700)
		if err == nil {
			return filepath.Abs(name)
		}
		if !os.IsExist(err) {
			return "", fmt.Errorf("a folder for the demo cannot be made here: %w", err)
		}
	}
	return "", fmt.Errorf("there are a thousand demo folders here: remove some")
}
