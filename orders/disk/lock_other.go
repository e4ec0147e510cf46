//go:build !(linux || darwin || freebsd || netbsd || openbsd || dragonfly)

package disk

import (
	"os"
	"path/filepath"
	"time"
)

const lockName = "lock"

// hold keeps a file in the folder open: an open file cannot be deleted here.
func hold(path string) (*os.File, error) {
	f, err := os.Create(filepath.Join(path, lockName))
	if os.IsNotExist(err) {
		return nil, nil
	}
	return f, err
}

func release(lock *os.File) {
	if lock != nil {
		_ = lock.Close()
	}
}

// abandoned reports whether no process holds what it made. A folder of the last
// minute may not have its lock yet.
func abandoned(path string) bool {
	info, err := os.Stat(path)
	if err != nil || time.Since(info.ModTime()) < time.Minute {
		return false
	}
	err = os.Remove(filepath.Join(path, lockName))
	return err == nil || os.IsNotExist(err)
}
