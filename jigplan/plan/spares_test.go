package plan

import (
	"strings"
	"testing"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/settings"
)

func withSetting(t *testing.T, o *orders.Order, name, value string) *orders.Order {
	t.Helper()
	if err := o.Settings.Set(name, value, settings.Entry{Source: orders.Source{Sheet: "Shop", Cell: "B9"}}); err != nil {
		t.Fatal(err)
	}
	return o
}

// One spare blank a stack, from the same milling, is common practice: any board
// of the stack can be cut from it.
func TestSpareBlanksStandByForEveryStack(t *testing.T) {
	for _, each := range []string{"1", "2"} {
		p, err := Plan(withSetting(t, shopOrder(), "Spares per stack", each), Options{Limits: nesting.Limits{Seed: 1}})
		if err != nil {
			t.Fatal(err)
		}
		spares := sparesIn(p)
		if want := firstEnds(p) * p.Order.Settings.SpareBlanks; len(spares) != want || p.Incomplete() {
			t.Errorf("%s a stack: %d spare blanks laid, want %d; short %v", each, len(spares), want, p.Layout.Short)
		}
		byID := map[string]orders.Part{}
		for _, part := range p.Parts {
			byID[part.ID] = part
		}
		for _, s := range p.Stacks {
			for _, b := range s.Boards {
				if !covered(byID[b.Part], spares) {
					t.Errorf("%s a stack: no spare blank is as large as %s", each, b.Part)
				}
			}
		}
	}
}

func TestSpareBlanksGiveWayToBoxes(t *testing.T) {
	o := withSetting(t, shopOrder(), "Spares per stack", "400")
	o.Settings.BuyMissing = "no"
	p, err := Plan(o, Options{Limits: nesting.Limits{Seed: 1}})
	if err != nil {
		t.Fatal(err)
	}
	if n := len(sparesIn(p)); n != 0 || p.Incomplete() || len(p.Order.Loose) != 0 {
		t.Errorf("%d spares, short %v: the boxes come first", n, p.Layout.Short)
	}
	said := false
	for _, problem := range p.Findings {
		said = said || problem.Level == orders.Warning && problem.Source.Cell == "B9" && strings.Contains(problem.Did, "no spares are cut")
	}
	if !said {
		t.Errorf("nobody is told that there are no spares: %v", p.Findings)
	}
	if len(o.Loose) != 0 {
		t.Error("the order itself was changed")
	}
}

// No stack is higher than what can be replaced (common practice: the loss a
// board does not depend on the height, the boards to make anew at once do).
func TestReplaceableBoardsLimitEveryStack(t *testing.T) {
	for _, c := range []struct {
		most, want int
		why        string
	}{{0, 2 * (4 + 1), "what 3-3/4 in take, either end: ten corners of 1 in by threes, four of 3/4 in by fives"}, {4, 2 * (5 + 2), "two corners a stack: ten corners at 1/2 in, four at 3/8, either end"}, {1, 28, "a corner's boards stay together"}} {
		o := shopOrder()
		o.Settings.Replaceable = c.most
		p, err := Plan(o, Options{Limits: nesting.Limits{Seed: 1}})
		if err != nil {
			t.Fatal(c.why, err)
		}
		if len(p.Stacks) != c.want || p.StackBound != c.want {
			t.Errorf("at most %d: %d stack ends, bound %d, want %d (%s)", c.most, len(p.Stacks), p.StackBound, c.want, c.why)
		}
	}
}

func sparesIn(p *jigplan.Plan) (out []orders.Part) {
	for _, board := range p.Layout.Boards {
		for _, piece := range board.Pieces {
			for _, part := range p.Parts {
				if part.ID == piece.Part && isSpare(part) {
					out = append(out, part)
				}
			}
		}
	}
	return out
}

func firstEnds(p *jigplan.Plan) (n int) {
	for _, s := range p.Stacks {
		if s.End == 1 {
			n++
		}
	}
	return n
}

func covered(part orders.Part, spares []orders.Part) bool {
	for _, s := range spares {
		if s.Wood == part.Wood && s.Thickness == part.Thickness && s.CutLength >= part.CutLength && s.CutWidth >= part.CutWidth {
			return true
		}
	}
	return false
}
