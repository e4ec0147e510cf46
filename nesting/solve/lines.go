package solve

import (
	"math"
	"strings"
)

// LineProblem asks for a proven floor under the cost of cutting all parts
// from boards by any straight cuts. Sizes carry their kerf already: a part's
// length and width are one kerf more than it measures, and so is every clear
// width and length of a board. All sizes are of one unit.
type LineProblem struct {
	Parts  []LinePart
	Boards []LineBoard
}

// LinePart is a size wanted. Parts of different kinds never meet on one line
// across a board (a crosscut parts finished thicknesses).
type LinePart struct {
	Length, Width int64
	Turned        [2]int64 // its length and width when it lies across; zero: it may not
	Kind          int
	Count         int64
}

// LineBoard is one line of boards, each of which is used in one of some ways:
// whole, say, or sawn into leaves.
type LineBoard struct {
	Count int64 // Unlimited for no limit
	Cost  int64 // of one, at least zero
	Ways  []LineWay
}

// LineWay is what one board gives. Across is what lines across it meet, along
// its whole length; Along what lines along it meet, over its width.
type LineWay struct {
	Kinds  []bool
	Across []Stretch
	Along  []Stretch
}

// Stretch is neighbouring parallel lines that meet the same clear intervals.
type Stretch struct {
	Extent int64
	Clear  []int64
}

// LineBound is a floor under the cost, and the prices that prove it.
type LineBound struct {
	Bound  int64     // no plan that cuts every part costs less
	Prices []float64 // of a copy of each part
	Use    []float64 // boards of each line in the relaxed plan
	Stop   Stop

	along bool // lines along the boards proved it
}

// lineWork is the default budget, some three seconds.
const lineWork = 3_000_000_000

// alongWork is the most spent on lines along the boards: they seldom say more.
const alongWork = 400_000_000

// Lines solves the bar relaxation: any layout, cut by a line across the board,
// shows a set of parts whose widths fit the clear wood there, so that the
// layout is a mixture of such sets, weighed by length (G. Scheithauer,
// "LP-based bounds for the container and multi-container loading problem",
// International Transactions in Operational Research 6, 1999, from memory).
// It is solved by column generation; the prices then prove the bound by
// themselves, whatever the rounding of the simplex.
func Lines(p LineProblem, b Budget) LineBound {
	m := NewMeter(b, lineWork)
	best := LineBound{Prices: areaPrices(p), Use: make([]float64, len(p.Boards)), Stop: StopBudget}
	best.Bound = proveLines(p, best.Prices, boardWorths(p, best.Prices))
	c := clustered(p)
	best.try(c, false, m)
	if alongMatters(p, best) {
		sub := m.Part(alongWork)
		best.try(c, true, sub)
		m.Absorb(sub)
	}
	best.Bound = max(best.Bound, wholeBoards(p, best.Prices, boardWorths(p, best.Prices)))
	if m.Why() != "" {
		best.Stop = m.Why()
	}
	return best
}

// try solves the relaxation for lines across the boards or along them, and
// keeps its prices when they prove more.
func (c *LineBound) try(cl clusters, along bool, m *Meter) {
	bars := newBars(cl.small, along)
	if !bars.solve(m) {
		return
	}
	prices, use := cl.spread(bars.prices()), bars.use()
	if bound := proveLines(cl.whole, prices, boardWorths(cl.whole, prices)); bound > c.Bound {
		c.Bound, c.Prices, c.Use, c.along = bound, prices, use, along
	}
}

// alongMatters reports whether, at the prices found for lines across, lines
// along the boards in use say more.
func alongMatters(p LineProblem, c LineBound) bool {
	across, along := newLineTable(p, false), newLineTable(p, true)
	across.fill(c.Prices)
	along.fill(c.Prices)
	for i, b := range p.Boards {
		for _, w := range b.Ways {
			if c.Use[i] > 0 && along.worth(w.Along, w.Kinds, false) < across.worth(w.Across, w.Kinds, true)*(1-1e-9) {
				return true
			}
		}
	}
	return false
}

// areaPrices prices every part by its area at the cheapest board's rate.
func areaPrices(p LineProblem) []float64 {
	rate := math.Inf(1)
	for _, b := range p.Boards {
		area := 0.0
		for _, w := range b.Ways {
			area = max(area, areaOf(w.Across))
		}
		if area > 0 && b.Count > 0 {
			rate = min(rate, float64(b.Cost)/area)
		}
	}
	prices := make([]float64, len(p.Parts))
	for i, part := range p.Parts {
		if !math.IsInf(rate, 1) {
			prices[i] = rate * float64(part.Length) * float64(part.Width)
		}
	}
	return prices
}

func areaOf(list []Stretch) float64 {
	area := 0.0
	for _, s := range list {
		for _, c := range s.Clear {
			area += float64(s.Extent) * float64(c)
		}
	}
	return area
}

// proveLines is the dual value of prices: what the parts are worth less what
// boards would gain by them. No board of an unlimited line may gain: prices are
// scaled down until none does. worth is boardWorths at the prices. Sums run over terms of one sign, so that an
// allowance of 1e-9 covers every rounding.
func proveLines(p LineProblem, prices, worth []float64) int64 {
	scale := 1.0
	for i, b := range p.Boards {
		if b.Count >= Unlimited && worth[i]*scale > float64(b.Cost) {
			scale = float64(b.Cost) / worth[i]
		}
	}
	plus, minus := 0.0, 0.0
	for i, part := range p.Parts {
		plus += prices[i] * scale * float64(part.Count)
	}
	for i, b := range p.Boards {
		if gain := worth[i]*scale - float64(b.Cost); gain > 0 && b.Count < Unlimited {
			minus += gain * float64(b.Count)
		}
	}
	return max(0, int64(math.Ceil(plus*(1-1e-9)-minus*(1+1e-9)-1e-6)))
}

// boardWorths is the most that the parts cut from one board of each line can
// be worth: in the best of its ways, the smaller of what lines across and along
// it allow.
func boardWorths(p LineProblem, prices []float64) []float64 {
	across, along := newLineTable(p, false), newLineTable(p, true)
	across.fill(prices)
	along.fill(prices)
	out := make([]float64, len(p.Boards))
	for i, b := range p.Boards {
		for _, w := range b.Ways {
			out[i] = max(out[i], min(across.worth(w.Across, w.Kinds, true), along.worth(w.Along, w.Kinds, false))*(1+1e-9))
		}
	}
	return out
}

// kindsKey names a set of kinds.
func kindsKey(kinds []bool) string {
	var b strings.Builder
	for _, k := range kinds {
		if k {
			b.WriteByte('1')
		} else {
			b.WriteByte('0')
		}
	}
	return b.String()
}
