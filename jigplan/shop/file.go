// Package shop is the shop file: one SQLite database with the rack, the jobs
// and their plans, quotes, sales, settings, tools, logs and the weeks given
// out. It is the one package that knows SQL.
//
// Normal use has three steps. Open the file. Read with View or change with
// Update, which run a function in one transaction (a Tx). In that function call
// the verbs: Accept, ChangeJob, FinishJob and CancelJob for jobs, PutBoards and
// Reserve for the rack, SetSetting, KeepQuote, AddTime and so on; each takes
// the Tx and does the whole of its work in it. Backup, Restore and Verify care
// for the file itself.
//
// Files are named after what they hold: file*, backup*, restore, migrate,
// schema and seal are about the file; rack*, job*, quotes, sales, settings*,
// tools, times and weeks are a table each; accept and finish compose them. It
// leaves planning to plan and the words on the screen to cmd.
package shop

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"time"

	_ "modernc.org/sqlite" // the driver

	"batchwright/orders/disk"
)

// ApplicationID marks a shop file in the database header: "BWRT".
const ApplicationID = 0x42575254

// File is an open shop file. Several programs may have it open at once.
type File struct {
	path string
	file os.FileInfo // as it was opened
	db   *sql.DB
	now  func() time.Time
}

// Options is how a shop file is opened.
type Options struct {
	Now       func() time.Time // the clock that dates the history; nil: time.Now
	ReadOnly  bool             // never create, migrate or change
	MustExist bool             // never create
}

// Open opens the shop file, makes it when there is none, and brings an older
// one up to date. What cannot be used is named and left untouched: see the
// Err values.
func Open(ctx context.Context, path string, opt Options) (*File, error) {
	if path == inMemory {
		return nil, fmt.Errorf("%w: %s is not a file; name a file", ErrForeign, path)
	}
	path = disk.Real(path)
	disk.Files{}.Clean(filepath.Dir(path))
	state, err := inspect(ctx, path)
	if err != nil {
		return nil, err
	}
	if state.absent || state.version == 0 {
		if err := Missing(path); err != nil {
			return nil, err
		}
	}
	if state.absent && (opt.ReadOnly || opt.MustExist) {
		return nil, fmt.Errorf("%w: %s", ErrNoFile, path)
	}
	if state.absent {
		if err := create(path); err != nil {
			return nil, err
		}
	}
	s, err := connect(ctx, path, opt)
	if err != nil {
		return nil, err
	}
	if err := s.prepare(ctx, opt.ReadOnly); err != nil {
		return nil, errors.Join(err, s.Close())
	}
	return s, nil
}

// inMemory is SQLite's name for a database that is no file.
const inMemory = ":memory:"

// create makes an empty file that only its owner can read.
func create(path string) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return fmt.Errorf("make the folder of the shop file: %w", err)
	}
	err := disk.Files{}.Create(path, 0o600)
	switch {
	case errors.Is(err, fs.ErrExist):
		return nil
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%w: %s", ErrReadOnly, path)
	case err != nil:
		return fmt.Errorf("make the shop file: %w", err)
	}
	return nil
}

// connect opens a file whose version may be any.
func connect(ctx context.Context, path string, opt Options) (*File, error) {
	s, err := connectTo(ctx, path, dsn(path, opt.ReadOnly), opt)
	if opt.ReadOnly && errors.Is(err, ErrReadOnly) && !logged(path) {
		// The folder cannot be written, so nobody can be changing the file in it.
		return connectTo(ctx, path, dsn(path, true)+"&immutable=1", opt)
	}
	return s, err
}

func connectTo(ctx context.Context, path, source string, opt Options) (*File, error) {
	if opt.Now == nil {
		opt.Now = time.Now
	}
	db, err := sql.Open("sqlite", source)
	if err != nil {
		return nil, fmt.Errorf("open shop file %s: %w", path, err)
	}
	s := &File{path: path, db: db, now: opt.Now}
	s.file, _ = os.Stat(path)
	if _, err := s.version(ctx); err != nil {
		return nil, errors.Join(err, db.Close())
	}
	return s, nil
}

// version is the file's version, read through SQLite: it may be in the log only.
func (s *File) version(ctx context.Context) (n int, err error) {
	return n, s.explain("read", s.db.QueryRowContext(ctx, "PRAGMA user_version").Scan(&n))
}

// logged reports whether there are changes in the log that may not be in the
// file yet.
func logged(path string) bool {
	info, err := os.Stat(path + "-wal")
	return err == nil && info.Size() > 0
}

// dsn asks for immediate transactions (a deferred one that reads before it
// writes fails at once when another writes), foreign keys, and a commit that
// has reached the disk before it is acknowledged.
func dsn(path string, readOnly bool) string {
	q := url.Values{}
	q.Set("_txlock", "immediate")
	for _, pragma := range []string{"busy_timeout(10000)", "foreign_keys(1)", "synchronous(2)"} {
		q.Add("_pragma", pragma)
	}
	if readOnly {
		q.Set("mode", "ro")
		q.Set("_txlock", "deferred")
	} else {
		q.Add("_pragma", "journal_mode(WAL)")
	}
	return "file:" + (&url.URL{Path: filepath.ToSlash(path)}).EscapedPath() + "?" + q.Encode()
}

// prepare migrates, and makes sure that the file can be used as it is.
func (s *File) prepare(ctx context.Context, readOnly bool) error {
	if !readOnly {
		return s.migrate(ctx)
	}
	version, err := s.version(ctx)
	if err != nil {
		return err
	}
	return usable(version)
}

