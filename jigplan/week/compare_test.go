package week_test

import (
	"os"
	"strconv"
	"testing"
	"time"

	"batchwright/jigplan/check"
	"batchwright/jigplan/week"

	"pgregory.net/rapid"
)

// The engine against a list scheduler that shares nothing with it, on weeks
// with dates that cannot all be kept. BATCHWRIGHT_WEEKS=20 measures so many
// weeks with the default work, and gives the other scheduler five seconds each.
func TestAStrongSchedulerIsNotBetter(t *testing.T) {
	weeks, limits, tries, limit := 3, week.Limits{Work: 2000}, 300, time.Duration(0)
	first := uint64(200)
	if n, err := strconv.Atoi(os.Getenv("BATCHWRIGHT_WEEKS")); err == nil {
		weeks, limits, tries, limit = n, week.Limits{}, 1<<40, 5*time.Second
		if n, err := strconv.Atoi(os.Getenv("FIRST")); err == nil {
			first = uint64(n)
		}
		if n, err := strconv.Atoi(os.Getenv("SECS")); err == nil {
			limits.Think = time.Duration(n) * time.Second
		}
	} else if testing.Short() {
		weeks = 1
	}
	sum, sumOther, sumBound := 0, 0, 0
	for k := range uint64(weeks) {
		in, jobs := randomWeek(first + k)
		s := week.Schedule(in, limits)
		for _, err := range check.Schedule(jobs, in.Week, s) {
			t.Error(err)
		}
		other := newStrong(jobs, in.Halves, in.Week).search(tries, limit)
		t.Logf("week %d, %d jobs: %d days late, bound %d, the other scheduler %d; stop %s", first+k, len(jobs), s.LateWeight, s.LateBound, other, s.Stop)
		if s.LateBound > other || len(s.Unplaced) > 0 {
			t.Errorf("week %d: bound %d, the other scheduler %d, unplaced %v", first+k, s.LateBound, other, s.Unplaced)
		}
		sum, sumOther, sumBound = sum+s.LateWeight, sumOther+other, sumBound+s.LateBound
	}
	t.Logf("in all %d, bound %d, the other scheduler %d", sum, sumBound, sumOther)
	if float64(sum) > 1.03*float64(sumOther) {
		t.Errorf("%d days late in all, the other scheduler %d", sum, sumOther)
	}
}

// Runs of free units, against a walk unit by unit.
func TestRunsOfUnits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		free := rapid.SliceOfN(rapid.IntRange(0, 9), 1, 300).Draw(t, "free")
		from, n := rapid.IntRange(0, len(free)).Draw(t, "from"), rapid.IntRange(1, 90).Draw(t, "units")
		open := make([]bool, len(free))
		for u := range free {
			open[u] = free[u] > 0
		}
		want, have := -1, 0
		for u := from; u < len(open) && want < 0; u++ {
			if have++; !open[u] {
				have = 0
			}
			if have == n {
				want = u - n + 1
			}
		}
		if got := week.FirstRun(open, from, n); got != want {
			t.Fatalf("run of %d from %d: %d, want %d", n, from, got, want)
		}
	})
}
