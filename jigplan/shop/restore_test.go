package shop

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func restoreOver(t *testing.T, from, path string) Restored {
	t.Helper()
	got, err := Restore(ctx, Restoring{From: from, Path: path, Who: "anna", Now: time.Now})
	if err != nil {
		t.Fatal(err)
	}
	if !got.Done {
		t.Fatalf("no error, and not done: %+v", got)
	}
	return got
}

// Every restore keeps what it replaced under a new number, and restoring that
// copy undoes it.
func TestRestoreIsUndoneByRestoringTheCopy(t *testing.T) {
	folder := t.TempDir()
	path, backup := filepath.Join(folder, "shop.db"), filepath.Join(folder, "backup.db")
	inUse(t, backup, 5)
	inUse(t, path, 100)
	for i, want := range []int{5, 100, 5} {
		from := backup
		if i == 1 {
			from = path + ".before-1"
		}
		got := restoreOver(t, from, path)
		if name := fmt.Sprintf("shop.db.before-%d", i+1); filepath.Base(got.Kept) != name {
			t.Errorf("restore %d kept %s, want %s", i+1, got.Kept, name)
		}
		s := open(t, path)
		if n := boards(t, s); n != want {
			t.Errorf("restore %d: %d boards, want %d", i+1, n, want)
		}
		last, err := s.last(ctx)
		if err != nil || last.Who != "anna" || last.What != "shop restore of "+filepath.Base(from) {
			t.Errorf("restore %d: the history says %+v (%v)", i+1, last, err)
		}
		if err := errors.Join(s.sound(ctx), s.Close()); err != nil {
			t.Error(err)
		}
	}
	if n := boards(t, open(t, path+".before-1")); n != 100 {
		t.Errorf("the first copy has %d boards after two more restores, want 100", n)
	}
	if info, err := os.Stat(path + ".before-1"); err != nil || info.Mode().Perm()&0o077 != 0 {
		t.Errorf("others can read the copy: %v, %v", info.Mode(), err)
	}
}

