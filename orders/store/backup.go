package store

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// Backup copies the file while it is in use. The copy is opened and checked
// before it gets its name; an existing file of that name is refused.
func (s *Shop) Backup(ctx context.Context, to string) error {
	if _, err := os.Stat(to); err == nil {
		return fmt.Errorf("%q is there already: name another file for the backup", to)
	} else if !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("back up to %q: %w", to, err)
	}
	temp, err := os.MkdirTemp(filepath.Dir(to), ".batchwright-*")
	if err != nil {
		return fmt.Errorf("back up to %q: %w", to, err)
	}
	defer os.RemoveAll(temp)
	copied := filepath.Join(temp, "copy.db")
	if _, err := s.db.ExecContext(ctx, "VACUUM INTO ?", copied); err != nil {
		return s.explain("back up", err)
	}
	if err := sound(ctx, copied); err != nil {
		return fmt.Errorf("the backup could not be read back: %w", err)
	}
	if err := syncFile(copied); err != nil {
		return fmt.Errorf("back up to %q: %w", to, err)
	}
	return place(copied, to)
}

// Restore puts a backup where the shop file is. The backup is checked first;
// the file that was there is kept beside it as .before-restore.
func Restore(ctx context.Context, from, path string) error {
	state, err := inspect(from)
	if err != nil {
		return fmt.Errorf("the backup %s: %w", from, err)
	}
	if state.absent {
		return fmt.Errorf("there is no backup %q", from)
	}
	if err := sound(ctx, from); err != nil {
		return fmt.Errorf("the backup %s: %w", from, err)
	}
	temp, err := copyBeside(from, path)
	if err != nil {
		return fmt.Errorf("restore %s: %w", path, err)
	}
	return swap(temp, path)
}

// swap puts temp in the place of path, and what was there beside it, with its
// log, so that no old log is ever applied to the new file.
func swap(temp, path string) error {
	for _, end := range []string{"", "-wal", "-shm"} {
		old, kept := path+end, path+".before-restore"+end
		if err := remove(kept); err != nil {
			return err
		}
		if err := os.Rename(old, kept); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return errors.Join(fmt.Errorf("restore %s: another program has it open: %w", path, err), remove(temp))
		}
	}
	return place(temp, path)
}

// sound opens a database read-only and goes through all of it.
func sound(ctx context.Context, path string) error {
	s, err := Open(ctx, path, Options{ReadOnly: true})
	if errors.Is(err, ErrOld) {
		return nil // an older backup is brought up to date when it is opened
	}
	if err != nil {
		return err
	}
	faults, err := s.Verify(ctx)
	if len(faults) > 0 {
		err = errors.Join(err, fmt.Errorf("%w: %s", ErrDamaged, faults[0]))
	}
	return errors.Join(err, s.Close())
}

// Verify goes through the whole file: its pages, its indexes, its foreign keys,
// the numbers of its history and the seals of its rows. It lists what is wrong; nothing is a sound file.
func (s *Shop) Verify(ctx context.Context) (faults []string, err error) {
	faults, err = s.column(ctx, "PRAGMA integrity_check(20)")
	if err != nil {
		return nil, s.explain("verify", err)
	}
	if len(faults) == 1 && faults[0] == "ok" {
		faults = nil
	}
	keys, err := s.column(ctx, `SELECT "table" || ' row ' || rowid || ' names a row of ' || "parent" || ' that is not there' FROM pragma_foreign_key_check`)
	if err != nil {
		return nil, s.explain("verify", err)
	}
	gaps, err := s.column(ctx, `SELECT 'the history lacks line ' || (id - 1) FROM history WHERE id > 1 AND NOT EXISTS (SELECT 1 FROM history AS before WHERE before.id = history.id - 1)`)
	if err != nil {
		return nil, s.explain("verify", err)
	}
	faults = append(append(faults, keys...), gaps...)
	if len(faults) > 0 {
		return faults, nil // what is not whole does not add up either
	}
	return s.brokenSeals(ctx)
}

func (s *Shop) column(ctx context.Context, query string) ([]string, error) {
	return list(ctx, s.db, One[string], query)
}

// copyBeside copies from to a new synced file in the folder of path.
func copyBeside(from, path string) (temp string, err error) {
	in, err := os.Open(from)
	if err != nil {
		return "", err
	}
	defer in.Close()
	out, err := os.CreateTemp(filepath.Dir(path), ".batchwright-*")
	if err != nil {
		return "", err
	}
	_, err = io.Copy(out, in)
	if err = errors.Join(err, out.Chmod(modeOf(path)), out.Sync(), out.Close()); err != nil {
		return "", errors.Join(err, remove(out.Name()))
	}
	return out.Name(), nil
}

// modeOf is who may use a file: those who might before it is replaced.
func modeOf(path string) fs.FileMode {
	if info, err := os.Stat(path); err == nil {
		return info.Mode().Perm()
	}
	return 0o644
}

func syncFile(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// place renames a finished file and makes the name last where folders can be
// synced.
func place(temp, path string) error {
	if err := os.Rename(temp, path); err != nil {
		return errors.Join(err, remove(temp))
	}
	folder, err := os.Open(filepath.Dir(path))
	if err != nil {
		return nil // the file itself is synced; not every system opens folders
	}
	defer folder.Close()
	if err := folder.Sync(); err != nil && !errors.Is(err, errors.ErrUnsupported) && !errors.Is(err, fs.ErrInvalid) && !errors.Is(err, fs.ErrPermission) {
		return err
	}
	return nil
}
