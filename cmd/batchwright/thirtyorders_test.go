package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"batchwright/orders"
	"batchwright/orders/intake/messy"
)

// Thirty orders as people write them, with what a person would expect of each,
// go through check, plan and quote: none ends without a plan and a price unless
// it has one question to answer, and then check, plan and quote all ask it.
func TestThirtyOrdersReachTheirPlanAndPrice(t *testing.T) {
	cases, err := messy.All()
	if err != nil {
		t.Fatal(err)
	}
	tried := 0
	for _, c := range cases {
		if !strings.HasPrefix(c.Name, "11-orders: ") {
			continue
		}
		tried++
		t.Run(c.Name, func(t *testing.T) {
			if testing.Short() && tried%6 != 1 {
				t.Skip("one in six with -short")
			}
			questions := 0
			for _, f := range c.Found {
				if f.Level == orders.Error {
					questions++
				}
			}
			if questions > 1 {
				t.Errorf("%d questions, want one at most", questions)
			}
			folder := t.TempDir()
			file := filepath.Join(folder, c.File)
			if err := os.WriteFile(file, c.Data, 0o644); err != nil {
				t.Fatal(err)
			}
			typed := func(args ...string) (int, string) {
				var out bytes.Buffer
				status := run(context.Background(), world{args: args, out: &out, err: &out, getenv: noShop(folder),
					now: func() time.Time { return time.Date(2026, 11, 30, 9, 0, 0, 0, time.UTC) }})
				return status, out.String()
			}
			want := exitDone
			if questions > 0 {
				want = exitErrors
			}
			if status, said := typed("check", file); status != want {
				t.Errorf("check ended with %d, want %d\n%s", status, want, said)
			}
			if status, said := typed("plan", file, "--think", "0s"); status != want {
				t.Errorf("plan ended with %d, want %d\n%s", status, want, said)
			}
			status, said := typed("quote", file, "--think", "0s")
			if status == exitIncomplete { // no price yet: type what the screen says
				for _, set := range regexp.MustCompile(`shop set ("[^"]+"|\w+) (\d+)`).FindAllStringSubmatch(said, -1) {
					if status, said := typed("shop", "set", strings.Trim(set[1], `"`), set[2]); status != exitDone {
						t.Errorf("%s ended with %d: %s", set[0], status, said)
					}
				}
				status, said = typed("quote", file, "--think", "0s")
			}
			if status != want {
				t.Errorf("quote ended with %d, want %d\n%s", status, want, said)
			}
			for _, made := range []string{"order-batch.xlsx", "order-count.html", "order-quote.xlsx"} {
				if _, err := os.Stat(filepath.Join(folder, made)); want == exitDone && err != nil {
					t.Error(err)
				}
			}
		})
	}
	if tried != 30 {
		t.Errorf("%d orders, want 30", tried)
	}
}
