package intake

import (
	"batchwright/orders"
)

// candidate reads a row of a catalog: a box, what may be sold of it and what
// is there of it.
func (l *line) candidate() orders.Candidate {
	c := orders.Candidate{Woods: l.woods("Woods")}
	c.Box = l.boxWith(func() tally { n, _ := l.count("Count"); return n }, len(c.Woods) > 0)
	if c.Wood == "" && len(c.Woods) > 0 {
		c.Wood = c.Woods[0]
	}
	l.demand(&c)
	c.Made, c.MadeSaid = l.countOrNone("Made")
	c.HalfMade, _ = l.countOrNone("Half made")
	return c
}

// demand reads what may be sold: low, likely and high, or mean and spread.
func (l *line) demand(c *orders.Candidate) {
	var low, likely, high, spread bool
	c.Low, low = l.countOrNone("Sells low")
	c.Likely, likely = l.countOrNone("Sells likely")
	c.High, high = l.countOrNone("Sells high")
	c.Mean, c.Averaged = l.number("Sells mean")
	c.Spread, spread = l.number("Sells spread")
	c.Said = low || likely || high || c.Averaged
	switch {
	case spread && !c.Averaged:
		l.warn("Sells spread", l.own["Sells spread"].text, "left out: a spread needs a mean", "write Sells mean too, or Sells low, likely and high instead")
	case c.Averaged && (low || likely || high):
		l.warn("Sells mean", l.own["Sells mean"].text, "the mean is used, not Sells low, likely and high", "write one or the other")
	}
}

// countOrNone reads a count that may be 0; not said when it is blank or no
// count.
func (l *line) countOrNone(name string) (n int, said bool) {
	if c, ok := l.get(name); ok && c.text == "0" {
		l.understood(name, c.text, "0")
		return 0, true
	}
	counted, said := l.count(name)
	return counted.total(), said
}

// maxSales is more than any fair sells.
const maxSales = 10_000

// number reads a number that is not negative, such as 6.5.
func (l *line) number(name string) (n float64, said bool) {
	c, ok := l.get(name)
	if !ok {
		return 0, false
	}
	n, err := l.reading(name, c).Number(c.text)
	if err != nil || !(n >= 0 && n <= maxSales) {
		l.fault(name, c.text, "not a number of boxes", "write it like 6.5")
		return 0, false
	}
	l.understood(name, c.text, c.text)
	return n, true
}
