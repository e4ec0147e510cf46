package shop

import (
	"flag"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"
)

var full = flag.Bool("shop.full", false, "200 kills instead of a few")

// TestMigrateHere is the process that is killed: it brings the file named in
// the environment up to date.
func TestMigrateHere(t *testing.T) {
	path := os.Getenv("MIGRATE_SHOP")
	if path == "" {
		t.Skip("run by TestSurvivesKilledMigrations in a process of its own")
	}
	open(t, path)
}

// Killed at any moment of a migration, the file is at one version or another,
// whole, and opens.
func TestSurvivesKilledMigrations(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	n := max(12/slow, 3)
	if *full {
		n = 200
	}
	r := rand.New(rand.NewPCG(5, 5))
	versions := map[int]int{}
	span := 20 * time.Millisecond // what a migration takes that is let end
	for range n {
		path := filepath.Join(t.TempDir(), "shop.db")
		old := atVersion(t, path, 1)
		if _, err := old.Exec("INSERT INTO history (at, who, what) VALUES ('2026-01-01T00:00:00.000Z', 'anna', 'first')"); err != nil {
			t.Fatal(err)
		}
		if err := old.Close(); err != nil {
			t.Fatal(err)
		}
		cmd := exec.Command(self, "-test.run", "^TestMigrateHere$")
		cmd.Env = append(os.Environ(), "GORACE=atexit_sleep_ms=0", "MIGRATE_SHOP="+path)
		began := time.Now()
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.AfterFunc(time.Duration(r.Int64N(int64(span+span/4))), func() { _ = cmd.Process.Kill() })
		if err := cmd.Wait(); err == nil {
			span = (3*span + time.Since(began)) / 4
		} else {
			span += span / 20
		}
		state, err := inspect(ctx, path)
		if err != nil {
			t.Fatal(err)
		}
		versions[state.version]++
		s := open(t, path)
		if faults, err := s.Verify(ctx); err != nil || len(faults) > 0 {
			t.Fatalf("%v %q", err, faults)
		}
		var first bool
		if err := s.View(ctx, func(tx *Tx) error {
			return tx.QueryRow("SELECT EXISTS (SELECT 1 FROM history WHERE what = 'first')").Scan(&first)
		}); err != nil || !first {
			t.Fatalf("what was there before is gone (%v)", err)
		}
	}
	t.Logf("versions found after the kill: %v", versions)
}
