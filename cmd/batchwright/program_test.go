package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"sync"
	"testing"
)

// programFolder holds the program as it is shipped, built once for all tests
// that run it in processes of its own: what it does there is the same as under
// the race detector, in a tenth of the time.
var programFolder = sync.OnceValues(func() (folder string, err error) {
	if folder, err = os.MkdirTemp("", "batchwright-program"); err != nil {
		return "", err
	}
	builtIn = folder
	build := exec.Command("go", "build", "-o", filepath.Join(folder, programName()), ".")
	build.Env = append(os.Environ(), "CGO_ENABLED=0")
	if out, err := build.CombinedOutput(); err != nil {
		return folder, fmt.Errorf("go build: %w\n%s", err, out)
	}
	return folder, nil
})

// builtIn is that folder once there is one.
var builtIn string

func programName() string {
	if runtime.GOOS == "windows" {
		return "batchwright.exe"
	}
	return "batchwright"
}

// builtProgram is where it lies. A short run under the race detector leaves out
// what it is for: the same program does the same in a run without.
func builtProgram(t testing.TB) string {
	t.Helper()
	if slow > 1 && testing.Short() {
		t.Skip("skipped: the program as it is shipped has no race detector in it, and -short was given")
	}
	folder, err := programFolder()
	if err != nil {
		t.Fatal(err)
	}
	return filepath.Join(folder, programName())
}

// allTests runs the tests and takes the program away again.
type allTests struct{ *testing.M }

func (a allTests) Run() int {
	defer func() { _ = os.RemoveAll(builtIn) }()
	return a.M.Run()
}
