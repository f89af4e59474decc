//go:build !windows

package doctor

import "syscall"

// freeSpace is what the user may still write under a folder, bytes.
func freeSpace(folder string) (uint64, error) {
	var s syscall.Statfs_t
	if err := syscall.Statfs(folder, &s); err != nil {
		return 0, err
	}
	return uint64(s.Bavail) * uint64(s.Bsize), nil
}
