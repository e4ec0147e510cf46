package main

import (
	"context"
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// BenchmarkShopCommands runs whole commands on a rack of 10,000 boards.
func BenchmarkShopCommands(b *testing.B) {
	folder := b.TempDir()
	do := func(args ...string) {
		w := world{args: args, out: io.Discard, err: io.Discard, now: time.Now, getenv: func(name string) string {
			return map[string]string{"BATCHWRIGHT_SHOP": filepath.Join(folder, "shop.db"), "USER": "anna"}[name]
		}}
		if code := run(context.Background(), w); code != 0 {
			b.Fatalf("%q ended with %d", args, code)
		}
	}
	list := filepath.Join(folder, "rack.csv")
	if err := os.WriteFile(list, []byte(boardList("W", 10_000)), 0o644); err != nil {
		b.Fatal(err)
	}
	do("rack", "import", list)
	for name, args := range map[string][]string{
		"RackListJSON":   {"rack", "list", "--json", "-"},
		"RackListScreen": {"rack", "list"},
		"JobList":        {"job", "list", "--json", "-"},
		"Verify":         {"shop", "verify"},
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				do(args...)
			}
		})
	}
}
