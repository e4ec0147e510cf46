package shop

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
)

// Why a change cannot be undone. Nothing was changed.
var (
	ErrNothing = errors.New("there is no change to undo")
	ErrDepends = errors.New("something later depends on this change")
)

// Undone is a change that was undone, or would be.
type Undone struct {
	Entry
	Rows map[string]int // how many rows of each table go back
}

// numbered are the rows that carry a number people have seen: the column that
// says of what, and the number.
var numbered = map[string]struct{ what, of, number string }{
	"revisions": {"revision of job ", "job", "number"},
	"quotes":    {"revision of quote ", "number", "revision"},
	"profiles":  {"jig profile", "", "version"},
	"invoices":  {"invoice", "", "number"},
}

// RevisionOfJob, RevisionOfQuote and JigProfile are what numbers are given to.
func RevisionOfJob(id int64) string        { return fmt.Sprint(numbered["revisions"].what, id) }
func RevisionOfQuote(number string) string { return numbered["quotes"].what + number }
func JigProfile() string                   { return numbered["profiles"].what }

// Last is the highest number ever given to something, undone ones included.
func (t *Tx) Last(what string, now int) (int, error) {
	var last int
	err := t.QueryRow("SELECT coalesce(max(last), 0) FROM numbers WHERE what = ?", what).Scan(&last)
	return max(last, now), err
}

// Undo takes back the last change that was not taken back yet, or with dry only
// says what it is. It is refused when the last change cannot be undone, and when
// a row is no longer as that change left it.
func (s *File) Undo(ctx context.Context, who string, dry bool) (u Undone, err error) {
	tx, err := s.begin(ctx, s.db, false)
	if err != nil {
		return u, s.explain("undo a change of", err)
	}
	t := newTx(tx, s.now())
	change, steps, err := u.find(t)
	if err == nil {
		err = u.takeBack(t, steps)
	}
	if err == nil {
		err = u.note(t, change, who)
	}
	if err != nil || dry {
		return u, errors.Join(s.explain("undo a change of", err), ignoreDone(tx.Rollback()))
	}
	if err := tx.Commit(); err != nil {
		return u, errors.Join(s.explain("undo a change of", err), ignoreDone(tx.Rollback()))
	}
	return u, nil
}

// find is the newest change with steps; every later line of the history must be
// an undo, or have been undone.
func (u *Undone) find(t *Tx) (change int64, steps []rowChange, err error) {
	var text string
	row := t.QueryRow("SELECT change, steps FROM undo WHERE steps IS NOT NULL ORDER BY change DESC LIMIT 1")
	err = row.Scan(&change, &text)
	none := errors.Is(err, sql.ErrNoRows)
	if err != nil && !none {
		return 0, nil, err
	}
	later, err := listRows(t, scanEntry, `SELECT at, who, what FROM history
		WHERE id > ? AND id NOT IN (SELECT change FROM undo) ORDER BY id DESC LIMIT 1`, change)
	switch {
	case err != nil:
		return 0, nil, err
	case !none && text == isRestore:
		return 0, nil, fmt.Errorf("%w: the last one is a restore; restore the numbered copy that it made", ErrNothing)
	case none || len(later) > 0:
		return 0, nil, fmt.Errorf("%w: only the last %d changes are kept, and none of an earlier version of the program",
			ErrNothing, maxUndo)
	}
	entries, err := listRows(t, scanEntry, "SELECT at, who, what FROM history WHERE id = ?", change)
	if err != nil || len(entries) == 0 {
		return 0, nil, errors.Join(ErrDamaged, err)
	}
	u.Entry, u.Rows = entries[0], map[string]int{}
	if err := json.Unmarshal([]byte(text), &steps); err != nil {
		return 0, nil, fmt.Errorf("%w: %w", ErrDamaged, err)
	}
	return change, steps, nil
}

// takeBack brings every row back, the last one first. The triggers of its
// tables are put aside meanwhile: they forbid changing records, and keep the
// seals, which are kept here.
func (u *Undone) takeBack(t *Tx, steps []rowChange) error {
	aside, err := u.putAside(t, steps)
	if err != nil {
		return err
	}
	for _, one := range slices.Backward(steps) {
		if err := u.row(t, one); err != nil {
			return err
		}
	}
	for _, text := range aside {
		if _, err := t.Tx.Exec(text); err != nil {
			return err
		}
	}
	return nil
}

