package shop

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"modernc.org/sqlite"

	"batchwright/orders/disk"
)

// Restoring is a backup to put in the place of a shop file.
type Restoring struct {
	From, Path string
	Who        string           // for the history
	Now        func() time.Time // nil: time.Now
	DryRun     bool             // only check the backup

	files disk.Files
	open  []*os.File // closed last: closing one would drop SQLite's locks on it
}

// Restored is what a restore left, also when it failed.
type Restored struct {
	Kept string // the numbered copy of what was there before; empty: none was made
	Done bool   // the shop file now holds the backup
}

// Restore makes the shop file what a backup holds. It prepares everything
// first: a checked copy of the backup, brought up to date. Then, under the
// write lock of the shop file, it copies what is there to a new numbered file
// and replaces the content in one transaction. Other programs finish before or
// see the new state.
func Restore(ctx context.Context, r Restoring) (Restored, error) {
	if r.Now == nil {
		r.Now = time.Now
	}
	r.Path = disk.Real(r.Path)
	if err := r.sensible(ctx); err != nil {
		return Restored{}, err
	}
	if err := os.MkdirAll(filepath.Dir(r.Path), 0o755); err != nil {
		return Restored{}, fmt.Errorf("make the folder of the shop file: %w", err)
	}
	temp, err := r.files.Temp(filepath.Dir(r.Path))
	if err != nil {
		return Restored{}, fmt.Errorf("restore %s: %w", r.Path, err)
	}
	defer temp.Remove()
	defer r.close()
	staged := temp.Path("staged.db")
	mark, err := r.stage(ctx, staged)
	if err != nil || r.DryRun {
		return Restored{}, err
	}
	kept, err := r.replace(ctx, temp, staged)
	if err != nil {
		return Restored{Kept: kept, Done: r.holds(ctx, mark)}, err
	}
	return Restored{Kept: kept, Done: true}, nil
}

func (r *Restoring) close() {
	for _, f := range r.open {
		_ = f.Close()
	}
}

// sensible refuses what no restore can mean.
func (r *Restoring) sensible(ctx context.Context) error {
	from, err := os.Stat(r.From)
	if errors.Is(err, os.ErrNotExist) {
		return fmt.Errorf("there is no backup %q", r.From)
	}
	if err != nil {
		return fmt.Errorf("the backup %s: %w", r.From, err)
	}
	if !from.Mode().IsRegular() {
		return fmt.Errorf("the backup %s is not a file", r.From)
	}
	to, err := os.Stat(r.Path)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil
	case err != nil:
		return fmt.Errorf("restore %s: %w", r.Path, err)
	case !to.Mode().IsRegular():
		return fmt.Errorf("%s is not a file: nothing is restored there", r.Path)
	case os.SameFile(from, to):
		return fmt.Errorf("%s is the shop file itself: name a backup", r.From)
	}
	_, err = inspect(ctx, r.Path)
	if errors.Is(err, ErrNewer) || errors.Is(err, ErrNetwork) {
		return err
	}
	if isWorkbook(r.Path) {
		return fmt.Errorf("%w: %s is a workbook; name the shop file with --shop", ErrForeign, r.Path)
	}
	return nil
}

// isWorkbook reports whether a file is a zip archive: an order, not a damaged
// shop file.
func isWorkbook(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	var first [4]byte
	_, err = io.ReadFull(f, first[:])
	return err == nil && string(first[:]) == "PK\x03\x04"
}

// stage makes a checked copy of the backup, up to date, with its line in the
// history. The line is returned: it tells the new state from the old one.
func (r *Restoring) stage(ctx context.Context, staged string) (mark Entry, err error) {
	from, err := look(ctx, r.From)
	if err != nil {
		return mark, fmt.Errorf("the backup %s: %w", r.From, err)
	}
	err = errors.Join(from.sound(ctx), from.copyTo(ctx, staged, r.pageSize(ctx)), from.Close())
	if err != nil {
		return mark, fmt.Errorf("the backup %s: %w", r.From, err)
	}
	s, err := Open(ctx, staged, Options{Now: r.Now})
	if err != nil {
		return mark, err
	}
	err = s.update(ctx, r.Who, func(*Tx) (string, error) {
		return "shop restore of " + filepath.Base(r.From), nil
	}, (*recorder).restored)
	if err == nil {
		mark, err = s.last(ctx)
	}
	if err = errors.Join(err, s.sound(ctx), s.Close()); err != nil {
		return mark, err
	}
	if logged(staged) { // closing could not bring everything into the one file
		return mark, fmt.Errorf("restore %s: %w", r.Path, ErrDisk)
	}
	return mark, r.files.Sync(staged)
}

// pageSize is that of the shop file: a database keeps the size it has.
func (r *Restoring) pageSize(ctx context.Context) int {
	size := 4096
	if s, err := look(ctx, r.Path); err == nil {
		_ = s.db.QueryRowContext(ctx, "PRAGMA page_size").Scan(&size)
		_ = s.Close()
	}
	return size
}

