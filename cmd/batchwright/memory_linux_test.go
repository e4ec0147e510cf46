package main

import (
	"os"
	"syscall"
)

// peakMemory is the most memory a finished process had, in bytes.
func peakMemory(p *os.ProcessState) int64 {
	return p.SysUsage().(*syscall.Rusage).Maxrss << 10
}
