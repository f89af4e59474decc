package card

import "os"

// Hush does nothing here: the system's libraries write nothing to a terminal.
func Hush() (own *os.File, restore func()) { return os.Stderr, func() {} }
