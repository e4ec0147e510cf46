package shop

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

var ctx = context.Background()

// noon is the clock of the tests.
func noon() time.Time { return time.Date(2026, 3, 4, 12, 0, 0, 0, time.UTC) }

func open(t *testing.T, path string) *File {
	t.Helper()
	s, err := Open(ctx, path, Options{Now: noon})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	return s
}

// addBoards puts boards in as a package above would.
func addBoards(t *testing.T, s *File, from, n int) {
	t.Helper()
	err := s.Update(ctx, "anna", func(tx *Tx) (string, error) {
		for i := range n {
			if _, err := tx.Exec(`INSERT INTO boards (id, state, wood, class, thickness, length, width, sheet, offcut) VALUES (?, 'free', 'walnut', '4/4', 0, 100, 10, 0, 0)`,
				fmt.Sprintf("W%d", from+i)); err != nil {
				return "", err
			}
		}
		return "added", nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// putBoards adds boards that are not there yet.
func putBoards(prefix string, n int) func(*Tx) (string, error) {
	return func(tx *Tx) (string, error) {
		for i := range n {
			if _, err := tx.Exec(`INSERT OR IGNORE INTO boards (id, state, wood, class, thickness, length, width, sheet, offcut) VALUES (?, 'free', 'walnut', '4/4', 0, 100, 10, 0, 0)`,
				fmt.Sprint(prefix, i)); err != nil {
				return "", err
			}
		}
		return "added", nil
	}
}

// inUse makes a shop file with so many boards.
func inUse(t *testing.T, path string, n int) {
	t.Helper()
	s := open(t, path)
	addBoards(t, s, 0, n)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}

func boards(t *testing.T, s *File) (n int) {
	t.Helper()
	if err := s.View(ctx, func(tx *Tx) error { return tx.QueryRow("SELECT count(*) FROM boards").Scan(&n) }); err != nil {
		t.Fatal(err)
	}
	return n
}

func TestUpdateIsWholeOrNotAtAll(t *testing.T) {
	s := open(t, filepath.Join(t.TempDir(), "shop.db"))
	addBoards(t, s, 0, 2)
	no := errors.New("no")
	for name, do := range map[string]func(*Tx) (string, error){
		"an error": func(tx *Tx) (string, error) {
			_, err := tx.Exec("DELETE FROM boards")
			return "x", errors.Join(err, no)
		},
		"nothing to say": func(tx *Tx) (string, error) { _, err := tx.Exec("DELETE FROM boards"); return "", err },
	} {
		err := s.Update(ctx, "anna", do)
		if (name == "an error") != errors.Is(err, no) || boards(t, s) != 2 {
			t.Errorf("%s: error %v, %d boards", name, err, boards(t, s))
		}
	}
	if err := s.Try(ctx, func(tx *Tx) (string, error) { _, err := tx.Exec("DELETE FROM boards"); return "x", err }); err != nil || boards(t, s) != 2 {
		t.Errorf("a trial left %d boards, %v", boards(t, s), err)
	}
	var history []Entry
	if err := s.View(ctx, func(tx *Tx) (err error) { history, err = tx.History(1 + 2*Newest()); return err }); err != nil {
		t.Fatal(err)
	}
	if len(history) != 1+Newest() || history[0].Who != "anna" || !history[0].At.Equal(noon()) {
		t.Errorf("history %+v: want the one change and the %d migrations", history, Newest())
	}
}

func TestRecordsAreKept(t *testing.T) {
	s := open(t, filepath.Join(t.TempDir(), "shop.db"))
	for _, query := range []string{"UPDATE history SET what = 'nothing'", "DELETE FROM history"} {
		err := s.Update(ctx, "anna", func(tx *Tx) (string, error) { _, err := tx.Exec(query); return "x", err })
		if err == nil {
			t.Errorf("%s was carried out", query)
		}
	}
	for _, query := range []string{
		`INSERT INTO boards (id, state, wood, class, thickness, length, width, sheet, offcut) VALUES ('B', 'reserved', 'oak', '4/4', 0, 1, 1, 0, 0)`,     // by nobody
		`INSERT INTO boards (id, state, job, wood, class, thickness, length, width, sheet, offcut) VALUES ('B', 'used', 9, 'oak', '4/4', 0, 1, 1, 0, 0)`, // by no job there is
		`INSERT INTO boards (id, state, wood, class, thickness, length, width, sheet, offcut) VALUES ('B', 'free', 'oak', '4/4', 0, 'long', 1, 0, 0)`,    // strict
	} {
		if err := s.Update(ctx, "anna", func(tx *Tx) (string, error) { _, err := tx.Exec(query); return "x", err }); err == nil {
			t.Errorf("%s was carried out", query)
		}
	}
}

// What cannot be used is named, and stays as it is to the byte.
func TestUnusableFilesAreNamedAndUntouched(t *testing.T) {
	folder := t.TempDir()
	sound := filepath.Join(folder, "sound.db")
	s := open(t, sound)
	addBoards(t, s, 0, 300)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	whole, err := os.ReadFile(sound)
	if err != nil {
		t.Fatal(err)
	}
	patched := func(at int, b ...byte) []byte {
		data := append([]byte(nil), whole...)
		copy(data[at:], b)
		return data
	}
	tests := []struct {
		name string
		data []byte
		want error
	}{
		{"newer", patched(60, 0, 0, 0, 99), ErrNewer},
		{"another program's", patched(68, 1, 2, 3, 4), ErrForeign},
		{"nobody's database", patched(60, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0), ErrForeign},
		{"a text", []byte(strings.Repeat("Board,Count\n", 40)), ErrForeign},
		{"a few bytes", whole[:40], ErrDamaged},
		{"a workbook", append([]byte("PK\x03\x04"), whole[4:]...), ErrForeign},
	}
	for _, tt := range tests {
		path := filepath.Join(folder, strings.ReplaceAll(tt.name, " ", "-")+".db")
		if err := os.WriteFile(path, tt.data, 0o644); err != nil {
			t.Fatal(err)
		}
		for _, readOnly := range []bool{false, true} {
			s, err := Open(ctx, path, Options{ReadOnly: readOnly})
			if !errors.Is(err, tt.want) {
				t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
			}
			if s != nil {
				_ = s.Close()
			}
		}
		after, err := os.ReadFile(path)
		if err != nil || string(after) != string(tt.data) {
			t.Errorf("%s: the file was touched", tt.name)
		}
	}
}

// dump is all that the boards say.
func dump(t *testing.T, s *File) string {
	t.Helper()
	var text string
	if err := s.View(ctx, func(tx *Tx) error {
		return tx.QueryRow("SELECT group_concat(id || state || wood || class || thickness || length || width || sheet || offcut || defects || version, ';') FROM boards").Scan(&text)
	}); err != nil {
		t.Fatal(err)
	}
	return text
}

// damagedOrHarmless opens and goes through a file: it is named as damaged, or
// every board is there.
func damagedOrHarmless(t *testing.T, path, want string) (named bool) {
	t.Helper()
	s, err := Open(ctx, path, Options{ReadOnly: true})
	if err != nil {
		return true
	}
	defer s.Close()
	faults, err := s.Verify(ctx)
	if err != nil || len(faults) > 0 {
		return true
	}
	if dump(t, s) != want {
		t.Error("the boards are read as something else, and nothing was said")
	}
	return false
}

func TestTornAndFlippedFilesAreNamed(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "shop.db")
	s := open(t, path)
	addBoards(t, s, 0, 300)
	backup, want := filepath.Join(folder, "backup.db"), dump(t, s)
	if err := s.Backup(ctx, backup); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	whole, err := os.ReadFile(backup)
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(3, 3))
	named, tries, hurt := 0, max(24/slow, 6), filepath.Join(folder, "hurt.db")
	if *full {
		tries = 10_000
	}
	for i := range tries {
		torn := append([]byte(nil), whole...)
		if i%3 == 0 {
			torn = torn[:r.IntN(len(torn))]
		} else {
			at := r.IntN(len(torn)) // one flip, or a burst of them
			for j := range 1 + i%3*20 {
				torn[(at+j)%len(torn)] ^= byte(1 << r.IntN(8))
			}
		}
		if err := os.WriteFile(hurt, torn, 0o644); err != nil {
			t.Fatal(err)
		}
		if damagedOrHarmless(t, hurt, want) {
			named++
		}
		if i%12 > 0 {
			continue
		}
		if _, err := Restore(ctx, Restoring{From: backup, Path: hurt}); errors.Is(err, ErrNewer) {
			continue // the flip made it a newer version's: not ours to replace
		} else if err != nil {
			t.Fatalf("restore over a damaged file: %v", err)
		}
		if damagedOrHarmless(t, hurt, want) {
			t.Fatal("the restored file is damaged")
		}
	}
	t.Logf("%d of %d hurt files were named as damaged; the others were whole", named, tries)
	if named < tries/3 {
		t.Errorf("only %d of %d hurt files were named", named, tries)
	}
}

// A migration that fails leaves the version before it, and its data, in use.
func TestFailedMigrationLeavesTheOldVersion(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shop.db")
	old := atVersion(t, path, 1)
	if _, err := old.Exec("CREATE TABLE kerfs (in_the_way INTEGER); INSERT INTO history (at, who, what) VALUES ('x', 'anna', 'first')"); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(ctx, path, Options{}); err == nil {
		t.Fatal("the migration should have failed on the table in its way")
	}
	var version, tables, lines int
	if err := old.QueryRow("SELECT (SELECT user_version FROM pragma_user_version), (SELECT count(*) FROM sqlite_schema WHERE name IN ('boards', 'jobs')), (SELECT count(*) FROM history WHERE what = 'first')").Scan(&version, &tables, &lines); err != nil {
		t.Fatal(err)
	}
	if version != 1 || tables != 0 || lines != 1 {
		t.Fatalf("version %d, %d new tables, %d old lines; want 1, 0, 1", version, tables, lines)
	}
	if _, err := old.Exec("DROP TABLE kerfs"); err != nil {
		t.Fatal(err)
	}
	s := open(t, path)
	if faults, err := s.Verify(ctx); err != nil || len(faults) > 0 {
		t.Errorf("after the cause was removed: %v %q", err, faults)
	}
}

// atVersion makes a file as an older program left it.
func atVersion(t *testing.T, path string, version int) *sql.DB {
	t.Helper()
	db, err := sql.Open("sqlite", dsn(path, false))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = db.Close() })
	for i, name := range migrationNames()[:version] {
		script, err := migrations.ReadFile("migrations/" + name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := db.Exec(string(script) + fmt.Sprintf("; PRAGMA application_id = %d; PRAGMA user_version = %d", ApplicationID, i+1)); err != nil {
			t.Fatal(err)
		}
	}
	return db
}

