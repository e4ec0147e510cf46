package sequence

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"batchwright/jigplan"
	"batchwright/orders/measure"
	"batchwright/orders/settings"

	"pgregory.net/rapid"
)

// problem draws a route problem with an order that runs in no circle.
func problem(t *rapid.T, low, high int) RouteProblem {
	n := rapid.IntRange(low, high).Draw(t, "nodes")
	p := RouteProblem{Closed: rapid.Bool().Draw(t, "closed")}
	top := rapid.SampledFrom([]int{1, 9, 1000}).Draw(t, "dearest")
	for range n {
		p.Cost = append(p.Cost, rapid.SliceOfN(rapid.IntRange(0, top), n, n).Draw(t, "costs"))
	}
	for range rapid.IntRange(0, n/2).Draw(t, "pairs") {
		a, b := rapid.IntRange(0, n-1).Draw(t, "a"), rapid.IntRange(0, n-1).Draw(t, "b")
		if a < b {
			p.Before = append(p.Before, [2]int{a, b})
		}
	}
	return p
}

// valid checks a route against its problem.
func valid(t *rapid.T, p RouteProblem, r Route) {
	at := map[int]int{}
	for i, v := range r.Nodes {
		at[v] = i
	}
	if len(at) != len(p.Cost) || r.Nodes[0] != 0 || p.Length(r.Nodes) != r.Length || r.Bound > r.Length {
		t.Fatalf("route %+v", r)
	}
	for _, pair := range p.Before {
		if at[pair[0]] > at[pair[1]] {
			t.Fatalf("%d comes after %d", pair[0], pair[1])
		}
	}
}

func TestShortestAgainstEveryRoute(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := problem(t, 1, 7)
		r := Shortest(p, Limits{})
		valid(t, p, r)
		if least := everyRoute(p, []int{0}); r.Length != least || !r.Proven() {
			t.Fatalf("length %d, bound %d, the shortest is %d", r.Length, r.Bound, least)
		}
	})
}

// everyRoute is the length of the shortest way to end a route.
func everyRoute(p RouteProblem, nodes []int) int {
	if len(nodes) == len(p.Cost) {
		return p.Length(nodes)
	}
	best := forbidden
	for v := range p.Cost {
		if mayFollow(p, nodes, v) {
			best = min(best, everyRoute(p, append(nodes[:len(nodes):len(nodes)], v)))
		}
	}
	return best
}

func mayFollow(p RouteProblem, nodes []int, v int) bool {
	seen := map[int]bool{}
	for _, u := range nodes {
		seen[u] = true
	}
	for _, pair := range p.Before {
		if pair[1] == v && !seen[pair[0]] {
			return false
		}
	}
	return !seen[v]
}

// The bounded sweep and the table of all sets share no code but the graph.
func TestSweepAgainstAllSets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := problem(t, 8, 11)
		g, _ := newGraph(p)
		clock := newClock(Limits{}, g.n)
		least := g.length(g.subsets(clock))
		search := newClimb(g, 1)
		b := newBound(g)
		b.raise(search.best.length, clock)
		if b.length > least {
			t.Fatalf("bound %d above the shortest %d", b.length, least)
		}
		found, proven := b.sweep(search.best.length, 1<<20, clock)
		got := search.best.length
		if found != nil {
			got = g.length(found)
		}
		if !proven || got != least {
			t.Fatalf("sweep %d, all sets %d, proven %t", got, least, proven)
		}
	})
}

func TestLargeRoutesKeepTheOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := problem(t, 20, 32)
		valid(t, p, Shortest(p, Limits{Work: 100}))
	})
}

func TestACircleHasNoRoute(t *testing.T) {
	p := RouteProblem{Cost: [][]int{{0, 1, 1}, {1, 0, 1}, {1, 1, 0}}, Before: [][2]int{{1, 2}, {2, 1}}}
	if r := Shortest(p, Limits{}); r.Nodes != nil {
		t.Errorf("%+v", r)
	}
}

// A ring in one direction: each step to the next node costs 1, any other 10.
func TestRingIsFoundAndProven(t *testing.T) {
	const n = 50
	p := RouteProblem{Closed: true}
	for i := range n {
		row := make([]int, n)
		for j := range row {
			row[j] = 10
		}
		row[(i+7)%n] = 1
		p.Cost = append(p.Cost, row)
	}
	if r := Shortest(p, Limits{}); r.Length != n || !r.Proven() {
		t.Errorf("length %d, bound %d", r.Length, r.Bound)
	}
}

func TestSameRouteEveryTime(t *testing.T) {
	in := someSetups(rand.New(rand.NewPCG(5, 5)), 45)
	first, _ := Order(in)
	again, _ := Order(in)
	if fmt.Sprint(first) != fmt.Sprint(again) {
		t.Error("two runs differ")
	}
}

// someSetups draws setups of a shop with a few rods, blades, heights, spacers.
func someSetups(r *rand.Rand, n int) Input {
	s := settings.Default()
	in := Input{Settings: &s, Limits: Limits{Work: 100}}
	for i := range n {
		p := jigplan.Program{ID: fmt.Sprint("J", i), Rod: fmt.Sprint("R", r.IntN(2)), KerfMeasured: r.IntN(2) == 0}
		in.Programs = append(in.Programs, p)
		in.Setups = append(in.Setups, jigplan.Setup{ID: fmt.Sprint("U", i), Program: p.ID, Blade: fmt.Sprint("B", r.IntN(3)),
			BladeHeight: measure.Length(1 + r.IntN(6)), Spacer: measure.Whole(int64(r.IntN(5)))})
	}
	return in
}

func BenchmarkOrder(b *testing.B) {
	for _, n := range []int{12, 18, 20, 25, 60} {
		b.Run(fmt.Sprint(n, "setups"), func(b *testing.B) {
			rng := rand.New(rand.NewPCG(1, uint64(n)))
			proven, total, gap, slowest := 0, 0, 0.0, time.Duration(0)
			for b.Loop() {
				in := someSetups(rng, n)
				in.Limits = Limits{}
				began := time.Now()
				q, err := Order(in)
				if err != nil {
					b.Fatal(err)
				}
				total++
				slowest = max(slowest, time.Since(began))
				gap = max(gap, 100*(q.ChangeoverMinutes/q.BoundMinutes-1))
				if q.Proven {
					proven++
				}
			}
			b.ReportMetric(float64(proven)/float64(total), "proven/op")
			b.ReportMetric(gap, "worst-gap-%")
			b.ReportMetric(slowest.Seconds(), "slowest-s")
		})
	}
}
