package shop

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"
)

// rowsOf is everything in the tables that a change may touch.
func rowsOf(t *testing.T, s *File) string {
	t.Helper()
	var out strings.Builder
	if err := s.View(ctx, func(tx *Tx) error {
		names, err := listRows(tx, oneRow[string],
			"SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY 1")
		if err != nil {
			return err
		}
		for _, name := range names {
			if name == "history" || name == "seals" || name == "undo" || name == "numbers" {
				continue
			}
			info, err := tableOf(tx, name)
			if err != nil {
				return err
			}
			rows, err := listRows(tx, oneRow[string], fmt.Sprintf(`SELECT concat_ws('|', quote("%s")) FROM %s ORDER BY 1`,
				strings.Join(info.columns, `"), quote("`), name))
			if err != nil {
				return err
			}
			fmt.Fprintln(&out, name, strings.Join(rows, "\n"))
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// undoChange is a random change that touches rows in every way: added, removed,
// changed twice, replaced, kept records among them, values of every kind.
func undoChange(r *rand.Rand, n int) func(*Tx) (string, error) {
	return func(tx *Tx) (string, error) {
		queries := []string{
			`INSERT INTO boards (id, state, wood, class, thickness, length, width, sheet, offcut, cost, moisture)
				VALUES ('N' || random(), 'free', 'it''s oak', '4/4', 0, 9007199254740993, 10, 0, 0, NULL, 0.1)`,
			`DELETE FROM boards WHERE id = (SELECT min(id) FROM boards)`,
			`UPDATE boards SET moisture = moisture + 7.3, version = version + 1 WHERE id = (SELECT max(id) FROM boards)`,
			`INSERT INTO settings (name, value) VALUES ('Rod', 'M' || abs(random() % 9))
				ON CONFLICT (name) DO UPDATE SET value = excluded.value`,
			`INSERT INTO settings (name, value) VALUES ('Note' || random(), 'ü "x"' || char(10) || random())`,
			fmt.Sprintf(`INSERT INTO jobs (name, state, accepted, revision) VALUES ('job', 'open', 'now', %d)`, n),
			`INSERT INTO weeks (at, first, days, sheet) VALUES ('now', '2027-01-01', 7, x'00ff')`,
			`INSERT INTO weeks (at, first, days, sheet) VALUES ('now', '2027-01-01', 7, x'')`,
			`INSERT INTO clocks (element, started, who) VALUES ('glue', 'now', 'anna')`,
			`DELETE FROM clocks`,
			`DELETE FROM settings`,
		}
		for range 1 + r.IntN(6) {
			if _, err := tx.Exec(queries[r.IntN(len(queries))]); err != nil {
				return "", err
			}
		}
		return fmt.Sprintf("change %d", n), nil
	}
}

// Any changes, undone newest first, leave exactly what was there before each;
// a file restored in between has other row numbers, and it still holds.
func TestUndoBringsBackEveryRow(t *testing.T) {
	folder := t.TempDir()
	s := open(t, filepath.Join(folder, "shop.db"))
	addBoards(t, s, 0, 6)
	r := rand.New(rand.NewPCG(24, 4))
	rounds := max(8/slow, 2)
	if *full {
		rounds = 200
	}
	for round := range rounds {
		var states, names []string
		for i := range 1 + r.IntN(maxUndo) {
			states = append(states, rowsOf(t, s))
			n := round*100 + i
			if err := s.Update(ctx, "anna", undoChange(r, n)); err != nil {
				t.Fatal(err)
			}
			names = append(names, fmt.Sprintf("change %d", n))
		}
		for i := len(states) - 1; i >= 0; i-- {
			if r.IntN(4) == 0 {
				before := rowsOf(t, s)
				if u, err := s.Undo(ctx, "bea", true); err != nil || u.What != names[i] || rowsOf(t, s) != before {
					t.Fatalf("a dry run of undoing %s: %+v, %v", names[i], u, err)
				}
			}
			u, err := s.Undo(ctx, "bea", false)
			if err != nil || u.What != names[i] {
				t.Fatalf("undoing %s: undid %q, %v", names[i], u.What, err)
			}
			if got := rowsOf(t, s); got != states[i] {
				t.Fatalf("undoing %s left\n%s\nwant\n%s", names[i], got, states[i])
			}
		}
		if err := s.sound(ctx); err != nil {
			t.Fatal(err)
		}
	}
}

func TestUndoRefuses(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "shop.db")
	s := open(t, path)
	refused := func(why string, want error, text string) {
		t.Helper()
		before := rowsOf(t, s)
		u, err := s.Undo(ctx, "bea", false)
		if !errors.Is(err, want) || !strings.Contains(fmt.Sprint(err), text) || rowsOf(t, s) != before {
			t.Errorf("%s: %+v, %v; want %v with %q", why, u, err, want, text)
		}
	}
	refused("an empty file", ErrNothing, "")
	addBoards(t, s, 0, 2)
	if _, err := s.Undo(ctx, "bea", false); err != nil {
		t.Fatal(err)
	}
	refused("an undo is not undone", ErrNothing, "")

	for i := range maxUndo + 3 {
		addBoards(t, s, 10+i, 1)
	}
	for range maxUndo {
		if _, err := s.Undo(ctx, "bea", false); err != nil {
			t.Fatal(err)
		}
	}
	if n := boards(t, s); n != 3 {
		t.Errorf("%d boards after %d undone changes, want 3", n, maxUndo)
	}
	refused("older than the last 20", ErrNothing, "only the last 20 changes")

	addBoards(t, s, 50, 1)
	if _, err := s.db.Exec("UPDATE boards SET length = 7 WHERE id = 'W50'"); err != nil {
		t.Fatal(err)
	}
	refused("a row that is no longer as it was left", ErrDepends, "a row of boards is no longer as it was left")

	addBoards(t, s, 60, 1)
	backup := filepath.Join(folder, "backup.db")
	if err := s.Backup(ctx, backup); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	restoreOver(t, backup, path)
	s = open(t, path)
	refused("a restore", ErrNothing, "restore the numbered copy")
}

// Numbers that people have seen are never given again.
func TestUndoneNumbersAreNotGivenAgain(t *testing.T) {
	s := open(t, filepath.Join(t.TempDir(), "shop.db"))
	job := func() (id int64) {
		t.Helper()
		if err := s.Update(ctx, "anna", func(tx *Tx) (string, error) {
			result, err := tx.Exec("INSERT INTO jobs (name, state, accepted, revision) VALUES ('Tea', 'open', 'now', 1)")
			if err != nil {
				return "", err
			}
			if id, err = result.LastInsertId(); err != nil {
				return "", err
			}
			_, err = tx.Exec(`INSERT INTO revisions (job, number, at, kind, file, sha256, profile, boxes, parts, feet,
				cost, price, minutes, p80, boards, factors)
				VALUES (?, 4, 'now', 'accept', 'f', 's', 0, 1, 1, 1.5, 0, 0, 1, 1, '[]', '{}')`, id)
			return "accept", err
		}); err != nil {
			t.Fatal(err)
		}
		return id
	}
	first := job()
	if _, err := s.Undo(ctx, "bea", false); err != nil {
		t.Fatal(err)
	}
	if second := job(); second != first+1 {
		t.Errorf("the next job is %d, want %d: job %d was undone", second, first+1, first)
	}
	var last, fresh int
	if err := s.View(ctx, func(tx *Tx) (err error) {
		if last, err = tx.Last(RevisionOfJob(first), 0); err == nil {
			fresh, err = tx.Last(RevisionOfQuote("tea"), 2)
		}
		return err
	}); err != nil || last != 4 || fresh != 2 {
		t.Errorf("the highest revisions ever given are %d and %d (%v), want 4 and 2", last, fresh, err)
	}
	if err := s.sound(ctx); err != nil {
		t.Error(err)
	}
}
