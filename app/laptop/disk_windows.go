package laptop

import "golang.org/x/sys/windows"

// freeSpace returns the space that the user may still fill under a folder, bytes.
func freeSpace(folder string) (uint64, error) {
	path, err := windows.UTF16PtrFromString(folder)
	if err != nil {
		return 0, err
	}
	var free uint64
	err = windows.GetDiskFreeSpaceEx(path, &free, nil, nil)
	return free, err
}
