package main

import (
	"context"
	"flag"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

var updateScripts = flag.Bool("update-scripts", false, "write what the commands printed into the scripts")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"batchwright": func() {
			os.Exit(run(context.Background(), world{
				args: os.Args[1:], out: os.Stdout, err: os.Stderr, getenv: os.Getenv, now: time.Now,
			}))
		},
	})
}

// TestScripts runs the command as its user does: one script a file.
func TestScripts(t *testing.T) {
	orders, err := filepath.Abs("../../testdata/orders")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:           "testdata/script",
		UpdateScripts: *updateScripts,
		Setup: func(env *testscript.Env) error {
			env.Setenv("ORDERS", orders)
			env.Setenv("GORACE", "atexit_sleep_ms=0") // the race detector waits a second at every exit
			env.Setenv("BATCHWRIGHT_SHOP", filepath.Join(env.WorkDir, "shop.db"))
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"exits": exits},
	})
}

// exits runs a command line that must end with the status given first.
func exits(ts *testscript.TestScript, _ bool, args []string) {
	want := args[0]
	err := ts.Exec(args[1], args[2:]...)
	got := "0"
	if err != nil {
		got = err.Error()
	}
	if got != want && got != "exit status "+want {
		ts.Fatalf("%v ended with %s, want %s", args[1:], got, want)
	}
}
