package disk

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

var full = flag.Bool("shop.full", false, "2,000 replacements instead of a few")

var errFault = errors.New("the disk failed here")

var (
	oldText = strings.Repeat("old\n", 5000)
	newText = strings.Repeat("new\n", 7000)
)

// ways are the calls that make a file hold new content, and what they may find.
var ways = map[string]struct {
	do  func(f Files, path string, content io.Reader) error
	old bool // a file is there before
}{
	"replace": {func(f Files, path string, content io.Reader) error { return f.Replace(path, content, 0o644) }, true},
	"first":   {func(f Files, path string, content io.Reader) error { return f.Replace(path, content, 0o644) }, false},
	"new":     {func(f Files, path string, content io.Reader) error { return f.New(path, content, 0o644) }, false},
}

func start(t *testing.T, old bool) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "out.xlsx")
	if old {
		if err := os.WriteFile(path, []byte(oldText), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return path
}

// look reads what is there after a fault or a death, as the next start finds it.
func look(t *testing.T, where, path string, old bool) (isNew bool) {
	t.Helper()
	Files{}.Clean(filepath.Dir(path))
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if e.Name() != "out.xlsx" {
			t.Errorf("%s: %s stays", where, e.Name())
		}
	}
	data, err := os.ReadFile(path)
	switch {
	case errors.Is(err, os.ErrNotExist) && !old, err == nil && old && string(data) == oldText:
		return false
	case err == nil && string(data) == newText:
		return true
	case err == nil && !old && len(data) == 0:
		return false // a name that was reserved
	}
	t.Errorf("%s: %d bytes are there (%v): neither the old file nor the new one", where, len(data), err)
	return false
}

// Each call fails once: the file is the old one or the new one whole, an error
// was given, and nothing stays beside it.
func TestEachCallFails(t *testing.T) {
	counts := map[string]int{}
	for name, way := range ways {
		for nth := 1; ; nth++ {
			path, calls, failed := start(t, way.old), 0, ""
			f := Files{Before: func(call, _ string) error {
				if calls++; calls == nth {
					failed = call
					return errFault
				}
				return nil
			}}
			err := way.do(f, path, strings.NewReader(newText))
			where := fmt.Sprintf("%s: call %d, %s", name, nth, failed)
			isNew := look(t, where, path, way.old)
			if failed == "" {
				if err != nil || !isNew {
					t.Errorf("%s: no call failed, and %v", where, err)
				}
				break
			}
			counts[failed]++
			if !errors.Is(err, errFault) && failed != "remove" {
				t.Errorf("%s: said %v", where, err)
			}
			if err == nil && !isNew {
				t.Errorf("%s: said to be written, and is not", where)
			}
		}
	}
	t.Logf("failed calls: %v", counts)
	for _, call := range []string{"create", "write", "sync", "rename", "remove"} {
		if counts[call] == 0 {
			t.Errorf("no %s was reached", call)
		}
	}
}

// TestDieHere is a process that dies at a call: it is killed, or its disk is
// full after so many bytes.
func TestDieHere(t *testing.T) {
	path := os.Getenv("DIE_PATH")
	if path == "" {
		t.Skip("run by TestEachCallKilled in a process of its own")
	}
	var nth, calls int
	if _, err := fmt.Sscan(os.Getenv("DIE_AT"), &nth); err != nil {
		t.Fatal(err)
	}
	f := Files{Before: func(string, string) error {
		if calls++; calls == nth {
			self, err := os.FindProcess(os.Getpid())
			if err == nil {
				err = self.Kill()
			}
			if err == nil {
				select {}
			}
			return err
		}
		return nil
	}}
	if err := ways[os.Getenv("DIE_WAY")].do(f, path, strings.NewReader(newText)); err != nil {
		t.Fatal(err)
	}
}

// Killed at each call: the old file or the new one, and the next start cleans up.
func TestEachCallKilled(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	killed := 0
	for name, way := range ways {
		for nth := 1; ; nth++ {
			path := start(t, way.old)
			cmd := exec.Command(self, "-test.run", "^TestDieHere$")
			cmd.Env = append(os.Environ(), "DIE_PATH="+path, "DIE_WAY="+name, fmt.Sprint("DIE_AT=", nth))
			err := cmd.Run()
			isNew := look(t, fmt.Sprintf("%s: killed at call %d", name, nth), path, way.old)
			if err == nil {
				if !isNew {
					t.Errorf("%s: it was let end, and the file is not there", name)
				}
				break
			}
			killed++
		}
	}
	t.Logf("%d kills", killed)
	if killed < 15 {
		t.Errorf("%d kills: the calls are not reached", killed)
	}
}

// breaks is content that cannot be read to its end.
type breaks struct{ io.Reader }

func (b breaks) Read(p []byte) (int, error) {
	n, err := b.Reader.Read(p)
	if err == io.EOF {
		err = errFault
	}
	return n, err
}

func TestContentThatBreaksOff(t *testing.T) {
	path := start(t, true)
	err := (Files{}).Replace(path, breaks{strings.NewReader(newText[:9000])}, 0o644)
	if isNew := look(t, "broken off", path, true); isNew || !errors.Is(err, errFault) {
		t.Errorf("new %v, said %v", isNew, err)
	}
}

func TestNewReplacesNothing(t *testing.T) {
	path := start(t, true)
	err := (Files{}).New(path, strings.NewReader(newText), 0o644)
	if isNew := look(t, "new", path, true); isNew || !errors.Is(err, os.ErrExist) {
		t.Errorf("new %v, said %v", isNew, err)
	}
}

// A reader that opens the file again and again finds the old content or the new
// one, never a mixture and never nothing.
func TestReaderBesideReplacements(t *testing.T) {
	path := start(t, true)
	n := 50
	if *full {
		n = 2000
	}
	done, failed := make(chan bool), make(chan error, 1)
	go func() {
		defer close(failed)
		for {
			select {
			case <-done:
				return
			default:
			}
			data, err := os.ReadFile(path)
			if err != nil || !bytes.Equal(data, []byte(oldText)) && !bytes.Equal(data, []byte(newText)) {
				failed <- fmt.Errorf("the reader found %d bytes: %v", len(data), err)
				return
			}
		}
	}()
	for i := range n {
		text := map[bool]string{true: oldText, false: newText}[i%2 == 0]
		if err := (Files{}).Replace(path, strings.NewReader(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	close(done)
	if err := <-failed; err != nil {
		t.Error(err)
	}
}

// What a living process prepares is never taken for abandoned.
func TestCleanLeavesTheLiving(t *testing.T) {
	folder := t.TempDir()
	temp, err := Files{}.Temp(folder)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(temp.Path("x"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	Files{}.Clean(folder)
	if _, err := os.Stat(temp.Path("x")); err != nil {
		t.Errorf("what is being prepared was cleaned up: %v", err)
	}
	temp.Remove()
	if left, _ := os.ReadDir(folder); len(left) > 0 {
		t.Errorf("%d files stay", len(left))
	}
}
