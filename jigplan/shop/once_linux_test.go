package shop

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// told is what a process whose disk failed once was told, and by what.
type told struct {
	Open, First, Again, Second, Close string
	Struck                            bool
}

// word is what an error says: nothing, its name, or something without a name.
func word(err error) string {
	switch {
	case err == nil:
		return "saved"
	case errors.Is(err, ErrDisk), errors.Is(err, ErrFull), errors.Is(err, ErrReadOnly), errors.Is(err, ErrBusy):
		return "named"
	}
	return "bare: " + err.Error()
}

// TestFailOnceHere is the process whose disk fails once: from its opening of
// the file on, or from its first change on. It makes that change, makes it
// again when it failed, makes a second one, and says what it was told.
func TestFailOnceHere(t *testing.T) {
	path := os.Getenv("FAIL_SHOP")
	if path == "" {
		t.Skip("run by TestSurvivesADiskThatFailsOnce in a process of its own")
	}
	var nth int
	if _, err := fmt.Sscan(os.Getenv("FAIL_AT"), &nth); err != nil {
		t.Fatal(err)
	}
	if err := failingDisk(); err != nil {
		t.Fatal(err)
	}
	var said told
	if os.Getenv("FAIL_FROM") == "open" {
		faults.arm(os.Getenv("FAIL_KIND"), nth)
	}
	s, err := Open(ctx, path, Options{Now: noon})
	said.Open = word(err)
	if err != nil {
		s = open(t, path)
	}
	if os.Getenv("FAIL_FROM") == "change" {
		faults.arm(os.Getenv("FAIL_KIND"), nth)
	}
	err = s.Update(ctx, "anna", putBoards("X", 200))
	if said.First = word(err); err != nil {
		said.Again = word(s.Update(ctx, "anna", putBoards("X", 200)))
	}
	said.Second = word(s.Update(ctx, "anna", putBoards("Y", 20)))
	said.Close = word(s.Close())
	said.Struck = faults.struck()
	if err := json.NewEncoder(os.Stdout).Encode(said); err != nil {
		t.Fatal(err)
	}
}

// failOnce runs the process and looks at what it left.
func failOnce(t *testing.T, self, from, kind string, nth int) told {
	t.Helper()
	path := filepath.Join(t.TempDir(), "shop.db")
	if from == "change" {
		if err := open(t, path).Close(); err != nil {
			t.Fatal(err)
		}
	}
	cmd := exec.Command(self, "-test.run", "^TestFailOnceHere$")
	cmd.Env = append(os.Environ(), "GORACE=atexit_sleep_ms=0", "FAIL_SHOP="+path, "FAIL_FROM="+from, "FAIL_KIND="+kind, fmt.Sprint("FAIL_AT=", nth))
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	var said told
	if err := json.NewDecoder(bytes.NewReader(out)).Decode(&said); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	s := open(t, path)
	faults, err := s.Verify(ctx)
	if err != nil || len(faults) > 0 {
		t.Fatalf("%s %d from %s on: %v %q", kind, nth, from, err, faults)
	}
	n := map[string]int{}
	for _, prefix := range []string{"X", "Y"} {
		var count int
		if err := s.View(ctx, func(tx *Tx) error {
			return tx.QueryRow("SELECT count(*) FROM boards WHERE id LIKE ?", prefix+"%").Scan(&count)
		}); err != nil {
			t.Fatal(err)
		}
		n[prefix] = count
	}
	saved := said.First == "saved" || said.Again == "saved"
	if n["X"] != 0 && n["X"] != 200 || saved && n["X"] != 200 || n["Y"] != 0 && n["Y"] != 20 || said.Second == "saved" && n["Y"] != 20 {
		t.Fatalf("%s %d from %s on: told %+v, and there are %v boards", kind, nth, from, said, n)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return said
}

// A disk that fails at one call and works at all others: the failure is named,
// nothing half is there, what was said to be saved is there, and the next change
// goes through without anybody opening the file anew.
func TestSurvivesADiskThatFailsOnce(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	counts := map[string]int{}
	for _, from := range []string{"open", "change"} {
		for _, kind := range faultKinds {
			for nth := 1; ; nth += step(nth) {
				said := failOnce(t, self, from, kind, nth)
				if !said.Struck {
					break
				}
				failures := 0
				for what, w := range map[string]string{"open": said.Open, "first change": said.First, "second change": said.Second, "close": said.Close} {
					switch w {
					case "named":
						failures++
						counts["named at "+what]++
					case "saved":
					default:
						t.Errorf("%s %d from %s on: %s was told %q", kind, nth, from, what, w)
					}
				}
				if failures == 0 {
					counts["harmless: "+kind]++
				}
				if failures > 1 || said.Again != "" && said.Again != "saved" {
					t.Errorf("%s %d from %s on: the disk failed once, and more than one change was refused: %+v", kind, nth, from, said)
				}
				counts["faults"]++
			}
		}
	}
	t.Logf("%v", counts)
	if counts["named at open"] == 0 || counts["named at first change"] == 0 {
		t.Errorf("%v: no fault reached the opening or the change", counts)
	}
}

// step is every call in a full run, else fewer and fewer.
func step(nth int) int {
	if *full {
		return 1
	}
	return nth * slow * 2
}
