package main

import (
	"path/filepath"
	"testing"
)

// Four counts of three options, each planned for itself: the goal is 10 s at
// --think 1s.
func BenchmarkQuoteFourBreaksThreeOptions(b *testing.B) {
	b.Setenv("BATCHWRIGHT_SHOP", filepath.Join(b.TempDir(), "shop.db"))
	measureCommand(b, "quote", "../../testdata/orders/quote-forty.xlsx", "--from", "2027-03-08", "--think", "1s", "--quiet", "--dry-run", "-o", filepath.Join(b.TempDir(), "out.xlsx"))
}
