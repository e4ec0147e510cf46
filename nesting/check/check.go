// Package check recomputes a layout from the numbers that are printed and
// names every fault. It shares nothing with the code that laid the parts: it
// knows the sizes of parts and boards, the shop's settings, and geometry.
package check

import (
	"fmt"

	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/settings"
)

// Given is what the layout was made from.
type Given struct {
	Parts    []orders.Part
	Rack     []orders.Board
	Yard     []orders.Board
	Standard bool // standard-size boards may be bought as well
	Settings settings.Shop
}

// Fault is one thing wrong with a layout.
type Fault struct {
	Board string // empty: the layout as a whole
	Rule  string // a short name, stable: "kerf", "defect", "grain" ...
	What  string
}

// Error words the fault for a bug report.
func (f Fault) Error() string {
	if f.Board == "" {
		return fmt.Sprintf("%s: %s", f.Rule, f.What)
	}
	return fmt.Sprintf("board %s: %s: %s", f.Board, f.Rule, f.What)
}

// Layout lists what is wrong; an empty list is a valid layout.
func Layout(l nesting.Layout, given Given) []Fault {
	c := &checker{given: given, set: &given.Settings, parts: map[string]*orders.Part{}}
	for i := range given.Parts {
		c.parts[given.Parts[i].ID] = &given.Parts[i]
	}
	c.everyPartOnce(l)
	c.supply(l)
	c.leaves(l)
	c.runs(l)
	c.books(l)
	for i := range l.Boards {
		c.checkBoard(&l.Boards[i])
	}
	c.totals(l)
	return c.faults
}

type checker struct {
	given  Given
	set    *settings.Shop
	parts  map[string]*orders.Part
	faults []Fault
}

func (c *checker) fault(board, rule, format string, args ...any) {
	c.faults = append(c.faults, Fault{board, rule, fmt.Sprintf(format, args...)})
}

// everyPartOnce: each part lies on one board or is listed short, never both.
func (c *checker) everyPartOnce(l nesting.Layout) {
	seen := map[string]int{}
	for _, b := range l.Boards {
		for _, p := range b.Pieces {
			seen[p.Part]++
			if c.parts[p.Part] == nil {
				c.fault(b.ID, "parts", "piece %q is no part of the job", p.Part)
			}
		}
	}
	for _, s := range l.Short {
		seen[s.Part]++
		if c.parts[s.Part] == nil {
			c.fault("", "parts", "short part %q is no part of the job", s.Part)
		}
		if s.Why == "" {
			c.fault("", "parts", "short part %q gives no reason", s.Part)
		}
	}
	for _, p := range c.given.Parts {
		if n := seen[p.ID]; n != 1 {
			c.fault("", "parts", "part %q is listed %d times, not once", p.ID, n)
		}
	}
}
