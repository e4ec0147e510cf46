package shop

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"modernc.org/sqlite"
	lib "modernc.org/sqlite/lib"
)

// What may be wrong with a shop file. The file is untouched in every case.
var (
	ErrNoFile   = errors.New("there is no shop file yet")
	ErrMissing  = errors.New("the shop file is missing")
	ErrMoved    = errors.New("the shop file was replaced meanwhile and nothing was changed: do it again")
	ErrForeign  = errors.New("this is not a shop file")
	ErrNewer    = errors.New("the shop file was written by a newer version of the program")
	ErrOld      = errors.New("the shop file is from an older version")
	ErrDamaged  = errors.New("the shop file is damaged: restore the newest backup with shop restore")
	ErrReadOnly = errors.New("the shop file or its folder cannot be written")
	ErrFull     = errors.New("the disk is full: nothing was changed; make room and do it again")
	ErrDisk     = errors.New("the disk failed to read or write: it may be full or failing; batchwright shop history says whether the change is there")
	ErrNetwork  = errors.New("the shop file is in a network folder, where two machines can damage it: keep it on this machine and share backups")
	ErrBusy     = errors.New("another program is changing the shop file and did not finish in time: try again")
)

// header is what a database says of itself.
type header struct {
	absent  bool
	id      int
	version int
	empty   bool // no table: a first migration that was interrupted leaves such a file
}

// inspect looks at a file without changing it, so that one that is not ours, or
// from a newer program, is never opened for writing.
func inspect(ctx context.Context, path string) (header, error) {
	if onNetwork(filepath.Dir(path)) {
		return header{}, fmt.Errorf("%w (%s)", ErrNetwork, path)
	}
	h, err := readHeader(path)
	if err == nil && !h.absent && logged(path) {
		h, err = askHeader(ctx, path)
	}
	switch {
	case err != nil || h.absent:
		return h, err
	case h.id != ApplicationID && (h.id != 0 || h.version != 0):
		return header{}, fmt.Errorf("%w: %s belongs to another program", ErrForeign, path)
	case h.id != ApplicationID && !h.empty:
		return header{}, fmt.Errorf("%w: %s is another program's database", ErrForeign, path)
	case h.version > Newest():
		return header{}, usable(h.version)
	}
	return h, nil
}

// readHeader reads the first bytes by hand: they are all there is when the log
// is empty. The schema page's cell count is at byte 103.
func readHeader(path string) (header, error) {
	f, err := os.Open(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return header{absent: true}, nil
	case errors.Is(err, fs.ErrPermission):
		return header{}, fmt.Errorf("%w: %s", ErrReadOnly, path)
	case err != nil:
		return header{}, fmt.Errorf("open shop file: %w", err)
	}
	defer f.Close()
	if info, err := f.Stat(); err != nil || !info.Mode().IsRegular() {
		return header{}, fmt.Errorf("%w: %s is not a file", ErrForeign, path)
	}
	var first [105]byte
	n, err := io.ReadFull(f, first[:])
	switch {
	case n == 0 && errors.Is(err, io.EOF):
		return header{absent: true}, nil // an empty file becomes a shop file
	case string(first[:min(n, 16)]) != "SQLite format 3\x00"[:min(n, 16)]:
		return header{}, fmt.Errorf("%w: %s is not a database", ErrForeign, path)
	case err != nil:
		return header{}, fmt.Errorf("%w: %s is cut short", ErrDamaged, path)
	}
	return header{
		id:      int(binary.BigEndian.Uint32(first[68:])),
		version: int(binary.BigEndian.Uint32(first[60:])),
		empty:   first[103] == 0 && first[104] == 0,
	}, nil
}

// askHeader asks SQLite, which reads the log too.
func askHeader(ctx context.Context, path string) (h header, err error) {
	s, err := connect(ctx, path, Options{ReadOnly: true})
	if err != nil {
		return h, err
	}
	row := s.db.QueryRowContext(ctx, `SELECT application_id, user_version, NOT EXISTS (SELECT 1 FROM sqlite_schema)
		FROM pragma_application_id, pragma_user_version`)
	err = s.explain("read", row.Scan(&h.id, &h.version, &h.empty))
	return h, errors.Join(err, s.Close())
}

// explain says what a database error means for the person at the screen.
func (s *File) explain(doing string, err error) error {
	if err == nil {
		return nil
	}
	var e *sqlite.Error
	if !errors.As(err, &e) {
		return err
	}
	if e.Code() == lib.SQLITE_IOERR_SHMSIZE { // no room for the index of the log
		return fmt.Errorf("%s %s: %w", doing, s.path, ErrFull)
	}
	switch e.Code() & 0xff {
	case lib.SQLITE_CORRUPT, lib.SQLITE_NOTADB:
		return fmt.Errorf("%s %s: %w (%v)", doing, s.path, ErrDamaged, err)
	case lib.SQLITE_FULL:
		return fmt.Errorf("%s %s: %w", doing, s.path, ErrFull)
	case lib.SQLITE_IOERR:
		return fmt.Errorf("%s %s: %w (%v)", doing, s.path, ErrDisk, err)
	case lib.SQLITE_READONLY, lib.SQLITE_CANTOPEN, lib.SQLITE_PERM:
		return fmt.Errorf("%s %s: %w (%v)", doing, s.path, ErrReadOnly, err)
	case lib.SQLITE_BUSY, lib.SQLITE_LOCKED:
		return fmt.Errorf("%s %s: %w", doing, s.path, ErrBusy)
	}
	return fmt.Errorf("%s %s: %w", doing, s.path, err)
}