// usable says why a file of another version is not used.
func usable(version int) error {
	switch {
	case version > Newest():
		return fmt.Errorf("%w: version %d, this program knows %d; use the newer program", ErrNewer, version, Newest())
	case version < Newest():
		return fmt.Errorf("%w: version %d, this program writes %d; open it once for writing", ErrOld, version, Newest())
	}
	return nil
}

// Path is where the file lies.
func (s *File) Path() string { return s.path }

// Close ends the use of the file.
func (s *File) Close() error {
	if err := s.db.Close(); err != nil {
		return fmt.Errorf("close shop file: %w", err)
	}
	return nil
}

// Tx is one transaction. Everything a command changes goes through one Tx, so
// that it is there whole or not at all.
type Tx struct {
	*sql.Tx
	Now      time.Time // when the change is made
	prepared map[string]*sql.Stmt
}

func newTx(tx *sql.Tx, now time.Time) *Tx { return &Tx{tx, now.UTC(), map[string]*sql.Stmt{}} }

// Exec carries out one statement. It is prepared once a transaction: a rack of
// thousands of boards is written a board at a time.
func (t *Tx) Exec(query string, args ...any) (sql.Result, error) {
	stmt := t.prepared[query]
	if stmt == nil {
		var err error
		if stmt, err = t.Prepare(query); err != nil {
			return nil, err
		}
		t.prepared[query] = stmt
	}
	return stmt.Exec(args...)
}

// beginner is the database, or one connection to it.
type beginner interface {
	BeginTx(ctx context.Context, opt *sql.TxOptions) (*sql.Tx, error)
}

// begin begins a transaction on a file that is still the one that was opened,
// of the version that this program knows: another process may have restored or
// migrated it meanwhile.
func (s *File) begin(ctx context.Context, db beginner, readOnly bool) (*sql.Tx, error) {
	tx, err := db.BeginTx(ctx, &sql.TxOptions{ReadOnly: readOnly})
	if err != nil {
		return nil, err
	}
	var version int
	if err = tx.QueryRowContext(ctx, "PRAGMA user_version").Scan(&version); err == nil {
		err = usable(version)
	}
	if now, gone := os.Stat(s.path); err == nil && !readOnly && (gone != nil || !os.SameFile(now, s.file)) {
		err = fmt.Errorf("%w: %s", ErrMoved, s.path)
	}
	if err != nil {
		return nil, errors.Join(err, ignoreDone(tx.Rollback()))
	}
	return tx, nil
}

// Update carries out one change and says in words what it was; empty words mean
// that nothing needed changing. When do returns an error, or the process dies,
// nothing of it is in the file. The history gets a line in the same commit.
func (s *File) Update(ctx context.Context, who string, do func(*Tx) (what string, err error)) error {
	return s.update(ctx, who, do, (*recorder).keep)
}

func (s *File) update(ctx context.Context, who string, do func(*Tx) (what string, err error),
	keep func(r *recorder, t *Tx, line int64) error) error {
	record, tx, end, err := s.recording(ctx)
	if err != nil {
		return s.explain("begin a change of", err)
	}
	defer func() { _ = end() }()
	t := newTx(tx, s.now())
	what, err := do(t)
	if err == nil && what != "" {
		var line int64
		if line, err = t.history(who, what); err == nil {
			err = keep(record, t, line)
		}
	}
	if err != nil || what == "" {
		return errors.Join(s.explain("change", err), ignoreDone(tx.Rollback()))
	}
	if err := tx.Commit(); err != nil {
		return errors.Join(s.explain("commit a change of", err), ignoreDone(tx.Rollback()))
	}
	return nil
}

// Try carries a change out and takes it back: what --dry-run shows.
func (s *File) Try(ctx context.Context, do func(*Tx) (what string, err error)) error {
	tx, err := s.begin(ctx, s.db, false)
	if err != nil {
		return s.explain("begin a trial on", err)
	}
	_, err = do(newTx(tx, s.now()))
	return errors.Join(s.explain("try a change on", err), ignoreDone(tx.Rollback()))
}

// View reads one consistent state of the file.
func (s *File) View(ctx context.Context, do func(*Tx) error) error {
	tx, err := s.begin(ctx, s.db, true)
	if err != nil {
		return s.explain("read", err)
	}
	err = do(newTx(tx, s.now()))
	return errors.Join(s.explain("read", err), ignoreDone(tx.Rollback()))
}

// history adds a line and gives its number.
func (t *Tx) history(who, what string) (int64, error) {
	result, err := t.Exec("INSERT INTO history (at, who, what) VALUES (?, ?, ?)", Time(t.Now), who, what)
	if err != nil {
		return 0, err
	}
	return result.LastInsertId()
}

// Entry is one line of the history.
type Entry struct {
	At        time.Time
	Who, What string
}

// History lists the latest changes, newest first, at most so many.
func (t *Tx) History(most int) ([]Entry, error) {
	return listRows(t, scanEntry, "SELECT at, who, what FROM history ORDER BY id DESC LIMIT ?", most)
}

func scanEntry(rows *sql.Rows) (e Entry, err error) {
	var at string
	if err := rows.Scan(&at, &e.Who, &e.What); err != nil {
		return e, err
	}
	e.At, err = ParseTime(at)
	return e, err
}

// Time is how moments stand in the file: UTC, to the millisecond, sortable.
func Time(t time.Time) string { return t.UTC().Format("2006-01-02T15:04:05.000Z") }

// ParseTime reads what Time writes; empty is the zero time.
func ParseTime(text string) (time.Time, error) {
	if text == "" {
		return time.Time{}, nil
	}
	return time.Parse("2006-01-02T15:04:05.000Z", text)
}

func ignoreDone(err error) error {
	if errors.Is(err, sql.ErrTxDone) {
		return nil
	}
	return err
}
