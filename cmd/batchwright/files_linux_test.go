package main

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// What is no file, or never ends, is named at once: nothing waits, nothing
// fills the memory.
func TestInputsThatAreNoFiles(t *testing.T) {
	folder := t.TempDir()
	pipe, huge, limit := filepath.Join(folder, "pipe"), filepath.Join(folder, "huge.csv"), filepath.Join(folder, "limit.csv")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Skip(err)
	}
	for name, size := range map[string]int64{huge: maxBytes + 1, limit: maxBytes} {
		if err := os.WriteFile(name, nil, 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Truncate(name, size); err != nil {
			t.Skip("no sparse files here: ", err)
		}
	}
	for path, want := range map[string]string{
		pipe:              "a device or a pipe",
		"/dev/zero":       "a device or a pipe",
		"/dev/null":       "a device or a pipe",
		folder:            "is a folder",
		huge:              "larger than 64 MB",
		"/proc/self/stat": "", // says that it is empty, and is not
		limit:             "",
	} {
		data, err := readFile(path)
		switch {
		case want == "" && (err != nil || len(data) == 0):
			t.Errorf("%s: %d bytes, %v", path, len(data), err)
		case want != "" && (err == nil || !strings.Contains(err.Error(), want)):
			t.Errorf("%s: %v, want %q", path, err, want)
		}
	}
}
