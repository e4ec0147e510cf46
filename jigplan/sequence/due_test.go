package sequence

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func day(n int) time.Time { return time.Date(2027, 3, n, 0, 0, 0, 0, time.UTC) }

// Two blades, two cards each: which blade is fitted first makes no difference
// to the changeover, so the date decides.
func TestEarliestDateBreaksTies(t *testing.T) {
	p := RouteProblem{Cost: [][]int{
		{0, 9, 9, 9, 9},
		{0, 0, 1, 9, 9},
		{0, 1, 0, 9, 9},
		{0, 9, 9, 0, 1},
		{0, 9, 9, 1, 0},
	}}
	for _, c := range []struct {
		why  string
		due  []time.Time
		want []int
	}{
		{"the second blade is due first, its second card before its first", []time.Time{{}, day(9), day(8), day(5), day(4)}, []int{0, 4, 3, 2, 1}},
		{"already in order", []time.Time{{}, day(1), day(2), day(3), day(4)}, []int{0, 1, 2, 3, 4}},
		{"no date is the latest", []time.Time{{}, {}, {}, {}, day(4)}, []int{0, 4, 3, 2, 1}},
		{"the blade of the earliest date, though its other card has none", []time.Time{{}, day(3), {}, {}, day(2)}, []int{0, 4, 3, 1, 2}},
	} {
		nodes := []int{0, 1, 2, 3, 4}
		earliestFirst(p, nodes, c.due)
		if !slices.Equal(nodes, c.want) {
			t.Errorf("%s: %v, want %v", c.why, nodes, c.want)
		}
	}
}

// No order becomes longer, loses a node or breaks what must run before.
func TestDatesNeverCostTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 9).Draw(t, "nodes")
		p := RouteProblem{Cost: make([][]int, n)}
		due := make([]time.Time, n)
		for i := range p.Cost {
			p.Cost[i] = rapid.SliceOfN(rapid.IntRange(0, 2), n, n).Draw(t, "costs")
			if d := rapid.IntRange(0, 5).Draw(t, "date"); d > 0 {
				due[i] = day(d)
			}
		}
		if n > 2 && rapid.Bool().Draw(t, "before") {
			p.Before = [][2]int{{1, n - 1}}
		}
		r := Shortest(p, Limits{})
		nodes := slices.Clone(r.Nodes)
		earliestFirst(p, nodes, due)
		if got := p.Length(nodes); got > r.Length {
			t.Errorf("%v takes %d, %v took %d", nodes, got, r.Nodes, r.Length)
		}
		if !p.allows(nodes) || nodes[0] != 0 {
			t.Errorf("%v breaks the order %v", nodes, p.Before)
		}
		slices.Sort(nodes)
		for i, node := range nodes {
			if node != i {
				t.Fatalf("nodes %v", nodes)
			}
		}
	})
}
