package solve

import "math"

// maxCosts bounds the table of wholeBoards: costs are counted in a unit that
// keeps them below it, each rounded down.
const maxCosts = 60000

// wholeBoards is the least cost of whole boards whose worth, at the prices,
// reaches that of all parts: every plan buys whole boards, and no board yields
// parts worth more than boardWorths says. A covering knapsack, by cost.
func wholeBoards(p LineProblem, prices, worth []float64) int64 {
	need := 0.0
	for i, part := range p.Parts {
		need += prices[i] * float64(part.Count) * (1 - 1e-9)
	}
	if need <= 0 {
		return 0
	}
	unit := coinUnit(p, worth, need)
	if unit == 0 {
		return 0
	}
	return unit * cheapestCover(p, worth, need, unit)
}

// coinUnit is one when a greedy cover costs no more than the table holds, else
// larger; 0 when the boards do not reach.
func coinUnit(p LineProblem, worth []float64, need float64) int64 {
	rest, cost := need, 0.0
	for i, b := range p.Boards {
		if worth[i] <= 0 || b.Count <= 0 {
			continue
		}
		n := min(float64(b.Count), math.Ceil(rest/worth[i]))
		cost += n * float64(b.Cost)
		if rest -= n * worth[i]; rest <= 0 {
			break
		}
	}
	if rest > 0 || cost > 1e15 {
		return 0
	}
	return int64(cost)/maxCosts + 1
}

// cheapestCover fills best[c], the most worth for cost c in units, until it
// reaches need.
func cheapestCover(p LineProblem, worth []float64, need float64, unit int64) int64 {
	best := make([]float64, maxCosts+1)
	for i, b := range p.Boards {
		cost := int(b.Cost / unit)
		count := min(b.Count, int64(math.Ceil(need/max(worth[i], 1e-300))))
		if count <= 0 || worth[i] <= 0 {
			continue
		}
		if cost == 0 {
			for c := range best {
				best[c] += float64(count) * worth[i]
			}
			continue
		}
		for n := int64(1); count > 0; n *= 2 { // binary multiples: a bounded knapsack
			n = min(n, count)
			count -= n
			addBoards(best, int(n)*cost, float64(n)*worth[i])
		}
	}
	for c, w := range best {
		if w*(1+1e-9) >= need {
			return int64(c)
		}
	}
	return 0
}

func addBoards(best []float64, cost int, worth float64) {
	for c := len(best) - 1; c >= cost; c-- {
		best[c] = max(best[c], best[c-cost]+worth)
	}
}