func TestFullDisk(t *testing.T) {
	s := open(t, filepath.Join(t.TempDir(), "shop.db"))
	addBoards(t, s, 0, 10)
	s.db.SetMaxOpenConns(1)
	var pages int
	if err := s.db.QueryRow("PRAGMA page_count").Scan(&pages); err != nil {
		t.Fatal(err)
	}
	if _, err := s.db.Exec(fmt.Sprintf("PRAGMA max_page_count = %d", pages)); err != nil { // the driver's own "disk full"
		t.Fatal(err)
	}
	err := s.Update(ctx, "anna", func(tx *Tx) (string, error) {
		for i := range 20000 {
			if _, err := tx.Exec("INSERT INTO settings (name, value) VALUES (?, ?)", fmt.Sprint(i), strings.Repeat("x", 100)); err != nil {
				return "", err
			}
		}
		return "x", nil
	})
	if !errors.Is(err, ErrFull) {
		t.Errorf("%v, want %v", err, ErrFull)
	}
	if n := boards(t, s); n != 10 {
		t.Errorf("%d boards after a full disk, want 10", n)
	}
	if faults, err := s.Verify(ctx); err != nil || len(faults) > 0 {
		t.Errorf("%v %q", err, faults)
	}
}

func TestBackupIsCheckedAndNeverOverwrites(t *testing.T) {
	folder := t.TempDir()
	s := open(t, filepath.Join(folder, "shop.db"))
	addBoards(t, s, 0, 5)
	backup := filepath.Join(folder, "backup.db")
	if err := s.Backup(ctx, backup); err != nil {
		t.Fatal(err)
	}
	addBoards(t, s, 5, 5)
	if err := s.Backup(ctx, backup); err == nil {
		t.Error("a backup was overwritten")
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(s.Path(), 0o660); err != nil { // two people share it
		t.Fatal(err)
	}
	if _, err := Restore(ctx, Restoring{From: backup, Path: s.Path()}); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(s.Path()); err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o660 {
		t.Errorf("the restored file is another's to use: %v, %v", info.Mode(), err)
	}
	if n := boards(t, open(t, s.Path())); n != 5 {
		t.Errorf("%d boards after the restore, want those of the backup", n)
	}
	if n := boards(t, open(t, s.Path()+".before-1")); n != 10 {
		t.Errorf("%d boards in what was kept, want 10", n)
	}
}
