package disk

import (
	"os"
	"path/filepath"
)

// pattern names the folders in which files are prepared.
const pattern = ".batchwright-*"

// Temp is a folder for files that are not finished. It is locked while this
// process has it, so that only what a dead process left is cleaned up.
type Temp struct {
	files  Files
	folder string
	lock   *os.File
}

// Temp makes a folder inside another one: a finished file leaves it by renaming.
func (f Files) Temp(inside string) (*Temp, error) {
	for {
		if err := f.before("create", inside); err != nil {
			return nil, err
		}
		folder, err := os.MkdirTemp(inside, pattern)
		if err != nil {
			return nil, err
		}
		lock, err := hold(folder)
		if err != nil {
			return nil, err
		}
		if _, err := os.Stat(folder); err == nil {
			return &Temp{f, folder, lock}, nil
		}
		release(lock) // another process cleaned up between the two calls: again
	}
}

// Path names a file in the folder.
func (t *Temp) Path(name string) string { return filepath.Join(t.folder, name) }

// Remove removes the folder and what is left in it. An error is no harm: the
// next start cleans up.
func (t *Temp) Remove() {
	if t.files.before("remove", t.folder) != nil {
		release(t.lock)
		return
	}
	release(t.lock)
	_ = os.RemoveAll(t.folder)
}

// Clean removes what killed processes left in a folder.
func (f Files) Clean(folder string) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return
	}
	for _, e := range entries {
		path := filepath.Join(folder, e.Name())
		if ours, _ := filepath.Match(pattern, e.Name()); ours && abandoned(path) {
			_ = os.RemoveAll(path)
		}
	}
}
