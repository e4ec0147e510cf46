//go:build !linux

package shop

import (
	"path/filepath"
	"strings"
)

// onNetwork reports whether a folder is named as one of another machine; drives
// that only look local are not found out here.
func onNetwork(folder string) bool {
	full, err := filepath.Abs(folder)
	return err == nil && strings.HasPrefix(filepath.ToSlash(full), "//")
}
