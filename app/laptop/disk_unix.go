//go:build !windows

package laptop

import "syscall"

// freeSpace returns the space that the user may still fill under a folder, bytes.
func freeSpace(folder string) (uint64, error) {
	var s syscall.Statfs_t
	if err := syscall.Statfs(folder, &s); err != nil {
		return 0, err
	}
	return uint64(s.Bavail) * uint64(s.Bsize), nil
}
