package solve

import (
	"testing"

	"pgregory.net/rapid"
)

// leastCost covers the need by trying every order of every plate's yields; more
// than enough stock is taken for granted.
func leastCost(stock []Stock, parts []PlatePart, rules Rules) (cost int64, ok bool) {
	e := everyCut{parts: parts}
	whole := 0
	for k, p := range parts {
		whole += p.Max * e.mark(k)
	}
	yields := make([]map[int]bool, len(stock))
	for s, st := range stock {
		e := everyCut{plate: st.Plate, parts: parts, rules: rules}
		yields[s] = e.yields()
	}
	memo := map[int]int64{0: 0}
	var least func(left int) int64
	least = func(left int) int64 {
		if c, ok := memo[left]; ok {
			return c
		}
		best := int64(1 << 40)
		for s, st := range stock {
			for m := range yields[s] {
				if m > 0 && within(e, m, left) {
					best = min(best, st.Cost+least(left-m))
				}
			}
		}
		memo[left] = best
		return best
	}
	cost = least(whole)
	return cost, cost < 1<<40
}

func within(e everyCut, m, left int) bool {
	a, b := e.digits(m), e.digits(left)
	for k := range a {
		if a[k] > b[k] {
			return false
		}
	}
	return true
}

// checkCover recomputes a cover: trees, copies, stock and cost.
func checkCover(t fatal, stock []Stock, parts []PlatePart, rules Rules, c Cover) {
	made, used, cost := make([]int, len(parts)), make([]int, len(stock)), int64(0)
	for _, cut := range c.Plates {
		for k, n := range checkTree(t, stock[cut.Stock].Plate, parts, rules, cut.Tree) {
			if n != cut.Made[k] {
				t.Fatalf("part %d: %d on the plate, %d said", k, n, cut.Made[k])
			}
			made[k] += n * cut.Times
		}
		used[cut.Stock] += cut.Times
		cost += int64(cut.Times) * stock[cut.Stock].Cost
	}
	for k, n := range made {
		if n+c.Missing[k] != parts[k].Max {
			t.Fatalf("part %d: %d made and %d missing of %d", k, n, c.Missing[k], parts[k].Max)
		}
	}
	for k, n := range used {
		if n > stock[k].Count {
			t.Fatalf("stock %d is used %d times of %d", k, n, stock[k].Count)
		}
	}
	if cost != c.Cost || c.Bound > c.Cost {
		t.Fatalf("cost %d, counted %d, bound %d", c.Cost, cost, c.Bound)
	}
}

// TestStock2DAgainstEveryCut: no bound above the least cost that trying
// everything finds, no proof of a cost that is not the least, nothing missing
// that could be made.
func TestStock2DAgainstEveryCut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		_, parts, rules := smallPlate(t)
		var stock []Stock
		for range rapid.IntRange(1, 2).Draw(t, "stocks") {
			plate, _, _ := smallPlate(t)
			stock = append(stock, Stock{plate, Unlimited, rapid.Int64Range(1, 9).Draw(t, "cost")})
		}
		c := Stock2D(stock, parts, rules, Budget{Work: 1_000_000})
		checkCover(t, stock, parts, rules, c)
		if total(c.Missing) > 0 {
			return // a part that fits none, or only beside a defect
		}
		least, ok := leastCost(stock, parts, rules)
		if !ok || c.Cost < least || c.Bound > least || c.Stop == StopProven && c.Cost > least {
			t.Fatalf("cost %d, bound %d, %s; the least is %d", c.Cost, c.Bound, c.Stop, least)
		}
	})
}

// TestStock2DLimited: stock that runs out leaves parts missing and says which.
func TestStock2DLimited(t *testing.T) {
	stock := []Stock{{Plate{Length: 10, Width: 10}, 1, 5}, {Plate{Length: 10, Width: 5}, 1, 3}}
	parts := []PlatePart{{Length: 5, Width: 5, Max: 9}, {Length: 11, Width: 1, Max: 2}}
	c := Stock2D(stock, parts, Rules{}, Budget{Work: 1_000_000})
	checkCover(t, stock, parts, Rules{}, c)
	if c.Missing[0] != 3 || c.Missing[1] != 2 {
		t.Errorf("missing %v, want 3 and 2", c.Missing)
	}
}

// TestStock2DNoTime: with no work to spend all that fits is still made.
func TestStock2DNoTime(t *testing.T) {
	stock := []Stock{{Plate{Length: 100, Width: 100}, Unlimited, 1}}
	parts := []PlatePart{{Length: 30, Width: 20, Max: 40}, {Length: 7, Width: 11, Max: 300}, {Length: 60, Width: 55, Max: 3}}
	c := Stock2D(stock, parts, Rules{KerfX: 1, KerfY: 2}, Budget{Work: 1})
	checkCover(t, stock, parts, Rules{KerfX: 1, KerfY: 2}, c)
	if total(c.Missing) > 0 {
		t.Errorf("missing %v", c.Missing)
	}
}
