package solve

import "slices"

// WholeLines is a floor under the cost of a line problem in which boards are
// bought whole, at least that of Lines: where the relaxed plan uses a part of a
// board, the board is taken once more or not at all, and the cheapest case
// left open is the floor. A case that costs no less than cutoff is not looked
// into; none left open, cutoff itself is the floor.
func WholeLines(p LineProblem, root LineBound, cutoff int64, b Budget) int64 {
	m := NewMeter(b, lineWork)
	open := []wholeCase{firstCase(p, root)}
	for {
		at := cheapestCase(open)
		if at < 0 || open[at].bound >= cutoff {
			return max(root.Bound, cutoff)
		}
		c := open[at]
		board := c.splitAt()
		if board < 0 || m.Over() {
			return max(root.Bound, c.bound)
		}
		open = slices.Delete(open, at, at+1)
		for _, half := range c.split(board) {
			half.solve(p, root.along, m)
			open = append(open, half)
		}
	}
}

// wholeCase is how often each line of boards is used at least and at most, the
// floor under such plans, and a relaxed one.
type wholeCase struct {
	least, most []int64
	bound       int64
	use         []float64
}

func firstCase(p LineProblem, root LineBound) wholeCase {
	c := wholeCase{least: make([]int64, len(p.Boards)), bound: root.Bound, use: root.Use}
	for _, b := range p.Boards {
		c.most = append(c.most, b.Count)
	}
	return c
}

func cheapestCase(open []wholeCase) int {
	at := -1
	for i := range open {
		if at < 0 || open[i].bound < open[at].bound {
			at = i
		}
	}
	return at
}

// splitAt is the line of boards used farthest from a whole number of times, -1
// when all are used so.
func (c *wholeCase) splitAt() int {
	at, far := -1, 1e-6
	for i, x := range c.use {
		part := x - float64(int64(x))
		if f := min(part, 1-part); f > far {
			at, far = i, f
		}
	}
	return at
}

// split says that a line is used no more than the whole number below, or no
// less than the one above.
func (c *wholeCase) split(board int) [2]wholeCase {
	below := int64(c.use[board])
	fewer, more := *c, *c
	fewer.most, more.least = slices.Clone(c.most), slices.Clone(c.least)
	fewer.most[board], more.least[board] = below, below+1
	return [2]wholeCase{fewer, more}
}

// solve bounds a case, by lines along the boards or across them: what must be
// bought is paid for and lies there, and the rest may be bought beside it.
func (c *wholeCase) solve(p LineProblem, along bool, m *Meter) {
	sub, of, paid := c.rest(p)
	cl := clustered(sub)
	bars := newBars(cl.small, along)
	c.use = make([]float64, len(p.Boards))
	part := m.Part(caseWork)
	solved := bars.solve(part)
	part.Spend(2*bars.g.work() + maxCosts*int64(len(sub.Boards)))
	m.Absorb(part)
	if !solved {
		return
	}
	prices := cl.spread(bars.prices())
	worth := boardWorths(sub, prices)
	c.bound = max(c.bound, paid+max(proveLines(sub, prices, worth), wholeBoards(sub, prices, worth)))
	copy(c.use, floats(c.least))
	for k, use := range bars.use() {
		if i := of[k]; sub.Boards[k].Cost > 0 || c.least[i] == 0 {
			c.use[i] += use
		}
	}
}

func floats(list []int64) []float64 {
	out := make([]float64, len(list))
	for i, n := range list {
		out[i] = float64(n)
	}
	return out
}

// rest is the problem of a case, of the lines of which its boards are, and what
// must be paid whatever else is bought.
func (c *wholeCase) rest(p LineProblem) (sub LineProblem, of []int, paid int64) {
	sub = p
	sub.Boards = nil
	for i, b := range p.Boards {
		if n := c.least[i]; n > 0 {
			own := b
			own.Count, own.Cost = n, 0
			sub.Boards, of = append(sub.Boards, own), append(of, i)
			paid += n * b.Cost
		}
		if b.Count = c.most[i] - c.least[i]; c.most[i] >= Unlimited {
			b.Count = Unlimited
		}
		if b.Count > 0 {
			sub.Boards, of = append(sub.Boards, b), append(of, i)
		}
	}
	return sub, of, paid
}

// caseWork is the most spent on one case.
const caseWork = 100_000_000
