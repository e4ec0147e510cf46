package week_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"batchwright/jigplan/week"

	"pgregory.net/rapid"
)

// smallProject draws a project of a few tasks.
func smallProject(t *rapid.T, most int) week.Project {
	n := rapid.IntRange(1, most).Draw(t, "tasks")
	p := week.Project{}
	for range rapid.IntRange(1, 5).Draw(t, "resources") {
		p.Capacity = append(p.Capacity, rapid.IntRange(1, 4).Draw(t, "capacity"))
	}
	for range n {
		p.Duration = append(p.Duration, rapid.IntRange(0, 4).Draw(t, "duration"))
		var demand []int
		for _, c := range p.Capacity {
			demand = append(demand, rapid.IntRange(0, c).Draw(t, "demand"))
		}
		p.Demand = append(p.Demand, demand)
	}
	for range rapid.IntRange(0, n).Draw(t, "pairs") {
		a, b := rapid.IntRange(0, n-1).Draw(t, "a"), rapid.IntRange(0, n-1).Draw(t, "b")
		if a < b {
			p.Before = append(p.Before, [2]int{a, b})
		}
	}
	return p
}

func TestProjectsAgainstEveryList(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := smallProject(t, 6)
		plan := p.Plan(week.Limits{Work: 300})
		feasible(t, p, plan)
		if best := shortest(p, make([]int, len(p.Duration)), 0); plan.Makespan != best || plan.Bound > best {
			t.Fatalf("ends at %d, bound %d, the best of all lists %d", plan.Makespan, plan.Bound, best)
		}
	})
}

// feasible checks the order and, unit by unit, the resources.
func feasible(t *rapid.T, p week.Project, plan week.ProjectPlan) {
	end := 0
	for i, s := range plan.Start {
		end = max(end, s+p.Duration[i])
	}
	if len(plan.Start) != len(p.Duration) || end != plan.Makespan {
		t.Fatalf("plan %+v", plan)
	}
	for _, pair := range p.Before {
		if plan.Start[pair[0]]+p.Duration[pair[0]] > plan.Start[pair[1]] {
			t.Fatalf("%v not in order", pair)
		}
	}
	for now := range end {
		for r, c := range p.Capacity {
			for i, s := range plan.Start {
				if s <= now && now < s+p.Duration[i] {
					c -= p.Demand[i][r]
				}
			}
			if c < 0 {
				t.Fatalf("resource %d overdrawn at %d", r, now)
			}
		}
	}
}

// shortest carries out every list of tasks by plain counting; some list leads
// to a best plan.
func shortest(p week.Project, start []int, done int) int {
	if done == 1<<len(start)-1 {
		end := 0
		for i, s := range start {
			end = max(end, s+p.Duration[i])
		}
		return end
	}
	best := 1 << 30
	for i := range start {
		if done>>i&1 != 0 {
			continue
		}
		from, ready := 0, true
		for _, pair := range p.Before {
			if pair[1] == i {
				ready = ready && done>>pair[0]&1 != 0
				from = max(from, start[pair[0]]+p.Duration[pair[0]])
			}
		}
		if !ready {
			continue
		}
		for !fits(p, start, done, i, from) {
			from++
		}
		start[i] = from
		best = min(best, shortest(p, start, done|1<<i))
	}
	return best
}

func fits(p week.Project, start []int, done, i, from int) bool {
	for now := from; now < from+p.Duration[i]; now++ {
		for r, c := range p.Capacity {
			used := p.Demand[i][r]
			for j, s := range start {
				if done>>j&1 != 0 && s <= now && now < s+p.Duration[j] {
					used += p.Demand[j][r]
				}
			}
			if used > c {
				return false
			}
		}
	}
	return true
}

func TestProjectsThatCannotBe(t *testing.T) {
	circle := week.Project{Duration: []int{1, 1}, Demand: [][]int{{0}, {0}}, Capacity: []int{1}, Before: [][2]int{{0, 1}, {1, 0}}}
	greedy := week.Project{Duration: []int{1}, Demand: [][]int{{2}}, Capacity: []int{1}}
	for _, p := range []week.Project{circle, greedy} {
		if plan := p.Plan(week.Limits{}); plan.Start != nil {
			t.Errorf("%+v: %+v", p, plan)
		}
	}
}

func TestLinesAgainstEveryOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := line(t, rapid.IntRange(1, 6).Draw(t, "jobs"))
		plan := l.Plan(week.Limits{Work: 200})
		best := cheapest(l, nil)
		if plan.Cost != best || plan.Bound > best || l.Cost(plan.Order) != plan.Cost {
			t.Fatalf("cost %d, bound %d, the cheapest of all orders %d", plan.Cost, plan.Bound, best)
		}
	})
}

func line(t *rapid.T, n int) week.Line {
	numbers := func(what string, low, high int) []int {
		return rapid.SliceOfN(rapid.IntRange(low, high), n, n).Draw(t, what)
	}
	l := week.Line{Time: numbers("times", 1, 20), Weight: numbers("weights", 0, 9), Due: numbers("due", 0, 60)}
	if rapid.Bool().Draw(t, "setups") {
		l.First = numbers("first", 0, 9)
		for range n {
			l.Setup = append(l.Setup, numbers("setup", 0, 9))
		}
	}
	return l
}

func cheapest(l week.Line, order []int) int {
	if len(order) == len(l.Time) {
		return l.Cost(order)
	}
	best := 1 << 40
	for j := range l.Time {
		used := false
		for _, i := range order {
			used = used || i == j
		}
		if !used {
			best = min(best, cheapest(l, append(order[:len(order):len(order)], j)))
		}
	}
	return best
}

func BenchmarkProject(b *testing.B) {
	for _, n := range []int{30, 120} {
		b.Run(fmt.Sprint(n, "tasks"), func(b *testing.B) {
			r := rand.New(rand.NewPCG(1, 1))
			p := week.Project{Capacity: []int{10, 10, 10, 10}}
			for i := range n {
				p.Duration = append(p.Duration, 1+r.IntN(10))
				p.Demand = append(p.Demand, []int{r.IntN(6), r.IntN(6), r.IntN(6), r.IntN(6)})
				if i > 2 {
					p.Before = append(p.Before, [2]int{r.IntN(i), i})
				}
			}
			for b.Loop() {
				if plan := p.Plan(week.Limits{Work: 1000}); plan.Start == nil {
					b.Fatal("no plan")
				}
			}
		})
	}
}
