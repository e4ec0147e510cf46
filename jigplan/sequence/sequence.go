// Package sequence finds the running order of setups with the least time
// spent changing over. It leaves the setups themselves to setup and the time
// of the cutting to pace.
package sequence

import (
	"fmt"
	"slices"
	"time"

	"batchwright/jigplan"
	"batchwright/orders/settings"
)

// Input is the setups as they were formed, in the order they were written.
type Input struct {
	Setups   []jigplan.Setup
	Programs []jigplan.Program
	Stacks   []jigplan.Stack
	Before   [][2]string          // pairs of setup ids: the first runs before the second
	Due      map[string]time.Time // setup id -> the earliest date of what it cuts; of equally quick orders the earliest first
	Settings *settings.Shop
	Limits   Limits
}

// Order runs the setups in the order with the least changeover time. The
// first setup counts from a saw with no blade fitted, at no height, with no
// spacer in and the shop's rod in place. An order in Before that runs in a
// circle is an error.
func Order(in Input) (jigplan.Sequence, error) {
	if len(in.Setups) == 0 {
		return jigplan.Sequence{Proven: true}, nil
	}
	states := statesOf(in)
	problem, err := problemOf(in, states)
	if err != nil {
		return jigplan.Sequence{}, err
	}
	route := Shortest(problem, in.Limits)
	if route.Nodes == nil {
		return jigplan.Sequence{}, fmt.Errorf("the setups that must run before others run in a circle: %q", in.Before)
	}
	due := make([]time.Time, len(states))
	for i, s := range in.Setups {
		due[i+1] = in.Due[s.ID]
	}
	earliestFirst(problem, route.Nodes, due)
	route.Length = problem.Length(route.Nodes)
	return describe(in, states, problem, route), nil
}

// problemOf makes the changeovers a route problem: node 0 is the idle saw,
// node i+1 is setup i, and the route may end anywhere. Times are in
// hundredths of a second, so that they add up exactly.
func problemOf(in Input, states []State) (RouteProblem, error) {
	n := len(states)
	p := RouteProblem{Cost: make([][]int, n)}
	for i := range p.Cost {
		p.Cost[i] = make([]int, n)
		for j := 1; j < n; j++ {
			if i != j {
				p.Cost[i][j] = hundredths(Change(states[i], states[j], in.Settings))
			}
		}
	}
	at := map[string]int{}
	for i, s := range in.Setups {
		at[s.ID] = i + 1
	}
	for _, pair := range in.Before {
		first, ok1 := at[pair[0]]
		second, ok2 := at[pair[1]]
		if !ok1 || !ok2 {
			return p, fmt.Errorf("setup %q cannot run before %q: one of them does not exist", pair[0], pair[1])
		}
		p.Before = append(p.Before, [2]int{first, second})
	}
	return p, nil
}

// asWritten is the length of the route in node order, or, where Before
// forbids that, in the order that keeps closest to it.
func (p RouteProblem) asWritten() int {
	waits := make([]int, len(p.Cost))
	for _, pair := range p.Before {
		waits[pair[1]]++
	}
	var nodes, left []int
	for i := range p.Cost {
		left = append(left, i)
	}
	for len(left) > 0 {
		at := slices.IndexFunc(left, func(j int) bool { return waits[j] == 0 })
		for _, pair := range p.Before {
			if pair[0] == left[at] {
				waits[pair[1]]--
			}
		}
		nodes = append(nodes, left[at])
		left = slices.Delete(left, at, at+1)
	}
	return p.Length(nodes)
}

func hundredths(steps []ChangeStep) int {
	sum := 0
	for _, s := range steps {
		sum += int(s.Seconds*100 + 0.5)
	}
	return sum
}

const hundredthsAMinute = 6000.0

func describe(in Input, states []State, p RouteProblem, r Route) jigplan.Sequence {
	out := jigplan.Sequence{
		ChangeoverMinutes: float64(r.Length) / hundredthsAMinute,
		BoundMinutes:      float64(r.Bound) / hundredthsAMinute,
		Proven:            r.Length == r.Bound,
		AsWrittenMinutes:  float64(p.asWritten()) / hundredthsAMinute,
	}
	from := 0
	for _, to := range r.Nodes[1:] {
		change := jigplan.Changeover{Setup: in.Setups[to-1].ID}
		for _, step := range Change(states[from], states[to], in.Settings) {
			change.Minutes += step.Seconds / 60
			change.What = append(change.What, step.What)
			change.Elements = append(change.Elements, step.Element)
		}
		out.Setups = append(out.Setups, change.Setup)
		out.Changes = append(out.Changes, change)
		from = to
	}
	return out
}
