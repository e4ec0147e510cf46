package shop

import (
	"context"
	"crypto/sha256"
	"database/sql/driver"
	"encoding/binary"
	"fmt"
	"math"
	"strings"

	"modernc.org/sqlite"
)

// SQLite checks the shape of its pages, not what the rows say. So every table
// has a seal: the sum of the hashes of its rows, kept by triggers. Hashes have
// 40 bits, so that the sum of eight million rows stays in 63.
func init() {
	sqlite.MustRegisterDeterministicScalarFunction("row_seal", -1, func(_ *sqlite.FunctionContext, row []driver.Value) (driver.Value, error) {
		return rowSeal(row)
	})
}

// rowSeal hashes values with their kinds and lengths, so that no two rows read
// alike.
func rowSeal(row []driver.Value) (int64, error) {
	h := sha256.New()
	note := func(kind byte, n uint64, data []byte) {
		h.Write(binary.BigEndian.AppendUint64([]byte{kind}, n))
		h.Write(data)
	}
	for _, value := range row {
		switch v := value.(type) {
		case nil:
			note('n', 0, nil)
		case int64:
			note('i', uint64(v), nil)
		case float64:
			note('f', math.Float64bits(v), nil)
		case string:
			note('s', uint64(len(v)), []byte(v))
		case []byte:
			note('b', uint64(len(v)), v)
		default:
			return 0, fmt.Errorf("no seal for a %T", value)
		}
	}
	sum := h.Sum(nil)
	return int64(binary.BigEndian.Uint64(sum) >> 24), nil
}

// sealed is the first version with seals.
const sealed = 3

// brokenSeals lists the tables whose rows do not add up to their seal.
func (s *File) brokenSeals(ctx context.Context) (faults []string, err error) {
	if version, err := s.version(ctx); err != nil || version < sealed {
		return nil, err
	}
	tables, err := s.column(ctx, "SELECT name FROM seals ORDER BY name")
	if err != nil {
		return nil, s.explain("verify", err)
	}
	for _, table := range tables {
		columns, err := s.column(ctx, fmt.Sprintf("SELECT name FROM pragma_table_info('%s') ORDER BY cid", strings.ReplaceAll(table, "'", "''")))
		if err != nil {
			return nil, s.explain("verify", err)
		}
		if len(columns) == 0 {
			faults = append(faults, fmt.Sprintf("there is no table %q", table))
			continue
		}
		var whole bool
		query := fmt.Sprintf("SELECT (SELECT coalesce(sum(row_seal(%s)), 0) FROM %q) = (SELECT sum FROM seals WHERE name = ?)", strings.Join(columns, ", "), table)
		if err := s.db.QueryRowContext(ctx, query, table).Scan(&whole); err != nil {
			return nil, s.explain("verify", err)
		}
		if !whole {
			faults = append(faults, fmt.Sprintf("the file is damaged: a row of %s has changed", table))
		}
	}
	return faults, nil
}
