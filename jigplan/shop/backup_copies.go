package shop

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// before is what the numbered copies of a shop file are called: shop.db.before-1.
const before = ".before-"

// companion is what SQLite and restoring put beside a shop file.
var companion = regexp.MustCompile(`^(-wal|-shm|-journal|\.lock|\.before-.*)$`)

// IsCompanion reports whether a file is named as one that belongs to a shop
// file: its log, its lock, a numbered copy. It need not be there.
func IsCompanion(path, name string) bool {
	end, found := strings.CutPrefix(filepath.Base(name), filepath.Base(path))
	return found && companion.MatchString(end)
}

// Copies lists the copies that restores made of a shop file, the newest first.
func Copies(path string) []string {
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		return nil
	}
	var copies []string
	for _, e := range entries {
		end, found := strings.CutPrefix(e.Name(), filepath.Base(path)+before)
		info, err := e.Info()
		if found && !companion.MatchString(end[max(len(end)-4, 0):]) && err == nil && info.Size() > 0 {
			copies = append(copies, filepath.Join(filepath.Dir(path), e.Name()))
		}
	}
	slices.SortFunc(copies, func(a, b string) int { return copyNumber(path, b) - copyNumber(path, a) })
	return copies
}

// copyNumber is the number of a copy; 0 has none.
func copyNumber(path, copied string) int {
	digits, _ := strings.CutPrefix(filepath.Base(copied), filepath.Base(path)+before)
	n, err := strconv.Atoi(strings.TrimSuffix(digits, "-wal"))
	if err != nil {
		return 0
	}
	return n
}

// nextCopy is a number above all that are there, finished or not.
func nextCopy(path string) int {
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		return 1
	}
	most := 0
	for _, e := range entries {
		most = max(most, copyNumber(path, e.Name()))
	}
	return most + 1
}

// Missing is the error of a shop file that is gone while its copies are there.
func Missing(path string) error {
	copies := Copies(path)
	if len(copies) == 0 {
		return nil
	}
	return fmt.Errorf("%w: %s, but there are copies of it: get the newest back with batchwright shop restore %s --shop %s",
		ErrMissing, path, quoted(copies[0]), quoted(path))
}

// quoted is a file name as a shell takes it.
func quoted(path string) string {
	if strings.ContainsAny(path, " \t'\"$&;()*?<>|\\") {
		return strconv.Quote(path)
	}
	return path
}
