package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"time"

	"golang.org/x/term"
)

// world is everything outside the program: the commands touch nothing else.
type world struct {
	args     []string
	in       io.Reader // answers to questions; nil: nobody is there to ask
	out, err io.Writer
	getenv   func(string) string
	now      func() time.Time
}

// interactive reports whether a person watches the stream: then progress and
// styles are welcome.
func interactive(stream any) bool {
	f, ok := stream.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// Exit statuses, as the manual documents them.
const (
	exitDone       = 0
	exitErrors     = 1 // the order has errors; no batch workbook was written
	exitUsage      = 2
	exitIncomplete = 3 // written, but something cannot be made as asked
)

// exit is an error that carries the status to leave with. A nil cause means
// that everything worth saying has been said.
type exit struct {
	code  int
	cause error
}

func (e exit) Error() string {
	if e.cause == nil {
		return fmt.Sprintf("exit status %d", e.code)
	}
	return e.cause.Error()
}

func (e exit) Unwrap() error { return e.cause }

// refuse is an error that ends the command with status 1.
func refuse(format string, args ...any) error {
	return exit{exitErrors, fmt.Errorf(format, args...)}
}

// status prints what is left to say of an error and gives the exit status.
func status(w world, err error) int {
	if err == nil {
		return exitDone
	}
	var e exit
	if !errors.As(err, &e) {
		e = exit{exitUsage, err}
	}
	if e.cause != nil {
		fmt.Fprintf(w.err, "batchwright: %v\n", e.cause)
	}
	return e.code
}
