package check

import (
	"fmt"
	"slices"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// span is a piece of a board, across the fingers, from its marked edge.
type span struct{ from, to measure.Ratio }

func (s span) width() measure.Ratio { return s.to.Sub(s.from) }

// cut is one board after the program: what was removed and what stands.
type cut struct {
	height      measure.Ratio
	slots, pins []span
}

// setback is what keeps the marked edge of a board from the stop.
func setback(p jigplan.Program, h jigplan.Height, row jigplan.Rows) measure.Ratio {
	if p.Rows == jigplan.BothRows && row == jigplan.OnlyB {
		return h.Shim.Add(p.Spacer)
	}
	return h.Shim
}

// cutBoard cuts one board, kerf by kerf.
func cutBoard(p jigplan.Program, h jigplan.Height, row jigplan.Rows) cut {
	c := cut{height: h.Height.Ratio()}
	back := setback(p, h, row)
	var kerfs []span
	for _, shim := range shims(p) {
		for _, s := range p.Steps {
			from := p.Origin.Add(s.Travel).Sub(back).Sub(shim)
			to := from.Add(p.Kerf.Ratio())
			if to.Sign() <= 0 || from.Cmp(c.height) >= 0 {
				continue
			}
			kerfs = append(kerfs, span{clip(from, c.height), clip(to, c.height)})
		}
	}
	slices.SortFunc(kerfs, func(a, b span) int { return a.from.Cmp(b.from) })
	for _, k := range kerfs {
		last := len(c.slots) - 1
		if last >= 0 && k.from.Cmp(c.slots[last].to) <= 0 {
			if k.to.Cmp(c.slots[last].to) > 0 {
				c.slots[last].to = k.to
			}
			continue
		}
		c.slots = append(c.slots, k)
	}
	c.pins = standing(c.slots, c.height)
	return c
}

// shims are what sets the boards back further in each run of the card.
func shims(p jigplan.Program) []measure.Ratio {
	if p.SecondPass.Sign() == 0 {
		return []measure.Ratio{{}}
	}
	return []measure.Ratio{{}, p.SecondPass}
}

func clip(x, height measure.Ratio) measure.Ratio {
	switch {
	case x.Sign() < 0:
		return measure.Whole(0)
	case x.Cmp(height) > 0:
		return height
	}
	return x
}

// standing is the wood between slots.
func standing(slots []span, height measure.Ratio) []span {
	var pins []span
	at := measure.Whole(0)
	for _, s := range slots {
		if s.from.Cmp(at) > 0 {
			pins = append(pins, span{at, s.from})
		}
		at = s.to
	}
	if height.Cmp(at) > 0 {
		pins = append(pins, span{at, height})
	}
	return pins
}

// rows are the rows a program cuts.
func rows(p jigplan.Program) []jigplan.Rows {
	if p.Rows == jigplan.BothRows {
		return []jigplan.Rows{jigplan.OnlyA, jigplan.OnlyB}
	}
	return []jigplan.Rows{p.Rows}
}

// idleCuts finds cuts that touch no board at all.
func (f *faults) idleCuts(p jigplan.Program) {
	for i, s := range p.Steps {
		if !f.touches(p, s) {
			f.add("cut %d touches no board", i+1)
		}
	}
}

func (f *faults) touches(p jigplan.Program, s jigplan.Step) bool {
	for _, h := range p.Heights {
		for _, row := range rows(p) {
			from := p.Origin.Add(s.Travel).Sub(setback(p, h, row))
			if from.Add(p.Kerf.Ratio()).Sign() > 0 && from.Sub(p.SecondPass).Cmp(h.Height.Ratio()) < 0 {
				return true
			}
		}
	}
	return false
}

// height proves the boards of one height.
func (f *faults) height(p jigplan.Program, h jigplan.Height) {
	if h.Shim.Sign() < 0 {
		f.add("height %s asks for a shim of %s", mm(h.Height.Ratio()), mm(h.Shim))
	}
	for _, row := range rows(p) {
		b := cutBoard(p, h, row)
		if len(b.slots) == 0 {
			f.add("height %s, row %s: nothing is cut", mm(b.height), row)
			continue
		}
		name := fmt.Sprintf("height %s, row %s", mm(b.height), row)
		if p.Regular {
			f.widths(p, b, name)
		}
		f.edges(p, h, b, row, name)
	}
	if p.Rows == jigplan.BothRows {
		f.mate(h.Height, p.Fit, cutBoard(p, h, jigplan.OnlyA), cutBoard(p, h, jigplan.OnlyB))
	}
}

// widths compares whole slots and pins, away from the edges, with the card.
// This is where a fin between passes shows, as a pin far too thin.
func (f *faults) widths(p jigplan.Program, b cut, name string) {
	for _, s := range b.slots {
		if b.inside(s) && s.width().Cmp(p.Slot) != 0 {
			f.add("%s: the slot at %s is %s wide, not %s", name, mm(s.from), mm(s.width()), mm(p.Slot))
		}
	}
	for _, s := range b.pins {
		if b.inside(s) && s.width().Cmp(p.Pin) != 0 && !b.grazed(s, p.Fit) {
			f.add("%s: the pin at %s is %s wide, not %s", name, mm(s.from), mm(s.width()), mm(p.Pin))
		}
	}
}

// inside reports whether neither end of s is the board's edge.
func (c cut) inside(s span) bool { return s.from.Sign() > 0 && s.to.Cmp(c.height) < 0 }

// grazed reports whether a pin is parted from the edge by a graze alone.
func (c cut) grazed(s span, fit measure.Ratio) bool {
	half := fit.Over(2)
	return s.from.Cmp(half) <= 0 || c.height.Sub(s.to).Cmp(half) <= 0
}

// edges compares the features at a board's edges with the card.
func (f *faults) edges(p jigplan.Program, h jigplan.Height, b cut, row jigplan.Rows, name string) {
	low, high := h.ALow, h.AHigh
	if row == jigplan.OnlyB {
		low, high = h.BLow, h.BHigh
	}
	f.edge(p, h, low, b.lowEdge(p.Fit), name+", marked edge")
	f.edge(p, h, high, b.mirrored().lowEdge(p.Fit), name+", other edge")
}

func (f *faults) edge(p jigplan.Program, h jigplan.Height, printed, made jigplan.Edge, name string) {
	if printed.Notch != made.Notch || printed.Width.Cmp(made.Width) != 0 {
		f.add("%s: says %s, the cuts leave %s", name, sayEdge(printed), sayEdge(made))
	}
	if p.Regular && h.Layout != "edge" && made.Width.Cmp(p.Finger.Over(2).Sub(p.Fit.Abs())) < 0 {
		f.add("%s: %s is a sliver, under half a finger", name, sayEdge(made))
	}
}

func sayEdge(e jigplan.Edge) string {
	if e.Notch {
		return "notch " + mm(e.Width)
	}
	return "pin " + mm(e.Width)
}

// lowEdge is the feature at the marked edge. A notch of up to half the fit is
// a graze: the edge counts as the pin behind it.
func (c cut) lowEdge(fit measure.Ratio) jigplan.Edge {
	first := c.slots[0]
	if first.from.Sign() > 0 {
		return jigplan.Edge{Width: first.from}
	}
	if first.to.Cmp(fit.Over(2)) > 0 {
		return jigplan.Edge{Notch: true, Width: first.to}
	}
	if len(c.slots) > 1 {
		return jigplan.Edge{Width: c.slots[1].from}
	}
	return jigplan.Edge{Width: c.height}
}

// mirrored is the board seen from its other edge.
func (c cut) mirrored() cut {
	out := cut{height: c.height}
	for i := len(c.slots) - 1; i >= 0; i-- {
		out.slots = append(out.slots, span{c.height.Sub(c.slots[i].to), c.height.Sub(c.slots[i].from)})
	}
	return out
}

func mm(r measure.Ratio) string { return r.Decimal() + " mm" }
