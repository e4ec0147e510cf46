package intake

import (
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"batchwright/orders"
	"batchwright/orders/intake/messy"
	"batchwright/orders/settings"
)

// Of each messy sheet exactly what its answer says is read, and every error and
// warning of the answer, no other, stands at its cell, with what was read,
// what was done and how to mend it.
func TestMessySheets(t *testing.T) {
	cases, err := messy.All()
	if err != nil {
		t.Fatal(err)
	}
	if len(cases) < 150 {
		t.Errorf("%d messy sheets, want 150", len(cases))
	}
	for _, c := range cases {
		t.Run(c.Name, func(t *testing.T) {
			shop := settings.Default()
			shop.Today = time.Date(2026, 11, 30, 0, 0, 0, 0, time.UTC)
			order, err := Read(c.File, c.Data, shop)
			if err != nil {
				t.Fatal(err)
			}
			if got := messy.Lines(order); !slices.Equal(got, c.Reads) {
				t.Errorf("read\n\t%s\nwant\n\t%s", strings.Join(got, "\n\t"), strings.Join(c.Reads, "\n\t"))
			}
			checkCited(t, order)
			checkMessyFindings(t, order, c.Found)
		})
	}
}

func checkMessyFindings(t *testing.T, order *orders.Order, want []messy.Finding) {
	t.Helper()
	left := slices.Clone(order.Findings)
	for _, w := range want {
		i := slices.IndexFunc(left, func(p orders.Finding) bool {
			at := p.Source.String()
			if p.Cell == "" {
				at = "-"
			}
			return p.Level == w.Level && (at == w.At || p.Cell == w.At) && strings.Contains(p.Read+"|"+p.Did+"|"+p.Fix, w.Says)
		})
		if i < 0 {
			t.Errorf("no %s at %s that says %q", w.Level, w.At, w.Says)
			continue
		}
		left = slices.Delete(left, i, i+1)
	}
	for _, p := range left {
		if p.Level != orders.Note {
			t.Errorf("unexpected %s at %s: %q, %s; %s", p.Level, p.Source, p.Read, p.Did, p.Fix)
		}
	}
	for _, p := range order.Findings {
		if n := utf8.RuneCountInString(p.Read); n > 200 {
			t.Errorf("%s at %s shows %d characters of what was read", p.Level, p.Source, n)
		}
	}
}
