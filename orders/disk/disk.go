// Package disk writes files whole or not at all: beside the target, synced,
// then renamed. What a killed process leaves is recognized and removed at the
// next start. It knows no file format and no command.
package disk

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// Files is the file system. The zero value is the real one; a test sets Before
// to make one call fail, or to die at it.
type Files struct {
	Before func(call, path string) error // called before each change; its error is the call's
}

func (f Files) before(call, path string) error {
	if f.Before == nil {
		return nil
	}
	if err := f.Before(call, path); err != nil {
		return &fs.PathError{Op: call, Path: path, Err: err}
	}
	return nil
}

// Create makes a new file; it fails when there is one of that name.
func (f Files) Create(path string, mode fs.FileMode) error {
	if err := f.before("create", path); err != nil {
		return err
	}
	file, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, mode)
	if err != nil {
		return err
	}
	return file.Close()
}

// Remove deletes a file that may not be there.
func (f Files) Remove(path string) error {
	if err := f.before("remove", path); err != nil {
		return err
	}
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// Rename gives a finished file its name and makes the name last.
func (f Files) Rename(from, to string) error {
	if err := f.before("rename", to); err != nil {
		return err
	}
	if err := os.Rename(from, to); err != nil {
		return err
	}
	return f.syncFolder(filepath.Dir(to))
}

// Place renames a finished file to a name that nobody has: an existing file is
// never replaced. The error is fs.ErrExist when there is one.
func (f Files) Place(from, to string) error {
	info, err := os.Stat(from)
	if err != nil {
		return err
	}
	if err := f.Create(to, info.Mode().Perm()); err != nil {
		return err
	}
	if err := f.Rename(from, to); err != nil {
		return errors.Join(err, f.removeEmpty(to))
	}
	return nil
}

// removeEmpty takes back a name that was reserved and not used.
func (f Files) removeEmpty(path string) error {
	if info, err := os.Stat(path); err != nil || info.Size() > 0 {
		return nil
	}
	return f.Remove(path)
}

// Sync makes a file's content last.
func (f Files) Sync(path string) error {
	if err := f.before("sync", path); err != nil {
		return err
	}
	file, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(file.Sync(), file.Close())
}

// syncFolder makes names last where folders can be synced.
func (f Files) syncFolder(folder string) error {
	if err := f.before("sync", folder); err != nil {
		return err
	}
	d, err := os.Open(folder)
	if err != nil {
		return nil // the file itself is synced; not every system opens folders
	}
	defer d.Close()
	err = d.Sync()
	for _, harmless := range []error{errors.ErrUnsupported, fs.ErrInvalid, fs.ErrPermission} {
		if errors.Is(err, harmless) {
			return nil
		}
	}
	return err
}

// Write makes a new file of what it is given and syncs it.
func (f Files) Write(path string, content io.Reader, mode fs.FileMode) (err error) {
	if err := f.before("create", path); err != nil {
		return err
	}
	file, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, mode)
	if err != nil {
		return err
	}
	if err = f.before("write", path); err == nil {
		_, err = io.Copy(file, content)
	}
	if err == nil {
		if err = f.before("sync", path); err == nil {
			err = file.Sync()
		}
	}
	return errors.Join(err, file.Close())
}

// Mode is who may use a file: its own mode when it is there, else what is given.
func Mode(path string, otherwise fs.FileMode) fs.FileMode {
	if info, err := os.Stat(path); err == nil && info.Mode().IsRegular() {
		return info.Mode().Perm()
	}
	return otherwise
}

// Real follows symbolic links to the file that a write would reach; a link to
// a file that is not there yet leads to that name.
func Real(path string) string {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		return real
	}
	if to, err := os.Readlink(path); err == nil {
		if !filepath.IsAbs(to) {
			to = filepath.Join(filepath.Dir(path), to)
		}
		return to
	}
	return path
}

// Replace makes a file hold new content, whole or not at all: a reader finds
// the old content or the new one. It follows symbolic links, and a file that
// was there keeps its mode.
func (f Files) Replace(path string, content io.Reader, mode fs.FileMode) error {
	return f.prepare(path, content, mode, f.Rename)
}

// New makes a file that must not be there yet, whole or not at all.
func (f Files) New(path string, content io.Reader, mode fs.FileMode) error {
	return f.prepare(path, content, mode, f.Place)
}

func (f Files) prepare(path string, content io.Reader, mode fs.FileMode, finish func(from, to string) error) error {
	path = Real(path)
	f.Clean(filepath.Dir(path))
	temp, err := f.Temp(filepath.Dir(path))
	if err != nil {
		return err
	}
	defer temp.Remove()
	written := temp.Path("new")
	if err := f.Write(written, content, mode); err != nil {
		return err
	}
	if old, err := os.Stat(path); err == nil {
		if err := os.Chmod(written, old.Mode().Perm()); err != nil {
			return err
		}
	}
	return finish(written, path)
}