// putAside drops the triggers of the tables touched and gives their texts.
func (u *Undone) putAside(t *Tx, steps []rowChange) (texts []string, err error) {
	for _, one := range steps {
		if u.Rows[one.Table]++; u.Rows[one.Table] > 1 {
			continue
		}
		const from = " FROM sqlite_schema WHERE type = 'trigger' AND tbl_name = ?"
		names, err := listRows(t, oneRow[string], "SELECT name"+from, one.Table)
		if err != nil {
			return nil, err
		}
		more, err := listRows(t, oneRow[string], "SELECT sql"+from, one.Table)
		if err != nil {
			return nil, err
		}
		for _, name := range names {
			if _, err := t.Tx.Exec(fmt.Sprintf("DROP TRIGGER %q", name)); err != nil {
				return nil, err
			}
		}
		texts = append(texts, more...)
	}
	return texts, nil
}

// row brings one row back.
func (u *Undone) row(t *Tx, s rowChange) error {
	info, err := tableOf(t, s.Table)
	if err != nil {
		return err
	}
	odd := len(s.Key) > 0 && len(s.Key) != len(info.keys) || len(s.Was) > 0 && len(s.Was) != len(info.columns)
	if odd || slices.Contains(unrecorded, s.Table) {
		return fmt.Errorf("%w: the record of a change does not fit the table %q", ErrDamaged, s.Table)
	}
	if len(s.Key) > 0 && len(s.Was) == 0 {
		if err := remember(t, s, info); err != nil {
			return err
		}
	}
	query, args := s.query(info)
	result, err := t.Exec(query, args...)
	if err != nil {
		return fmt.Errorf("%w: %w", ErrDepends, err)
	}
	if n, err := result.RowsAffected(); err != nil || n != 1 {
		return errors.Join(fmt.Errorf("%w: a row of %s is no longer as it was left", ErrDepends, s.Table), err)
	}
	return s.reseal(t)
}

// reseal takes the row that goes out of its table's seal, and the one that comes
// back in.
func (s *rowChange) reseal(t *Tx) error {
	change := -s.Seal
	if s.Was != nil {
		var was []driver.Value
		for _, v := range s.Was {
			was = append(was, v.any)
		}
		back, err := rowSeal(was)
		if err != nil {
			return err
		}
		change += back
	}
	_, err := t.Exec("UPDATE seals SET sum = sum + ? WHERE name = ?", change, s.Table)
	return err
}

// query is the statement that brings a row back; it finds the row only as the
// change left it.
func (s *rowChange) query(info table) (string, []any) {
	all := `"` + strings.Join(info.columns, `", "`) + `"`
	var where []string
	for _, at := range info.keys {
		where = append(where, fmt.Sprintf("%q IS ?", info.columns[at]))
	}
	found := fmt.Sprintf("rowid = (SELECT rowid FROM %q WHERE %s AND row_seal(%s) = ? LIMIT 1)",
		s.Table, strings.Join(where, " AND "), all)
	var was, key []any
	for _, v := range s.Was {
		was = append(was, v.any)
	}
	for _, v := range s.Key {
		key = append(key, v.any)
	}
	marks := strings.TrimSuffix(strings.Repeat("?, ", len(info.columns)), ", ")
	switch {
	case s.Key == nil:
		return fmt.Sprintf("INSERT INTO %q (%s) VALUES (%s)", s.Table, all, marks), was
	case s.Was == nil:
		return fmt.Sprintf("DELETE FROM %q WHERE %s", s.Table, found), append(key, s.Seal)
	}
	args := append(was, append(key, s.Seal)...)
	return fmt.Sprintf("UPDATE %q SET (%s) = (%s) WHERE %s", s.Table, all, marks, found), args
}

// remember keeps the number of a row that goes, where people have seen it.
func remember(t *Tx, s rowChange, info table) error {
	n, has := numbered[s.Table]
	if !has {
		return nil
	}
	what, number := n.what, int64(0)
	for i, at := range info.keys {
		switch info.columns[at] {
		case n.of:
			what += fmt.Sprint(s.Key[i].any)
		case n.number:
			number, _ = s.Key[i].any.(int64)
		}
	}
	_, err := t.Exec(`INSERT INTO numbers (what, last) VALUES (?, ?)
		ON CONFLICT (what) DO UPDATE SET last = max(last, excluded.last)`, what, number)
	return err
}

// note writes the undo into the history: neither it nor what it undid can be
// undone again.
func (u *Undone) note(t *Tx, change int64, who string) error {
	if _, err := t.Exec("UPDATE undo SET steps = NULL WHERE change = ?", change); err != nil {
		return err
	}
	line, err := t.history(who, "undo of: "+u.What)
	if err == nil {
		_, err = t.Exec("INSERT INTO undo (change, steps) VALUES (?, NULL)", line)
	}
	return err
}
