package shop

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"batchwright/orders/disk"
)

// Backup copies the file while it is in use. The copy is opened and checked
// before it gets its name; an existing file of that name is refused.
func (s *File) Backup(ctx context.Context, to string) error {
	return s.backup(ctx, to, disk.Files{})
}

func (s *File) backup(ctx context.Context, to string, files disk.Files) error {
	taken := fmt.Errorf("%q already exists: choose another name for the backup", to)
	if _, err := os.Lstat(to); err == nil {
		return taken
	} else if !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("back up to %q: %w", to, err)
	}
	files.Clean(filepath.Dir(to))
	temp, err := files.Temp(filepath.Dir(to))
	if err != nil {
		return fmt.Errorf("back up to %q: %w", to, err)
	}
	defer temp.Remove()
	copied := temp.Path("copy.db")
	if err := s.copyTo(ctx, copied, 0); err != nil {
		return err
	}
	if err := sound(ctx, copied); err != nil {
		return fmt.Errorf("the backup could not be read back: %w", err)
	}
	if err := files.Sync(copied); err != nil {
		return fmt.Errorf("back up to %q: %w", to, err)
	}
	err = files.Place(copied, to)
	if errors.Is(err, fs.ErrExist) {
		return taken
	}
	if err != nil {
		return fmt.Errorf("back up to %q: %w", to, err)
	}
	return nil
}

// copyTo writes one consistent state to a new file that only its owner can
// read, with a page size or its own (0).
func (s *File) copyTo(ctx context.Context, to string, pageSize int) error {
	if err := (disk.Files{}).Create(to, 0o600); err != nil {
		return err
	}
	conn, err := s.db.Conn(ctx)
	if err != nil {
		return s.explain("copy", err)
	}
	defer conn.Close()
	if pageSize > 0 {
		if _, err := conn.ExecContext(ctx, fmt.Sprintf("PRAGMA page_size = %d", pageSize)); err != nil {
			return s.explain("copy", err)
		}
	}
	_, err = conn.ExecContext(ctx, "VACUUM INTO ?", to)
	return s.explain("copy", err)
}

// look opens a shop file of any version that we know to read it, without
// believing anything in it yet.
func look(ctx context.Context, path string) (*File, error) {
	state, err := inspect(ctx, path)
	if err != nil {
		return nil, err
	}
	if state.absent || state.version == 0 {
		return nil, fmt.Errorf("%w: %s is empty", ErrForeign, path)
	}
	return connect(ctx, path, Options{ReadOnly: true})
}

// sound opens a database read-only and goes through all of it.
func sound(ctx context.Context, path string) error {
	s, err := look(ctx, path)
	if err != nil {
		return err
	}
	return errors.Join(s.sound(ctx), s.Close())
}

// sound is the first thing that is wrong with the file.
func (s *File) sound(ctx context.Context) error {
	faults, err := s.Verify(ctx)
	if err == nil && len(faults) > 0 {
		return fmt.Errorf("%w: %s", ErrDamaged, faults[0])
	}
	return err
}

// Verify goes through the whole file: its schema, pages, indexes, foreign keys,
// the numbers of its history and the seals of its rows. It lists what is wrong:
// an empty list is a sound file.
func (s *File) Verify(ctx context.Context) (faults []string, err error) {
	faults, err = s.strange(ctx)
	if err != nil || len(faults) > 0 {
		return faults, err // what is not our schema is not run
	}
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

func (s *File) column(ctx context.Context, query string) ([]string, error) {
	return listOf(ctx, s.db, oneRow[string], query)
}
