package pace_test

import (
	"testing"

	"batchwright/jigplan/pace"
)

// The conditions of problem 7-6 of the operations textbook that prints the
// table; its printed answer was not seen, the sum of 32 % is worked out by
// hand: 5 + 4 + 2 + 0 + 11 + 5 + 5 + 0.
func TestRelaxationsAddUp(t *testing.T) {
	got, ok := pace.Allow("personal", "basic fatigue", "standing", "position slightly awkward", "force: lift 45 lb",
		"light very inadequate", "noise intermittent very loud", "monotony low")
	if got != 32 || !ok {
		t.Errorf("%v %%, known %t, want 32", got, ok)
	}
	if _, ok := pace.Allow("personal", "weather"); ok {
		t.Error("a condition that is not in the table")
	}
	if len(pace.Relaxations) != 38 {
		t.Errorf("%d rows, the table has 38", len(pace.Relaxations))
	}
	for _, r := range pace.Relaxations {
		if r.Percent < 0 || r.Most < r.Percent {
			t.Errorf("%+v", r)
		}
	}
}
