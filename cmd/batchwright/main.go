// Command batchwright plans batches of finger-jointed boxes: an order workbook
// goes in, a batch workbook to carry to the saw comes out. This package holds
// flags, files, the clock and the exit status; what is decided is decided in
// the packages it calls.
package main

import (
	"context"
	"os"
	"os/signal"
	"time"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	w := world{
		args:   os.Args[1:],
		in:     os.Stdin,
		out:    os.Stdout,
		err:    os.Stderr,
		getenv: os.Getenv,
		now:    time.Now,
	}
	code := run(ctx, w)
	stop()
	keepOpen(os.Stderr, os.Stdin)
	os.Exit(code)
}
