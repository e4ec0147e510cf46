package solve

import (
	"cmp"
	"slices"
)

// maxLineParts is how many sizes the master takes; of more, neighbours are
// priced together.
const maxLineParts = 240

// clusters stands for a problem of many sizes by one of few. Only prices come
// back from it, and any prices prove a bound.
type clusters struct {
	whole, small LineProblem
	of           []int // the cluster of each part
}

// clustered joins neighbours in kind, width and length.
func clustered(p LineProblem) clusters {
	c := clusters{whole: p, small: p}
	if len(p.Parts) <= maxLineParts {
		return c
	}
	order := make([]int, len(p.Parts))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		x, y := p.Parts[a], p.Parts[b]
		return cmp.Or(cmp.Compare(x.Kind, y.Kind), cmp.Compare(x.Width, y.Width), cmp.Compare(x.Length, y.Length), a-b)
	})
	c.small.Parts = nil
	c.of = make([]int, len(p.Parts))
	per := (len(order) + maxLineParts - 1) / maxLineParts
	for n, i := range order {
		last := len(c.small.Parts) - 1
		if n%per == 0 || c.small.Parts[last].Kind != p.Parts[i].Kind {
			c.small.Parts = append(c.small.Parts, p.Parts[i])
			c.of[i] = last + 1
			continue
		}
		c.small.Parts[last] = joined(c.small.Parts[last], p.Parts[i])
		c.of[i] = last
	}
	return c
}

// joined is a part that stands for both: the smaller size, all copies.
func joined(a, b LinePart) LinePart {
	a.Length, a.Width = min(a.Length, b.Length), min(a.Width, b.Width)
	a.Turned = [2]int64{min(a.Turned[0], b.Turned[0]), min(a.Turned[1], b.Turned[1])}
	a.Count += b.Count
	return a
}

// spread gives every part its cluster's price by area.
func (c *clusters) spread(prices []float64) []float64 {
	if c.of == nil {
		return prices
	}
	out := make([]float64, len(c.of))
	for i, part := range c.whole.Parts {
		s := c.small.Parts[c.of[i]]
		out[i] = prices[c.of[i]] * float64(part.Length) * float64(part.Width) / (float64(s.Length) * float64(s.Width))
	}
	return out
}
