package disk

import "syscall"

// OpenElsewhere reports whether another program has the file open: then nobody
// else can have it alone.
func OpenElsewhere(path string) bool {
	name, err := syscall.UTF16PtrFromString(path)
	if err != nil {
		return false
	}
	const sharing, locked = syscall.Errno(32), syscall.Errno(33)
	alone, err := syscall.CreateFile(name, syscall.GENERIC_READ, 0, nil, syscall.OPEN_EXISTING, syscall.FILE_ATTRIBUTE_NORMAL, 0)
	if err == nil {
		_ = syscall.CloseHandle(alone)
	}
	return err == sharing || err == locked
}
