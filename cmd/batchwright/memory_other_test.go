//go:build !linux

package main

import "os"

// peakMemory is known on Linux only.
func peakMemory(*os.ProcessState) int64 { return 0 }
