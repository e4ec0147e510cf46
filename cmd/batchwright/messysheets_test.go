package main

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"batchwright/jigplan/document"
	"batchwright/orders"
	"batchwright/orders/intake/messy"
)

// Every messy sheet goes through the command as its owner would send it: the
// exit status says whether it has errors, and each finding is in the JSON with
// its sheet, cell, what was done and how to mend it.
func TestMessySheetsThroughTheCommand(t *testing.T) {
	cases, err := messy.All()
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	for _, c := range cases {
		t.Run(c.Name, func(t *testing.T) {
			file := filepath.Join(folder, c.File)
			if err := os.WriteFile(file, c.Data, 0o644); err != nil {
				t.Fatal(err)
			}
			var out bytes.Buffer
			status := run(context.Background(), world{args: []string{"check", file, "--quiet", "--json", "-"}, out: &out, err: io.Discard, getenv: noShop(folder), now: time.Now})
			var doc checkRecord
			if err := json.Unmarshal(out.Bytes(), &doc); err != nil {
				t.Fatalf("%v: %s", err, out.String())
			}
			// A readable order may still ask for what cannot be made: 3, as plan ends.
			if want := statusOf(doc.Problems); status != want && (want != exitDone || status != exitIncomplete) {
				t.Errorf("ended with %d, want %d: %s", status, want, out.String())
			}
			for _, f := range c.Found {
				if !slices.ContainsFunc(doc.Problems, func(p document.Finding) bool { return answers(p, f) }) {
					t.Errorf("no %s at %q that says %q: %+v", f.Level, f.At, f.Says, doc.Problems)
				}
			}
		})
	}
}

// statusOf is how check must end: errors are the only thing it fails for.
func statusOf(problems []document.Finding) int {
	if slices.ContainsFunc(problems, func(p document.Finding) bool { return p.Level == string(orders.Error) }) {
		return exitErrors
	}
	return exitDone
}

func answers(p document.Finding, f messy.Finding) bool {
	return p.Level == string(f.Level) && p.Cell == f.Cell() && p.Did != "" && p.Fix != "" && strings.Contains(p.Read+"|"+p.Did+"|"+p.Fix, f.Says)
}

// noShop is a world whose shop file does not exist.
func noShop(folder string) func(string) string {
	return func(name string) string {
		if name == "BATCHWRIGHT_SHOP" {
			return filepath.Join(folder, "no-shop.db")
		}
		return ""
	}
}
