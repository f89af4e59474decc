package ledger

import "syscall"

// errSharing is ERROR_SHARING_VIOLATION of the system.
const errSharing = syscall.Errno(32)

// hold opens a file, made where missing, that nobody else may open until
// release or the program's end.
func hold(path string) (release func() error, err error) {
	name, err := syscall.UTF16PtrFromString(path)
	if err != nil {
		return nil, err
	}
	h, err := syscall.CreateFile(name, syscall.GENERIC_READ|syscall.GENERIC_WRITE, 0, nil, syscall.OPEN_ALWAYS, syscall.FILE_ATTRIBUTE_NORMAL, 0)
	if err == errSharing {
		return nil, errHeld
	}
	if err != nil {
		return nil, err
	}
	return func() error { return syscall.CloseHandle(h) }, nil
}
