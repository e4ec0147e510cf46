package shop

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"batchwright/orders/disk"
)

// A disk that fails at the Nth write: a process that may not let any file grow
// beyond so many bytes gets an error from the write that would, and from all
// that follow. Every change appends to the log, so the limit, rising, goes
// through the writes of a change one after the other.

// TestChangeHere is the process whose disk fails: it puts 800 boards into the
// file named in the environment and says what it was told.
func TestChangeHere(t *testing.T) {
	path := os.Getenv("CHANGE_SHOP")
	if path == "" {
		t.Skip("run by TestSurvivesFailingWrites in a process of its own")
	}
	most, err := strconv.ParseUint(os.Getenv("CHANGE_MOST"), 10, 63)
	if err != nil {
		t.Fatal(err)
	}
	signal.Ignore(syscall.SIGXFSZ)
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: most, Max: most}); err != nil {
		t.Fatal(err)
	}
	s, err := Open(ctx, path, Options{Now: noon})
	if err == nil {
		err = s.Update(ctx, "anna", func(tx *Tx) (string, error) {
			for i := range 800 {
				if _, err := tx.Exec(`INSERT INTO boards (id, state, wood, class, thickness, length, width, sheet, offcut) VALUES (?, 'free', 'walnut', '4/4', 0, 100, 10, 0, 0)`,
					fmt.Sprintf("X%d", i)); err != nil {
					return "", err
				}
			}
			return "added", nil
		})
	}
	switch {
	case err == nil:
		fmt.Println("\nSAVED")
	case errors.Is(err, ErrDisk) || errors.Is(err, ErrFull) || errors.Is(err, ErrReadOnly):
		fmt.Println("\nNAMED")
	default:
		fmt.Println("\nBARE", err)
	}
}

// Whichever write fails, the file is as before or has the whole change; a
// change that was said to be saved is there, and the failure is named.
func TestSurvivesFailingWrites(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	before := filepath.Join(folder, "before.db")
	s := open(t, before)
	addBoards(t, s, 0, 100)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	whole, err := os.ReadFile(before)
	if err != nil {
		t.Fatal(err)
	}
	points, span := max(24/slow, 6), 300_000
	if *full {
		points = 2000
	}
	told := map[string]int{}
	kept := map[int]int{}
	for i := range points {
		path := filepath.Join(folder, "shop.db")
		for _, end := range []string{"-wal", "-shm"} {
			if err := (disk.Files{}).Remove(path + end); err != nil {
				t.Fatal(err)
			}
		}
		if err := os.WriteFile(path, whole, 0o644); err != nil {
			t.Fatal(err)
		}
		cmd := exec.Command(self, "-test.run", "^TestChangeHere$", "-test.v")
		cmd.Env = append(os.Environ(), "GORACE=atexit_sleep_ms=0", "CHANGE_SHOP="+path, fmt.Sprintf("CHANGE_MOST=%d", i*span/points))
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		word := "nothing"
		for line := range bytes.Lines(out) {
			if text := string(bytes.TrimSpace(line)); strings.HasPrefix(text, "SAVED") || strings.HasPrefix(text, "NAMED") || strings.HasPrefix(text, "BARE") {
				word = text
			}
		}
		told[word]++
		after := open(t, path)
		n := boards(t, after)
		kept[n]++
		if n != 100 && n != 900 || word == "SAVED" && n != 900 {
			t.Fatalf("the disk failing after %d bytes left %d boards; told %q", i*span/points, n, word)
		}
		faults, err := after.Verify(ctx)
		if err = errors.Join(err, after.Close()); err != nil || len(faults) > 0 {
			t.Fatalf("the disk failing after %d bytes: %v %q", i*span/points, err, faults)
		}
	}
	t.Logf("%d points; told %v; boards left and how often %v", points, told, kept)
	if told["SAVED"] == 0 || told["NAMED"] == 0 || len(told) != 2 {
		t.Errorf("told %v: every failure is to be named, and a limit high enough is to be no hindrance", told)
	}
}
