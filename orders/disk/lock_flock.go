//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package disk

import (
	"os"
	"syscall"
)

// hold locks a folder until release or the death of the process. A file system
// without locks gives none: then nothing is ever taken for abandoned.
func hold(path string) (*os.File, error) {
	f, err := os.Open(path)
	if err != nil {
		if os.IsNotExist(err) {
			return nil, nil
		}
		return nil, err
	}
	_ = syscall.Flock(int(f.Fd()), syscall.LOCK_EX)
	return f, nil
}

func release(lock *os.File) {
	if lock != nil {
		_ = lock.Close()
	}
}

// abandoned reports whether no process holds what it made.
func abandoned(path string) bool {
	f, err := os.OpenFile(path, os.O_RDONLY|syscall.O_NONBLOCK|syscall.O_NOFOLLOW, 0)
	if err != nil {
		return false
	}
	defer f.Close()
	return syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB) == nil
}