// last is the newest line of the history.
func (s *File) last(ctx context.Context) (e Entry, err error) {
	err = s.View(ctx, func(tx *Tx) error {
		list, err := tx.History(1)
		if err == nil && len(list) > 0 {
			e = list[0]
		}
		return err
	})
	return e, err
}

// holds reports whether the shop file holds what was restored.
func (r *Restoring) holds(ctx context.Context, mark Entry) bool {
	s, err := look(ctx, r.Path)
	if err != nil {
		return false
	}
	defer s.Close()
	last, err := s.last(ctx)
	return err == nil && last == mark
}

// replace puts the staged file in the place of the shop file.
func (r *Restoring) replace(ctx context.Context, temp *disk.Temp, staged string) (kept string, err error) {
	if err := r.begin(); err != nil {
		return "", err
	}
	kept, err = r.inPlace(ctx, temp, staged)
	if errors.Is(err, ErrDamaged) {
		return r.rename(staged)
	}
	return kept, err
}

// begin makes the file when there is none, so that nobody else can read it.
func (r *Restoring) begin() error {
	err := r.files.Create(r.Path, 0o600)
	if errors.Is(err, os.ErrExist) {
		return nil
	}
	return err
}

// restorer is what the driver offers beneath database/sql.
type restorer interface {
	NewRestore(source string) (*sqlite.Backup, error)
}

// inPlace replaces the content in one transaction, through SQLite's backup API.
func (r *Restoring) inPlace(ctx context.Context, temp *disk.Temp, staged string) (kept string, err error) {
	db, err := sql.Open("sqlite", dsn(r.Path, false))
	if err != nil {
		return "", fmt.Errorf("restore %s: %w", r.Path, err)
	}
	s := &File{path: r.Path, db: db, now: r.Now}
	conn, err := db.Conn(ctx)
	if err != nil {
		return "", errors.Join(s.explain("restore", err), db.Close())
	}
	err = conn.Raw(func(c any) error {
		b, err := c.(restorer).NewRestore(dsn(staged, true))
		if err != nil {
			return s.explain("restore", err)
		}
		if _, err = b.Step(0); err == nil { // takes the write lock and copies nothing yet
			kept, err = r.keep(ctx, temp)
		}
		if err == nil {
			_, err = b.Step(-1)
		}
		if ended := b.Finish(); err == nil {
			err = ended
		}
		return s.explain("restore", err)
	})
	return kept, errors.Join(err, s.explain("restore", errors.Join(conn.Close(), db.Close())))
}

// keep copies what is there to a new numbered file. The write lock is held.
func (r *Restoring) keep(ctx context.Context, temp *disk.Temp) (string, error) {
	old, err := connect(ctx, r.Path, Options{ReadOnly: true})
	if err != nil {
		return "", err
	}
	defer old.Close()
	var tables int
	if err := old.db.QueryRowContext(ctx, "SELECT count(*) FROM sqlite_schema").Scan(&tables); err == nil && tables == 0 {
		return "", nil // nothing is there
	}
	copied := temp.Path("before.db")
	err = old.copyTo(ctx, copied, 0)
	if errors.Is(err, ErrDamaged) {
		return r.keepBytes()
	}
	if err == nil {
		err = os.Chmod(copied, disk.Mode(r.Path, 0o600))
	}
	if err == nil {
		err = r.files.Sync(copied)
	}
	if err != nil {
		return "", err
	}
	return r.numbered(func(name string) error { return r.files.Place(copied, name) })
}

// keepBytes copies a file that SQLite cannot read, with its log.
func (r *Restoring) keepBytes() (string, error) {
	return r.numbered(func(name string) error {
		if logged(r.Path) {
			if err := r.copyBytes(r.Path+"-wal", name+"-wal"); err != nil {
				return err
			}
		}
		return r.copyBytes(r.Path, name)
	})
}

func (r *Restoring) copyBytes(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	r.open = append(r.open, in)
	return r.files.Write(to, in, disk.Mode(r.Path, 0o600))
}

// numbered makes a file under the next free number.
func (r *Restoring) numbered(place func(name string) error) (string, error) {
	for n := nextCopy(r.Path); ; n++ {
		name := fmt.Sprintf("%s%s%d", r.Path, before, n)
		err := place(name)
		if errors.Is(err, os.ErrExist) {
			continue
		}
		if err != nil {
			return "", fmt.Errorf("keep what is there as %s: %w", name, err)
		}
		return name, nil
	}
}

// rename replaces a file that SQLite cannot read. Its log goes first: no old
// log may ever be applied to the new file.
func (r *Restoring) rename(staged string) (string, error) {
	kept, err := r.keepBytes()
	if err != nil {
		return "", err
	}
	if err := os.Chmod(staged, disk.Mode(r.Path, 0o600)); err != nil {
		return kept, err
	}
	for _, end := range []string{"-wal", "-shm", "-journal"} {
		if err := r.files.Remove(r.Path + end); err != nil {
			return kept, err
		}
	}
	return kept, r.files.Rename(staged, r.Path)
}
