package main

import (
	"fmt"
	"strings"

	"batchwright/nesting/solve"
)

// plate, parts and rules put an instance in the solver's terms.
func (c cutting) plate(stock int) solve.Plate {
	s := c.stocks[stock]
	p := solve.Plate{Length: s.length, Width: s.width}
	for _, d := range s.defects {
		p.Defects = append(p.Defects, solve.Rect{X: d.x, Y: d.y, Length: d.length, Width: d.width})
	}
	return p
}

func (c cutting) parts() []solve.Part {
	parts := make([]solve.Part, len(c.items))
	for i, it := range c.items {
		parts[i] = solve.Part{Length: it.length, Width: it.width, Value: it.value, Max: countOf(it.demand), Turn: c.turn}
	}
	return parts
}

func (c cutting) rules() solve.Rules {
	r := solve.Rules{KerfX: c.kerf, KerfY: c.kerf}
	if strings.Contains(c.cuts, "2stage") {
		r.Stages = 2
	}
	return r
}

func countOf(n int64) int {
	if n == unlimited {
		return solve.Unlimited
	}
	return int(n)
}

// runKnapsack2D fills one plate, or several equal ones, for the most value.
func runKnapsack2D(c cutting, b budget) outcome {
	times := max(1, int(c.stocks[0].count))
	fillings, value, bound, stop := solve.FillPlates(c.plate(0), times, c.parts(), c.rules(),
		solve.Budget{Deadline: b.deadline, Stop: b.stop})
	return outcome{ours: value, solved: true, bound: bound, bounded: true, maximise: true,
		proven: stop == solve.StopProven, invalid: checkFillings(c, times, fillings, value)}
}

// checkFillings checks every plate, the limits and the value.
func checkFillings(c cutting, times int, fillings []solve.Filling, value int64) error {
	if len(fillings) > times {
		return fmt.Errorf("%d plates of %d", len(fillings), times)
	}
	made := make([]int64, len(c.items))
	sum := int64(0)
	for n, f := range fillings {
		parts := placedOn(f.Tree)
		if err := checkPlate(c, 0, c.rules().Stages, parts); err != nil {
			return fmt.Errorf("plate %d: %w", n, err)
		}
		for _, p := range parts {
			made[p.item]++
			sum += c.items[p.item].value
		}
	}
	for i, it := range c.items {
		if it.demand != unlimited && made[i] > it.demand {
			return fmt.Errorf("item %d is made %d times of %d", i, made[i], it.demand)
		}
	}
	if sum != value {
		return fmt.Errorf("value %d said, %d counted", value, sum)
	}
	return nil
}

// runStock2D covers the demand with plates.
func runStock2D(c cutting, b budget) outcome {
	var stock []solve.Stock
	for k, s := range c.stocks {
		stock = append(stock, solve.Stock{Plate: c.plate(k), Count: countOf(s.count), Cost: s.cost})
	}
	cover := solve.Stock2D(stock, c.parts(), c.rules(), solve.Budget{Deadline: b.deadline, Stop: b.stop})
	return outcome{ours: cover.Cost, solved: true, bound: cover.Bound, bounded: true,
		proven: cover.Stop == solve.StopProven, invalid: checkCover(c, cover)}
}

// checkCover checks every plate, the stock, the demand and the cost.
func checkCover(c cutting, cover solve.Cover) error {
	made, used := make([]int64, len(c.items)), make([]int64, len(c.stocks))
	cost := int64(0)
	for n, cut := range cover.Plates {
		parts := placedOn(cut.Tree)
		if err := checkPlate(c, cut.Stock, c.rules().Stages, parts); err != nil {
			return fmt.Errorf("plate %d: %w", n, err)
		}
		for _, p := range parts {
			made[p.item] += int64(cut.Times)
		}
		used[cut.Stock] += int64(cut.Times)
		cost += int64(cut.Times) * c.stocks[cut.Stock].cost
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
	if cost != cover.Cost {
		return fmt.Errorf("cost %d said, %d counted", cover.Cost, cost)
	}
	return nil
}
