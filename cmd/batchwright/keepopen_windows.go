package main

import (
	"bufio"
	"fmt"
	"io"

	"github.com/inconshreveable/mousetrap"
)

// keepOpen waits for a key when the program was started by dropping a file
// onto it: the window would take its last words with it.
func keepOpen(out io.Writer, in io.Reader) {
	if !mousetrap.StartedByExplorer() {
		return
	}
	fmt.Fprint(out, "\nPress Enter to close this window. ")
	_, _ = bufio.NewReader(in).ReadString('\n')
}
