package intake

import (
	"errors"
	"strings"
	"testing"
	"unicode"

	"batchwright/orders"
	"batchwright/orders/intake/badbook"
	"batchwright/orders/settings"
)

// Every hostile file is named for what it is, or read with its faults cited;
// nothing panics and nothing it says can be obeyed by a terminal.
func TestBadBooks(t *testing.T) {
	all := badbook.All()
	if len(all) < 100 {
		t.Errorf("%d kinds of bad workbook, want at least 100", len(all))
	}
	for _, b := range all {
		t.Run(b.Name, func(t *testing.T) {
			if b.Large && raceDetector {
				t.Skip("large: read without the race detector")
			}
			order, err := Read(b.File, b.Make(), settings.Default())
			var refusal *Refusal
			switch {
			case b.Says == "" && err != nil:
				t.Errorf("refused: %v", err)
			case b.Says == "":
				checkCited(t, order)
			case !errors.As(err, &refusal):
				t.Errorf("err = %v, want a Refusal that says %q", err, b.Says)
			case !strings.Contains(refusal.Error(), b.Says):
				t.Errorf("refused as %q, want it to say %q", refusal.Error(), b.Says)
			case refusal.Fix == "":
				t.Error("the refusal names no next step")
			}
		})
	}
}

func checkCited(t *testing.T, order *orders.Order) {
	t.Helper()
	for _, p := range order.Findings {
		if p.Did == "" || p.Fix == "" {
			t.Errorf("problem without did or fix: %+v", p)
		}
		for _, text := range []string{p.Read, p.Did, p.Fix} {
			if strings.ContainsFunc(text, func(r rune) bool { return unicode.IsControl(r) && r != '\n' }) {
				t.Errorf("problem holds a control character: %q", text)
			}
		}
	}
}
