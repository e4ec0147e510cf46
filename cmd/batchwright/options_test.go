package main

import (
	"context"
	"testing"
	"time"
)

// The search time is a cap: none asked for must not become the default work,
// and no clock may end the search, or the plan would not repeat.
func TestNoSearchTimeIsTheLeastWorkWithoutAClock(t *testing.T) {
	got := (&common{think: 0}).options(context.Background())
	if got.Limits.Think <= 0 || got.Limits.Think > 10*time.Millisecond {
		t.Errorf("work of %v, want the least above zero (zero stands for the default)", got.Limits.Think)
	}
	if !got.Limits.Deadline.IsZero() || !got.Finish.IsZero() {
		t.Errorf("deadlines %v and %v, want none", got.Limits.Deadline, got.Finish)
	}
}
