package main

import (
	"fmt"

	"batchwright/nesting/solve"
)

// runStock1D solves a one-dimensional cutting-stock instance.
func runStock1D(c cutting, b budget) outcome {
	p := solve.BarProblem{Kerf: c.kerf}
	for _, s := range c.stocks {
		count := s.count
		if count == unlimited {
			count = solve.Unlimited
		}
		p.Bars = append(p.Bars, solve.Bar{Length: s.length, Cost: s.cost, Count: count})
	}
	for _, it := range c.items {
		p.Pieces = append(p.Pieces, solve.Piece{Length: it.length, Count: it.demand})
	}
	plan, err := solve.Stock1D(p, solve.Budget{Deadline: b.deadline, Stop: b.stop})
	if err != nil {
		return outcome{invalid: err, solved: true}
	}
	return outcome{ours: plan.Cost, solved: true, bound: plan.Bound, bounded: true,
		proven: plan.Stop == solve.StopProven, invalid: checkBars(c, plan)}
}

// checkBars recomputes a plan from the instance: every pattern fits its stock
// with its kerfs, no stock is used more often than there is, every demand is
// met, and the cost is what the patterns say.
func checkBars(c cutting, plan solve.BarPlan) error {
	made := make([]int64, len(c.items))
	used := make([]int64, len(c.stocks))
	cost := int64(0)
	for n, pattern := range plan.Patterns {
		if pattern.Bar < 0 || pattern.Bar >= len(c.stocks) || pattern.Times <= 0 {
			return fmt.Errorf("pattern %d: stock %d, %d times", n, pattern.Bar, pattern.Times)
		}
		end, pieces := int64(0), int64(0) // where the last piece ends, pieces laid one after another
		for _, portion := range pattern.Portions {
			if portion.Piece < 0 || portion.Piece >= len(c.items) || portion.Count <= 0 {
				return fmt.Errorf("pattern %d: %d of piece %d", n, portion.Count, portion.Piece)
			}
			made[portion.Piece] += portion.Count * pattern.Times
			pieces += portion.Count
			end += portion.Count * c.items[portion.Piece].length
		}
		end += c.kerf * max(pieces-1, 0)
		if end > c.stocks[pattern.Bar].length {
			return fmt.Errorf("pattern %d ends at %d, past its stock's %d", n, end, c.stocks[pattern.Bar].length)
		}
		used[pattern.Bar] += pattern.Times
		cost += pattern.Times * c.stocks[pattern.Bar].cost
	}
	for i, s := range c.stocks {
		if s.count != unlimited && used[i] > s.count {
			return fmt.Errorf("stock %d is used %d times of %d", i, used[i], s.count)
		}
	}
	for i, it := range c.items {
		if made[i] < it.demand {
			return fmt.Errorf("item %d is made %d times of %d", i, made[i], it.demand)
		}
	}
	if cost != plan.Cost {
		return fmt.Errorf("cost %d said, %d counted", plan.Cost, cost)
	}
	return nil
}
