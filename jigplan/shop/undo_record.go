package shop

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"modernc.org/sqlite"
	lib "modernc.org/sqlite/lib"
)

// maxUndo is how many of the last changes can be undone.
const maxUndo = 20

// unrecorded are the tables whose rows are no change of the shop's.
var unrecorded = []string{"history", "seals", "undo", "numbers"}

// rowChange is one row that a change touched. An added row has no Was, a removed one
// no Key; Seal is that of the row as the change left it.
type rowChange struct {
	Table string  `json:"table"`
	Key   []value `json:"key,omitempty"`
	Seal  int64   `json:"seal,omitempty"`
	Was   []value `json:"was,omitempty"`
}

// touched is a row before and after, in the order of its columns.
type touched struct {
	table    string
	old, new []any
}

// recorder takes down every row that a transaction touches.
type recorder struct {
	rows []touched
	err  error
}

func (r *recorder) note(d sqlite.SQLitePreUpdateData) {
	own := strings.HasPrefix(d.TableName, "sqlite_") || slices.Contains(unrecorded, d.TableName)
	if own || r.err != nil || d.DatabaseName != "main" {
		return
	}
	row := touched{table: d.TableName}
	if d.Op != lib.SQLITE_INSERT {
		row.old = make([]any, d.Count())
		r.err = d.Old(row.old...)
	}
	if d.Op != lib.SQLITE_DELETE && r.err == nil {
		row.new = make([]any, d.Count())
		r.err = d.New(row.new...)
	}
	r.rows = append(r.rows, row)
}

// on hears of every change through a connection until off is called.
func (r *recorder) on(conn *sql.Conn) (off func(), err error) {
	set := func(note sqlite.PreUpdateHookFn) error {
		return conn.Raw(func(c any) error {
			c.(sqlite.HookRegisterer).RegisterPreUpdateHook(note)
			return nil
		})
	}
	return func() { _ = set(nil) }, set(r.note)
}

// steps are the rows as they are kept.
func (r *recorder) steps(t *Tx) (string, error) {
	if r.err != nil {
		return "", fmt.Errorf("record what was there before: %w", r.err)
	}
	tables, steps := map[string]table{}, []rowChange{}
	for _, row := range r.rows {
		info, known := tables[row.table]
		if !known {
			var err error
			if info, err = tableOf(t, row.table); err != nil {
				return "", err
			}
			tables[row.table] = info
		}
		one := rowChange{Table: row.table, Was: valuesOf(row.old)}
		if row.new != nil {
			one.Key = valuesOf(info.keyOf(row.new))
			var err error
			if one.Seal, err = rowSeal(driverValues(row.new)); err != nil {
				return "", err
			}
		}
		steps = append(steps, one)
	}
	text, err := json.Marshal(steps)
	return string(text), err
}

// keep writes the steps of a change, and forgets those of long ago.
func (r *recorder) keep(t *Tx, change int64) error {
	steps, err := r.steps(t)
	if err != nil {
		return err
	}
	if _, err := t.Exec("INSERT INTO undo (change, steps) VALUES (?, ?)", change, steps); err != nil {
		return err
	}
	_, err = t.Exec(`DELETE FROM undo WHERE change < (SELECT min(change) FROM
		(SELECT change FROM undo WHERE steps IS NOT NULL ORDER BY change DESC LIMIT ?))`, maxUndo)
	return err
}

// isRestore stands for the steps of a restore, which replaces the whole file.
const isRestore = ""

// restored is keep of a restore.
func (r *recorder) restored(t *Tx, line int64) error {
	_, err := t.Exec("INSERT INTO undo (change, steps) VALUES (?, ?)", line, isRestore)
	return err
}

// table is what a table's rows look like.
type table struct {
	columns []string
	keys    []int // the columns that name a row; all of them where none does
}

func tableOf(t *Tx, name string) (info table, err error) {
	err = t.Each(func(rows *sql.Rows) error {
		var column string
		var key int
		if err := rows.Scan(&column, &key); err != nil {
			return err
		}
		if key > 0 {
			info.keys = append(info.keys, len(info.columns))
		}
		info.columns = append(info.columns, column)
		return nil
	}, "SELECT name, pk FROM pragma_table_info(?) ORDER BY cid", name)
	if err == nil && len(info.columns) == 0 {
		err = fmt.Errorf("%w: there is no table %q", ErrDamaged, name)
	}
	if len(info.keys) == 0 {
		for i := range info.columns {
			info.keys = append(info.keys, i)
		}
	}
	return info, err
}

func (i table) keyOf(row []any) (key []any) {
	for _, at := range i.keys {
		key = append(key, row[at])
	}
	return key
}

func driverValues(row []any) []driver.Value {
	out := make([]driver.Value, len(row))
	for i, v := range row {
		out[i] = v
	}
	return out
}

// value is a database value in JSON, its kind and its bits kept.
type value struct{ any }

func valuesOf(row []any) (out []value) {
	for _, v := range row {
		out = append(out, value{v})
	}
	return out
}

// MarshalJSON writes a letter for the kind, then the value.
func (v value) MarshalJSON() ([]byte, error) {
	text := ""
	switch x := v.any.(type) {
	case nil:
		return []byte("null"), nil
	case int64:
		text = "i" + strconv.FormatInt(x, 10)
	case float64:
		text = "f" + strconv.FormatFloat(x, 'x', -1, 64)
	case string:
		if text = "s" + x; !utf8.ValidString(x) {
			text = "S" + base64.StdEncoding.EncodeToString([]byte(x))
		}
	case []byte:
		text = "b" + base64.StdEncoding.EncodeToString(x)
	default:
		return nil, fmt.Errorf("no JSON for a %T", x)
	}
	return json.Marshal(text)
}

// UnmarshalJSON reads what MarshalJSON writes.
func (v *value) UnmarshalJSON(data []byte) (err error) {
	var text *string
	if err := json.Unmarshal(data, &text); err != nil || text == nil {
		return err
	}
	kind, rest := (*text)[:min(1, len(*text))], (*text)[min(1, len(*text)):]
	switch kind {
	case "i":
		v.any, err = strconv.ParseInt(rest, 10, 64)
	case "f":
		v.any, err = strconv.ParseFloat(rest, 64)
	case "s":
		v.any = rest
	case "S", "b":
		raw, failed := base64.StdEncoding.DecodeString(rest)
		if err = failed; kind == "S" {
			v.any = string(raw)
		} else {
			v.any = raw
		}
	default:
		err = fmt.Errorf("%q is no value", *text)
	}
	return err
}

// recording begins a transaction of which every touched row is noted.
func (s *File) recording(ctx context.Context) (r *recorder, tx *sql.Tx, end func() error, err error) {
	conn, err := s.db.Conn(ctx)
	if err != nil {
		return nil, nil, nil, err
	}
	r = &recorder{}
	off, err := r.on(conn)
	if err == nil {
		tx, err = s.begin(ctx, conn, false)
	}
	end = func() error { off(); return conn.Close() }
	if err != nil {
		return nil, nil, nil, errors.Join(err, end())
	}
	return r, tx, end, nil
}
