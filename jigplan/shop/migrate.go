package shop

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"path"
	"slices"
	"time"
)

//go:embed migrations/*.sql
var migrations embed.FS

// migrationNames are the files in the order they are applied; the n-th brings a
// file to version n.
func migrationNames() []string {
	entries, err := migrations.ReadDir("migrations")
	if err != nil {
		panic(err) // embedded at build time
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	slices.Sort(names)
	return names
}

// Newest is the version this program writes.
func Newest() int { return len(migrationNames()) }

// migrate brings the file up to date, each step one transaction that also
// records itself: a step that fails leaves the version before it usable.
func (s *File) migrate(ctx context.Context) error {
	for {
		done, err := s.migrateOne(ctx)
		if err != nil || done {
			return err
		}
	}
}

func (s *File) migrateOne(ctx context.Context) (done bool, err error) {
	version, err := s.version(ctx)
	if err != nil {
		return false, err
	}
	if version >= Newest() {
		return true, usable(version)
	}
	tx, err := s.db.BeginTx(ctx, nil)
	if err != nil {
		return false, s.explain("bring up to date", err)
	}
	if err := apply(ctx, tx, s.now); err != nil {
		return false, errors.Join(s.explain("bring up to date", err), ignoreDone(tx.Rollback()))
	}
	return false, s.explain("bring up to date", tx.Commit())
}

// apply carries out the next step, as seen inside the transaction: another
// process may have been faster.
func apply(ctx context.Context, tx *sql.Tx, now func() time.Time) error {
	var version int
	if err := tx.QueryRowContext(ctx, "PRAGMA user_version").Scan(&version); err != nil {
		return err
	}
	names := migrationNames()
	if version >= len(names) {
		return nil
	}
	script, err := migrations.ReadFile(path.Join("migrations", names[version]))
	if err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, string(script)); err != nil {
		return fmt.Errorf("%s: %w", names[version], err)
	}
	mark := fmt.Sprintf("PRAGMA application_id = %d; PRAGMA user_version = %d", ApplicationID, version+1)
	if _, err := tx.ExecContext(ctx, mark); err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, "INSERT INTO history (at, who, what) VALUES (?, 'batchwright', ?)",
		Time(now()), fmt.Sprintf("shop file brought to version %d", version+1))
	return err
}