// What a backup may not hold or be: it is refused and nothing is changed.
func TestRestoreRefuses(t *testing.T) {
	folder := t.TempDir()
	make := func(name, script string) string {
		path := filepath.Join(folder, name)
		inUse(t, path, 5)
		s := open(t, path)
		if _, err := s.db.Exec(script); err != nil {
			t.Fatal(err)
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		return path
	}
	path := filepath.Join(folder, "shop.db")
	inUse(t, path, 100)
	list := filepath.Join(folder, "list.csv")
	if err := os.WriteFile(list, []byte("Board,Count\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	newer := make("newer.db", "PRAGMA user_version = 99")
	link := filepath.Join(folder, "link.db")
	if err := os.Link(path, link); err != nil {
		t.Skip(err)
	}
	tests := []struct {
		from string
		want error
		text string
	}{
		{make("trigger.db", "CREATE TRIGGER evil AFTER INSERT ON history BEGIN DELETE FROM boards; END"),
			ErrDamaged, "trigger evil is not ours"},
		{make("view.db", "CREATE VIEW everything AS SELECT * FROM boards"), ErrDamaged, "view everything is not ours"},
		{make("table.db", "CREATE TABLE notes (text TEXT)"), ErrDamaged, "table notes is not ours"},
		{make("lacking.db", "DROP TRIGGER history_stays"), ErrDamaged, "trigger history_stays is missing"},
		{make("row.db", `DROP TRIGGER boards_seal_on; UPDATE boards SET length = 7;
			CREATE TRIGGER boards_seal_on AFTER UPDATE ON boards BEGIN SELECT 1; END`), ErrDamaged, "boards_seal_on"},
		{newer, ErrNewer, "version 99"},
		{list, ErrForeign, "not a database"},
		{filepath.Join(folder, "absent.db"), nil, "there is no backup"},
		{folder, nil, "is not a file"},
		{path, nil, "the shop file itself"},
		{link, nil, "the shop file itself"},
	}
	for _, tt := range tests {
		got, err := Restore(ctx, Restoring{From: tt.from, Path: path})
		if err == nil || tt.want != nil && !errors.Is(err, tt.want) || !strings.Contains(err.Error(), tt.text) {
			t.Errorf("%s: %v, want %v with %q", filepath.Base(tt.from), err, tt.want, tt.text)
		}
		if got != (Restored{}) || boards(t, open(t, path)) != 100 {
			t.Errorf("%s: refused, and something was changed: %+v", filepath.Base(tt.from), got)
		}
	}
	if _, err := Restore(ctx, Restoring{From: path, Path: newer}); !errors.Is(err, ErrNewer) {
		t.Errorf("a newer program's file was replaced: %v", err)
	}
	if left := Copies(path); len(left) > 0 {
		t.Errorf("nothing was restored, and there are copies: %q", left)
	}
}

// A backup of an older version is brought up to date before it is put in place.
func TestRestoreOfAnOlderVersion(t *testing.T) {
	folder := t.TempDir()
	for _, version := range []int{1, sealed, Newest() - 1} {
		path, backup := filepath.Join(folder, "shop.db"), filepath.Join(folder, fmt.Sprintf("v%d.db", version))
		if err := atVersion(t, backup, version).Close(); err != nil {
			t.Fatal(err)
		}
		restoreOver(t, backup, path)
		s := open(t, path)
		if err := errors.Join(s.sound(ctx), s.Close()); err != nil {
			t.Errorf("version %d: %v", version, err)
		}
	}
}

// A newer version that is only in the log is refused like any other, for
// reading and for writing, and while the file is open.
func TestNewerVersionInTheLog(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shop.db")
	inUse(t, path, 3)
	early := open(t, path)
	other := open(t, path)
	if _, err := other.db.Exec("PRAGMA wal_autocheckpoint = 0; PRAGMA user_version = 99"); err != nil {
		t.Fatal(err)
	}
	if h, err := readHeader(path); err != nil || h.version != Newest() {
		t.Fatalf("the file itself says %+v (%v): the test needs the version in the log", h, err)
	}
	for _, readOnly := range []bool{false, true} {
		if _, err := Open(ctx, path, Options{ReadOnly: readOnly}); !errors.Is(err, ErrNewer) {
			t.Errorf("read only %v: %v, want %v", readOnly, err, ErrNewer)
		}
	}
	err := early.Update(ctx, "anna", putBoards("X", 2))
	if !errors.Is(err, ErrNewer) {
		t.Errorf("a change by the older program: %v, want %v", err, ErrNewer)
	}
	if err := early.View(ctx, func(*Tx) error { return nil }); !errors.Is(err, ErrNewer) {
		t.Errorf("a look by the older program: %v, want %v", err, ErrNewer)
	}
}

// No shop file beside copies of one: nobody starts an empty one.
func TestMissingShopFileIsSaid(t *testing.T) {
	folder := t.TempDir()
	path, backup := filepath.Join(folder, "shop.db"), filepath.Join(folder, "backup.db")
	inUse(t, path, 100)
	inUse(t, backup, 5)
	restoreOver(t, backup, path)
	for name, gone := range map[string]func() error{
		"deleted": func() error { return os.Remove(path) },
		"empty":   func() error { return os.WriteFile(path, nil, 0o600) },
	} {
		if err := gone(); err != nil {
			t.Fatal(err)
		}
		for _, readOnly := range []bool{false, true} {
			_, err := Open(ctx, path, Options{ReadOnly: readOnly})
			if !errors.Is(err, ErrMissing) || !strings.Contains(err.Error(), "shop restore "+path+".before-1") {
				t.Errorf("%s, read only %v: %v", name, readOnly, err)
			}
		}
	}
	restoreOver(t, path+".before-1", path)
	if n := boards(t, open(t, path)); n != 100 {
		t.Errorf("%d boards after getting it back, want 100", n)
	}
}

func TestReplacedFileIsNotChanged(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "shop.db")
	inUse(t, path, 3)
	s := open(t, path)
	if err := os.Rename(path, path+".moved"); err != nil {
		t.Skip(err)
	}
	err := s.Update(ctx, "anna", putBoards("X", 2))
	if !errors.Is(err, ErrMoved) {
		t.Errorf("a change of a file that is no longer there: %v, want %v", err, ErrMoved)
	}
}

// TestWriteHere is a process that adds boards until its input ends, and says
// each one that was saved.
func TestWriteHere(t *testing.T) {
	path := os.Getenv("WRITE_SHOP")
	if path == "" {
		t.Skip("run by TestSurvivesRestoresBesideWriters in a process of its own")
	}
	stop := make(chan bool)
	go func() {
		_, _ = bufio.NewReader(os.Stdin).ReadByte()
		close(stop)
	}()
	for i := 0; ; i++ {
		select {
		case <-stop:
			return
		default:
		}
		prefix := fmt.Sprintf("%s-%d-", os.Getenv("WRITE_NAME"), i)
		s, err := Open(ctx, path, Options{})
		if err == nil {
			err = errors.Join(s.Update(ctx, "anna", putBoards(prefix, 1)), s.Close())
		}
		if err == nil {
			fmt.Printf("\nSAVED %s0\n", prefix)
		} else {
			fmt.Printf("\nREFUSED %v\n", err)
		}
	}
}

// Restores while two other processes write: every change that was said to be
// saved is in the shop file or in a numbered copy.
func TestSurvivesRestoresBesideWriters(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	path, backup := filepath.Join(folder, "shop.db"), filepath.Join(folder, "backup.db")
	inUse(t, path, 3)
	inUse(t, backup, 5)
	restores := max(6/slow, 2)
	if *full {
		restores = 200
	}
	var outs []*strings.Builder
	var ends []func() error
	for _, name := range []string{"A", "B"} {
		cmd := exec.Command(self, "-test.run", "^TestWriteHere$")
		cmd.Env = append(os.Environ(), "GORACE=atexit_sleep_ms=0", "WRITE_SHOP="+path, "WRITE_NAME="+name)
		in, err := cmd.StdinPipe()
		if err != nil {
			t.Fatal(err)
		}
		out := &strings.Builder{}
		cmd.Stdout = out
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		outs, ends = append(outs, out), append(ends, func() error { return errors.Join(in.Close(), cmd.Wait()) })
	}
	time.Sleep(100 * time.Millisecond)
	for range restores {
		restoreOver(t, backup, path)
	}
	for _, end := range ends {
		if err := end(); err != nil {
			t.Fatal(err)
		}
	}
	there := map[string]bool{}
	for _, file := range append(Copies(path), path) {
		s := open(t, file)
		if err := s.sound(ctx); err != nil {
			t.Errorf("%s: %v", file, err)
		}
		if err := s.View(ctx, func(tx *Tx) error {
			ids, err := listRows(tx, oneRow[string], "SELECT id FROM boards")
			for _, id := range ids {
				there[id] = true
			}
			return err
		}); err != nil {
			t.Fatal(err)
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
	saved := 0
	for _, out := range outs {
		for line := range strings.Lines(out.String()) {
			if id, ok := strings.CutPrefix(line, "SAVED "); ok {
				if saved++; !there[strings.TrimSpace(id)] {
					t.Errorf("%s was said to be saved and is nowhere", strings.TrimSpace(id))
				}
			}
			if strings.HasPrefix(line, "REFUSED") {
				t.Errorf("a writer was refused: %s", line)
			}
		}
	}
	t.Logf("%d restores, %d saved changes", restores, saved)
	if saved == 0 || len(Copies(path)) != restores {
		t.Errorf("%d changes saved, %d copies; want some, and %d copies", saved, len(Copies(path)), restores)
	}
}
