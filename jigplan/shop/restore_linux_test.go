package shop

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"batchwright/orders/disk"
)

// What a restore finds in the place of the shop file, and what may be read
// there after a restore that failed. The backup has 5 boards.
var restoreCases = []struct {
	name string
	make func(t *testing.T, path string)
	old  []string // states that are the old one
}{
	{"a shop file in use", func(t *testing.T, path string) { inUse(t, path, 100) }, []string{"100"}},
	{"a shop file whose last changes are only in its log", func(t *testing.T, path string) {
		logOnly(t, path, 40, 60)
	}, []string{"100"}},
	{"no shop file", func(*testing.T, string) {}, []string{"nothing", "0"}},
	{"no shop file, and a copy of it", func(t *testing.T, path string) {
		inUse(t, path+before+"1", 7)
	}, []string{"missing"}},
	{"a damaged shop file", func(t *testing.T, path string) {
		inUse(t, path, 100)
		spoil(t, path, 16, 2000)
	}, []string{"damaged"}},
	{"a shop file with a damaged page", func(t *testing.T, path string) {
		inUse(t, path, 100)
		spoil(t, path, 3*4096, 600)
	}, []string{"damaged", "faults"}},
}

// logOnly makes a shop file of a program that was killed: its last boards are in
// the log alone.
func logOnly(t *testing.T, path string, n, more int) {
	t.Helper()
	other := filepath.Join(t.TempDir(), "other.db")
	inUse(t, other, n)
	s := open(t, other)
	if _, err := s.db.Exec("PRAGMA wal_autocheckpoint = 0"); err != nil {
		t.Fatal(err)
	}
	addBoards(t, s, n, more)
	for _, end := range []string{"", "-wal"} {
		data, err := os.ReadFile(other + end)
		if err == nil {
			err = os.WriteFile(path+end, data, 0o600)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
}

func spoil(t *testing.T, path string, at, n int64) {
	t.Helper()
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err == nil {
		_, err = f.WriteAt(bytes.Repeat([]byte{0xa5}, int(n)), at)
	}
	if err = errors.Join(err, f.Close()); err != nil {
		t.Fatal(err)
	}
}

// stateOf is what a person finds: a number of boards, or what is wrong.
func stateOf(t *testing.T, path string) string {
	t.Helper()
	if info, err := os.Stat(path); len(Copies(path)) == 0 && (err != nil || info.Size() == 0) {
		return "nothing"
	}
	s, err := Open(ctx, path, Options{Now: noon})
	switch {
	case errors.Is(err, ErrMissing):
		return "missing"
	case err != nil:
		return "damaged"
	}
	defer s.Close()
	faults, err := s.Verify(ctx)
	if err != nil || len(faults) > 0 {
		return "faults"
	}
	return fmt.Sprint(boards(t, s))
}

// TestRestoreHere is the process whose disk fails or that is killed.
func TestRestoreHere(t *testing.T) {
	path := os.Getenv("RESTORE_SHOP")
	if path == "" {
		t.Skip("run by TestSurvivesFailingRestores in a process of its own")
	}
	var nth int
	if _, err := fmt.Sscan(os.Getenv("FAIL_AT"), &nth); err != nil {
		t.Fatal(err)
	}
	if err := failingDisk(); err != nil {
		t.Fatal(err)
	}
	faults.arm(os.Getenv("FAIL_KIND"), nth)
	got, err := Restore(ctx, Restoring{From: os.Getenv("RESTORE_FROM"), Path: path, Who: "anna",
		Now: time.Now, files: disk.Files{Before: faults.before}})
	said := restoreSaid{Restored: got, Struck: faults.struck()}
	if err != nil {
		said.Err = err.Error()
	}
	if err := json.NewEncoder(os.Stdout).Encode(said); err != nil {
		t.Fatal(err)
	}
}

type restoreSaid struct {
	Restored
	Err    string
	Struck bool
}

// At every call that a restore makes, the disk fails once or the process dies:
// the old state or the new one is there, the message says which, what was there
// is kept, an older copy is untouched, and nothing unfinished stays.
func TestSurvivesFailingRestores(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	backup := filepath.Join(t.TempDir(), "backup.db")
	logOnly(t, backup, 3, 2)
	counts := map[string]int{}
	r := rand.New(rand.NewPCG(9, 9))
	for _, tt := range restoreCases {
		folder := t.TempDir()
		tt.make(t, filepath.Join(folder, "shop.db"))
		for _, kind := range restoreKinds {
			if !*full {
				continue
			}
			for nth := 1; failRestore(t, self, folder, backup, tt.old, kind, nth, counts); nth++ {
			}
		}
		if !*full { // two anywhere
			failRestore(t, self, folder, backup, tt.old, restoreKinds[r.IntN(len(restoreKinds))], 1+r.IntN(30), counts)
			failRestore(t, self, folder, backup, tt.old, "kill", 1+r.IntN(150), counts)
		}
	}
	t.Logf("%v", counts)
	if *full && counts["left the new state"] == 0 || counts["killed"] == 0 || counts["left the old state"] == 0 {
		t.Errorf("%v: something was never reached", counts)
	}
}

// failRestore has one restore fail and looks at what it left. It reports
// whether the fault was reached.
func failRestore(t *testing.T, self, folder, backup string, old []string,
	kind string, nth int, counts map[string]int) bool {
	t.Helper()
	left, killed := restoreElsewhere(t, self, folder, backup, kind, nth)
	where := fmt.Sprintf("%s: %s %d: told %+v", folder, kind, nth, left.restoreSaid)
	isOld := slices.Contains(old, left.state)
	switch {
	case !isOld && left.state != "5":
		t.Errorf("%s: the shop file is now %q", where, left.state)
	case !killed && left.Done != (left.state == "5"):
		t.Errorf("%s: the shop file is now %q, and the message says otherwise", where, left.state)
	case !killed && left.Err == "" && !left.Done:
		t.Errorf("%s: no error and not done", where)
	}
	checkKept(t, where, left, killed, old[0])
	if killed {
		counts["killed"]++
	}
	if left.Struck || killed {
		counts["faults"]++
		counts["left "+map[bool]string{true: "the old state", false: "the new state"}[isOld]]++
	}
	return left.Struck || killed
}

type restoreLeft struct {
	restoreSaid
	state  string
	copies map[string]string // each numbered copy and its state
	temps  int
}

// restoreElsewhere restores over a fresh copy of the folder in a process of its own.
func restoreElsewhere(t *testing.T, self, folder, backup, kind string, nth int) (left restoreLeft, killed bool) {
	t.Helper()
	work, err := os.MkdirTemp("", "restore")
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(work)
	if err := os.CopyFS(filepath.Join(work, "a"), os.DirFS(folder)); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(work, "b"), 0o700); err != nil {
		t.Fatal(err)
	}
	path, from := filepath.Join(work, "a", "shop.db"), filepath.Join(work, "b", "backup.db")
	for _, end := range []string{"", "-wal"} {
		data, err := os.ReadFile(backup + end)
		if err == nil {
			err = os.WriteFile(from+end, data, 0o600)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	cmd := exec.Command(self, "-test.run", "^TestRestoreHere$")
	cmd.Env = append(os.Environ(), "GORACE=atexit_sleep_ms=0", "RESTORE_SHOP="+path, "RESTORE_FROM="+from,
		"FAIL_KIND="+kind, fmt.Sprint("FAIL_AT=", nth))
	out, err := cmd.CombinedOutput()
	var ended *exec.ExitError
	if errors.As(err, &ended) && ended.ExitCode() == -1 {
		killed = true
	} else if err != nil {
		t.Fatalf("%s %d: %v\n%s", kind, nth, err, out)
	} else if err := json.NewDecoder(bytes.NewReader(out)).Decode(&left.restoreSaid); err != nil {
		t.Fatalf("%s %d: %v\n%s", kind, nth, err, out)
	}
	left.state = stateOf(t, path)
	left.copies = map[string]string{}
	for _, name := range Copies(path) {
		left.copies[filepath.Base(name)] = stateOf(t, name)
	}
	temps, err := filepath.Glob(filepath.Join(work, "a", ".batchwright-*"))
	if err != nil {
		t.Fatal(err)
	}
	left.temps = len(temps)
	left.Kept = filepath.Base(left.Kept)
	return left, killed
}

// checkKept looks at the numbered copies.
func checkKept(t *testing.T, where string, left restoreLeft, killed bool, old string) {
	t.Helper()
	if left.temps > 0 && left.state != "nothing" {
		t.Errorf("%s: %d unfinished files stay after the next start", where, left.temps)
	}
	if old == "missing" {
		if left.copies["shop.db.before-1"] != "7" || len(left.copies) != 1 {
			t.Errorf("%s: the copy that was there is lost: %v", where, left.copies)
		}
		return
	}
	if left.state == "5" && old != "nothing" && len(left.copies) == 0 {
		t.Errorf("%s: the old state is lost", where)
	}
	for name, state := range left.copies {
		if state != old && old != "damaged" {
			t.Errorf("%s: %s is %q, want %q", where, name, state, old)
		}
	}
	if left.Kept != "." && left.copies[left.Kept] == "" && !killed {
		t.Errorf("%s: the copy that was named is not there: %v", where, left.copies)
	}
}
