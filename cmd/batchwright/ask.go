package main

import (
	"bufio"
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
	answer, _ := bufio.NewReader(c.world.in).ReadString('\n') // an end of input is no
	switch strings.ToLower(strings.TrimSpace(answer)) {
	case "y", "yes":
		return nil
	}
	return errNo
}
