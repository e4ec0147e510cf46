package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"

	"batchwright/jigplan/shop"
)

// Whole commands on a shop with 10,000 boards on the rack and 2,000 jobs, 50 of
// them open. Goals on an idle machine: the lists under 150 ms, verify under 1 s,
// accepting under 100 ms beyond planning (JobAccept runs from the plan in hand
// to the commit; the job is cancelled off the clock).

func BenchmarkShopCommands(b *testing.B) {
	s := newBigShop(b)
	for name, args := range map[string][]string{
		"RackListJSON":   {"rack", "list", "--json", "-"},
		"RackListScreen": {"rack", "list"},
		"JobListJSON":    {"job", "list", "--json", "-"},
		"JobListScreen":  {"job", "list"},
		"JobShow":        {"job", "show", "1000"},
		"Verify":         {"shop", "verify"},
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				s.do(args...)
			}
		})
	}
	b.Run("JobAccept", s.accept)
}

type bigShop struct {
	*testing.B
	folder string
}

func (s bigShop) world(args ...string) world {
	return world{args: args, out: io.Discard, err: io.Discard, now: time.Now, getenv: func(name string) string {
		return map[string]string{"BATCHWRIGHT_SHOP": filepath.Join(s.folder, "shop.db"), "USER": "anna"}[name]
	}}
}

func (s bigShop) do(args ...string) {
	if code := run(context.Background(), s.world(args...)); code != 0 {
		s.Fatalf("%q ended with %d", args, code)
	}
}

const benchOrder = "Box,Count,Length,Width,Height,Measured,Thickness,Wood,Finger\nTea,4,10,6,3-3/8,outside,1/2,walnut,1/4\n"

func newBigShop(b *testing.B) bigShop {
	s := bigShop{b, b.TempDir()}
	for name, text := range map[string]string{"rack.csv": boardList("W", 10_000), "used.csv": boardList("U", 2010), "order.csv": benchOrder} {
		if err := os.WriteFile(filepath.Join(s.folder, name), []byte(text), 0o644); err != nil {
			b.Fatal(err)
		}
	}
	s.do("rack", "import", filepath.Join(s.folder, "used.csv"))
	s.do("job", "accept", "--again", filepath.Join(s.folder, "order.csv"), "--think", "1s", "-o", os.DevNull)
	s.do("rack", "import", filepath.Join(s.folder, "rack.csv"))
	s.multiply(2000)
	return s
}

// multiply makes of the one accepted job so many, each with its papers and a
// board; the last 50 are open.
func (s bigShop) multiply(n int) {
	week, err := shop.Open(context.Background(), filepath.Join(s.folder, "shop.db"), shop.Options{})
	if err != nil {
		s.Fatal(err)
	}
	defer week.Close()
	if err := week.Update(context.Background(), "anna", func(tx *shop.Tx) (string, error) {
		for i := 2; i <= n; i++ {
			state, board := "finished", "used"
			if i > n-50 {
				state, board = "open", "reserved"
			}
			for _, q := range []string{
				fmt.Sprintf("INSERT INTO jobs (id, name, customer, state, due, held, accepted, closed, revision, note) SELECT %d, name, customer, '%s', due, held, accepted, closed, revision, note FROM jobs WHERE id = 1", i, state),
				fmt.Sprintf("INSERT INTO revisions SELECT %d, number, at, kind, file, sha256, profile, boxes, parts, feet, cost, price, minutes, p80, '[\"U%d\"]', factors FROM revisions WHERE job = 1", i, i+10),
				fmt.Sprintf("INSERT INTO papers SELECT %d, number, kind, sha256, data FROM papers WHERE job = 1", i),
				fmt.Sprintf("UPDATE boards SET state = '%s', job = %d WHERE id = 'U%d'", board, i, i+10),
			} {
				if _, err := tx.Exec(q); err != nil {
					return "", err
				}
			}
		}
		return "many jobs", nil
	}); err != nil {
		s.Fatal(err)
	}
}

// accept takes a planned order on, again and again.
func (s bigShop) accept(b *testing.B) {
	ctx := context.Background()
	c := &common{world: s.world(), think: time.Second, quiet: true}
	ready, _, err := c.planJob(ctx, filepath.Join(s.folder, "order.csv"), []byte(benchOrder), acceptance{}, 0)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		job, err := c.takeOn(ctx, ready)
		if err != nil {
			b.Fatal(err)
		}
		b.StopTimer()
		s.do("job", "cancel", jobID(job))
		b.StartTimer()
	}
}
