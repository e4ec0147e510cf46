package joint

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// layPattern puts the pattern on its boards and looks at their edges.
func (w workshop) layPattern(c *patternRun) refusal {
	length, height := c.length(), c.tallest()
	if c.centred {
		c.start = height.Sub(length).Over(2)
	}
	if end := c.start.Add(length); end.Cmp(height.Sub(greater(c.fitOf(), measure.Ratio{}))) < 0 {
		return refusal{
			why: fmt.Sprintf("the pattern is %s long, the board %s high: add features of %s in all, or make the board %s",
				w.say(length), w.say(height), w.say(height.Sub(length)), w.say(length)),
			nearest: fmt.Sprintf("a board of %s, or features of %s more", w.say(length), w.say(height.Sub(length))),
		}
	}
	for _, b := range c.boards {
		if row := c.bare(b); row != "" {
			return refusal{why: fmt.Sprintf("row %s would have no slot on a board of %s: give at least two features that reach it", row, w.say(b.height.Ratio()))}
		}
		if row, width := c.sliver(b); row != "" {
			even := w.evenList(c, b)
			return refusal{
				why: fmt.Sprintf("height %s leaves a sliver of %s at an edge of row %s: heights that come out even are %s",
					w.say(b.height.Ratio()), w.say(width), row, even),
				nearest: "a board of " + strings.ReplaceAll(even, " and ", " or "),
			}
		}
	}
	return refusal{}
}

var patternRows = []jigplan.Rows{jigplan.OnlyA, jigplan.OnlyB}

// bare is a row in which a board gets no slot at all; empty: none.
func (c *patternRun) bare(b patternBoard) jigplan.Rows {
	whole := []board{{b.shim, b.shim.Add(b.height.Ratio())}}
	for _, row := range patternRows {
		bites := func(t slotRun) bool { return len(c.bitten(t, whole, c.grazeOf())) > 0 }
		if !slices.ContainsFunc(c.slots(row, 0, len(c.units)), bites) {
			return row
		}
	}
	return ""
}

// sliver is an edge feature of a board too thin to stand; an empty row: none.
func (c *patternRun) sliver(b patternBoard) (jigplan.Rows, measure.Ratio) {
	for _, row := range patternRows {
		low, high := c.edgesOf(row, b)
		for _, e := range []jigplan.Edge{low, high} {
			if e.Width.Cmp(lesser(c.narrowest().Over(2), thinnest.Ratio())) < 0 {
				return row, e.Width
			}
		}
	}
	return "", measure.Ratio{}
}

func (c *patternRun) grazeOf() measure.Ratio { return greater(c.fitOf().Over(2), measure.Ratio{}) }

func (c *patternRun) narrowest() measure.Ratio { return c.nominal(slices.Min(c.units)) }

// evenList is the board heights nearest this one at which a whole feature
// stands at an edge and nothing breaks off.
func (w workshop) evenList(c *patternRun, b patternBoard) string {
	var below, above measure.Ratio
	middle := c.tallest().Over(2)
	at := c.start
	for _, units := range append(slices.Clone(c.units), 0) {
		height := at
		if c.centred {
			height = at.Sub(middle).Abs().Times(2)
		}
		other := patternBoard{height: measure.Length(height.Round())}
		if c.centred {
			other.shim = middle.Sub(other.height.Ratio().Over(2))
		}
		switch row, _ := c.sliver(other); {
		case other.height <= 0 || row != "" || c.bare(other) != "":
		case other.height <= b.height:
			below = greater(below, height)
		case above.Sign() == 0 || height.Cmp(above) < 0:
			above = height
		}
		at = at.Add(c.nominal(units))
	}
	var found []string
	for _, height := range []measure.Ratio{below, above} {
		if height.Sign() > 0 {
			found = append(found, w.say(height))
		}
	}
	if len(found) == 0 {
		return "none"
	}
	return strings.Join(found, " and ")
}

// edgesOf is what a row's slots leave at a board's two edges, grazes left out.
func (c *patternRun) edgesOf(row jigplan.Rows, b patternBoard) (low, high jigplan.Edge) {
	h := b.height.Ratio()
	low, high = jigplan.Edge{Width: h}, jigplan.Edge{Width: h}
	for _, s := range c.kerfWidths(row) {
		from, to := s.low.Sub(b.shim), s.high.Sub(b.shim)
		switch {
		case to.Cmp(c.grazeOf()) <= 0 || h.Sub(from).Cmp(c.grazeOf()) <= 0:
			continue
		case from.Sign() <= 0:
			low = jigplan.Edge{Notch: true, Width: to}
		case !low.Notch:
			low.Width = lesser(low.Width, from)
		}
		if to.Cmp(h) >= 0 {
			high = jigplan.Edge{Notch: true, Width: h.Sub(from)}
		} else {
			high = jigplan.Edge{Width: h.Sub(to)}
		}
	}
	return low, high
}
