package shop

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"path"
)

// schemaQuery lists everything that a file defines: tables, indexes, triggers,
// views. Reading the list runs none of it.
const schemaQuery = "SELECT type || ' ' || name || char(10) || coalesce(sql, '') FROM sqlite_schema ORDER BY 1"

// strange lists what the file defines and its version does not, and what it
// lacks. A crafted file could otherwise run its own triggers as we change it.
func (s *File) strange(ctx context.Context) (faults []string, err error) {
	version, err := s.version(ctx)
	if err != nil {
		return nil, err
	}
	want, err := schemaOf(ctx, version)
	if err != nil {
		return nil, err
	}
	got, err := s.column(ctx, schemaQuery)
	if err != nil {
		return nil, s.explain("read", err)
	}
	known := map[string]int{}
	for _, one := range want {
		known[one]++
	}
	for _, one := range got {
		if known[one]--; known[one] < 0 {
			faults = append(faults, fmt.Sprintf(notOurs+"%s is not ours", firstLine(one)))
		}
	}
	for _, one := range want {
		if known[one] > 0 {
			faults = append(faults, fmt.Sprintf(notOurs+"%s is missing or different", firstLine(one)))
		}
	}
	return faults, nil
}

const notOurs = "the file is not as this program makes it: "

func firstLine(text string) string {
	for i, r := range text {
		if r == '\n' {
			return text[:i]
		}
	}
	return text
}

// schemaOf is the schema that our migrations make, up to a version.
func schemaOf(ctx context.Context, version int) (schema []string, err error) {
	db, err := sql.Open("sqlite", inMemory)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	db.SetMaxOpenConns(1) // each connection would have a database of its own
	for _, name := range migrationNames()[:min(version, Newest())] {
		script, err := migrations.ReadFile(path.Join("migrations", name))
		if err != nil {
			return nil, err
		}
		if _, err := db.ExecContext(ctx, string(script)); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	return listOf(ctx, db, oneRow[string], schemaQuery)
}
