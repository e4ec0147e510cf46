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
	testscript.Main(allTests{m}, map[string]func(){
		"batchwright": func() {
			os.Exit(run(context.Background(), world{
				args: os.Args[1:], out: os.Stdout, err: os.Stderr, getenv: os.Getenv, now: time.Now,
			}))
		},
	})
}

// TestScripts runs the command as its user does: one script a file.
func TestScripts(t *testing.T) {
	runScripts(t, testscript.Params{Dir: "testdata/script"}, filepath.Dir(builtProgram(t)))
}

// TestScriptsUnderTheRaceDetector runs, when the tests have it, the scripts that
// go through every stage with it inside the command as well.
func TestScriptsUnderTheRaceDetector(t *testing.T) {
	if slow == 1 {
		t.Skip("the tests are built without the race detector")
	}
	runScripts(t, testscript.Params{Files: []string{"testdata/script/plan.txtar", "testdata/script/quoteplan.txtar", "testdata/script/new.txtar"}}, "")
}

// runScripts runs scripts with the command in a folder; "": this test itself.
func runScripts(t *testing.T, p testscript.Params, folder string) {
	orders, err := filepath.Abs("../../testdata/orders")
	if err != nil {
		t.Fatal(err)
	}
	p.UpdateScripts = *updateScripts
	p.Cmds = map[string]func(*testscript.TestScript, bool, []string){"exits": exits}
	p.Setup = func(env *testscript.Env) error {
		env.Setenv("ORDERS", orders)
		env.Setenv("GORACE", "atexit_sleep_ms=0") // the race detector waits a second at every exit
		env.Setenv("BATCHWRIGHT_SHOP", filepath.Join(env.WorkDir, "shop.db"))
		if folder != "" {
			env.Setenv("PATH", folder+string(os.PathListSeparator)+env.Getenv("PATH"))
		}
		return nil
	}
	testscript.Run(t, p)
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
