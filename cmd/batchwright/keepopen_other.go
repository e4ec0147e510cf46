//go:build !windows

package main

import "io"

// keepOpen is needed only where a window closes with the program.
func keepOpen(io.Writer, io.Reader) {}
