package disk

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"strings"
	"syscall"
	"testing"
)

// TestFullHere is a process that may not let any file grow beyond so many bytes.
func TestFullHere(t *testing.T) {
	path := os.Getenv("FULL_PATH")
	if path == "" {
		t.Skip("run by TestFullDisk in a process of its own")
	}
	var most uint64
	if _, err := fmt.Sscan(os.Getenv("FULL_MOST"), &most); err != nil {
		t.Fatal(err)
	}
	signal.Ignore(syscall.SIGXFSZ)
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: most, Max: most}); err != nil {
		t.Fatal(err)
	}
	err := (Files{}).Replace(path, strings.NewReader(newText), 0o644)
	if err != nil && !errors.Is(err, syscall.EFBIG) {
		t.Fatal(err)
	}
	if err != nil {
		os.Exit(7)
	}
}

// A disk that is full after so many bytes: the old file stays, and it is said.
func TestFullDisk(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	points := 6
	if *full {
		points = 200
	}
	written := 0
	for i := range points {
		most := i * (len(newText) + 5000) / (points - 1)
		path := start(t, true)
		cmd := exec.Command(self, "-test.run", "^TestFullHere$")
		cmd.Env = append(os.Environ(), "FULL_PATH="+path, fmt.Sprint("FULL_MOST=", most))
		err := cmd.Run()
		isNew := look(t, fmt.Sprintf("full after %d bytes", most), path, true)
		var ended *exec.ExitError
		said := errors.As(err, &ended) && ended.ExitCode() == 7
		if isNew != (err == nil) || !isNew && !said || isNew != (most >= len(newText)) {
			t.Errorf("full after %d bytes: new %v, ended with %v", most, isNew, err)
		}
		if isNew {
			written++
		}
	}
	if written == 0 || written == points {
		t.Errorf("%d of %d were written: the limit is not between", written, points)
	}
}
