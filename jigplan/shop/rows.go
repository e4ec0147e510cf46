package shop

import (
	"context"
	"database/sql"
)

// Each runs a query and calls scan once for every row, until one fails.
func (t *Tx) Each(scan func(*sql.Rows) error, query string, args ...any) error {
	return each(context.Background(), t.Tx, scan, query, args...)
}

// listRows runs a query and makes one T of every row; nil when there is none, or
// when a row cannot be read.
func listRows[T any](tx *Tx, scan func(*sql.Rows) (T, error), query string, args ...any) ([]T, error) {
	return listOf(context.Background(), tx.Tx, scan, query, args...)
}

// oneRow scans a row of a single column.
func oneRow[T any](rows *sql.Rows) (value T, err error) {
	err = rows.Scan(&value)
	return value, err
}

// querier is a transaction, or the database itself.
type querier interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
}

func each(ctx context.Context, q querier, scan func(*sql.Rows) error, query string, args ...any) error {
	rows, err := q.QueryContext(ctx, query, args...)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		if err := scan(rows); err != nil {
			return err
		}
	}
	return rows.Err()
}

func listOf[T any](ctx context.Context, q querier, scan func(*sql.Rows) (T, error), query string, args ...any) (out []T, err error) {
	err = each(ctx, q, func(rows *sql.Rows) error {
		one, err := scan(rows)
		out = append(out, one)
		return err
	}, query, args...)
	if err != nil {
		return nil, err
	}
	return out, nil
}
