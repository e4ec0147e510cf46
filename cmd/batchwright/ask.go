package main

import (
	"errors"
	"fmt"
	"strings"
)

// errNo is the answer no: nothing was done, and that was wanted.
var errNo = exit{exitErrors, errors.New("nothing was changed")}

// confirm asks before something that may be a mistake. Without a person at the
// terminal the flag that answers yes is named instead.
func (c *common) confirm(doubt, flag string) error {
	if !interactive(c.world.err) || !interactive(c.world.in) {
		return exit{exitUsage, fmt.Errorf("%s; if that is intended, add %s", doubt, flag)}
	}
	fmt.Fprintf(c.world.err, "%s. Go on? [y/N] ", doubt)
	switch c.answer() { // an end of input is no
	case "y", "yes":
		return nil
	}
	return errNo
}

// answer is the next line a person types, in lower case. It reads no further:
// another question may follow.
func (c *common) answer() string {
	var line []byte
	for b := make([]byte, 1); ; {
		if n, err := c.world.in.Read(b); n == 0 || err != nil || b[0] == '\n' {
			return strings.ToLower(strings.TrimSpace(string(line)))
		}
		line = append(line, b[0])
	}
}
