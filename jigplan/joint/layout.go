package joint

import (
	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// Where a height's fingers start.
const (
	EdgeLayout     = "edge"
	CentredSym     = "centred symmetric"
	CentredAntisym = "centred antisymmetric"
)

// placement is one way to lay a shape on a height.
type placement struct {
	layout   string
	origin   measure.Ratio
	smallest measure.Ratio // narrowest feature at the four edges
}

func (sh shape) place(layout string, origin measure.Ratio, height measure.Length) placement {
	h := run{shape: sh}.heightOf(placed{height: height, origin: origin})
	return placement{layout, origin, h.SmallestAtAll}
}

// symmetric centres a slot or a pin of row A on the board, whichever leaves a
// notch at row A's edges.
func (sh shape) symmetric(height measure.Length) placement {
	half := height.Ratio().Over(2)
	onSlot := sh.place(CentredSym, half.Sub(sh.slot().Over(2)), height)
	if low, _ := sh.edges(onSlot.origin, height); low.Notch {
		return onSlot
	}
	return sh.place(CentredSym, half.Add(sh.pin().Over(2)), height)
}

// antisymmetric puts the joint's own turning point on the board's middle: one
// edge shows a pin where the other shows a notch.
func (sh shape) antisymmetric(height measure.Length) placement {
	origin := height.Ratio().Over(2).Sub(sh.clearance().Over(4))
	return sh.place(CentredAntisym, origin.Mod(sh.finger()), height)
}

// centred is the better of the two: never under half a finger (less a quarter
// of the fit), whatever the height.
func (sh shape) centred(height measure.Length) placement {
	sym, anti := sh.symmetric(height), sh.antisymmetric(height)
	if anti.smallest.Cmp(sym.smallest) > 0 {
		return anti
	}
	return sym
}

// lay places a height as the shop's Layout asks.
func (sh shape) lay(layout string, edgeOrigin measure.Ratio, height measure.Length) placement {
	edge := sh.place(EdgeLayout, edgeOrigin, height)
	switch layout {
	case EdgeLayout:
		return edge
	case "centred":
		return sh.centred(height)
	}
	if edge.smallest.Cmp(sh.finger().Over(2).Sub(sh.graze())) >= 0 {
		return edge
	}
	return sh.centred(height)
}

// stand chooses where on the carriage the heights stand, so that one program
// serves them all: each gets the shim that brings its own origin onto the
// lattice. One height goes without; of these the one that asks for the fewest
// cuts, then the fewest shims, then the least travel.
func stand(sh shape, rows jigplan.Rows, heights []measure.Length, lays []placement) run {
	var best run
	var bestPlan jigplan.Program
	for i := range heights {
		if i > 0 && lays[i].origin == lays[i-1].origin {
			continue
		}
		r := standAt(sh, rows, heights, lays, lays[i].origin)
		if p := r.program(); i == 0 || lighter(p, bestPlan) {
			best, bestPlan = r, p
		}
	}
	return best
}

func standAt(sh shape, rows jigplan.Rows, heights []measure.Length, lays []placement, lattice measure.Ratio) run {
	r := run{shape: sh, rows: rows, firstSlot: lattice}
	for i, h := range heights {
		r.heights = append(r.heights, placed{
			height: h, layout: lays[i].layout, origin: lays[i].origin,
			shim: lattice.Sub(lays[i].origin).Mod(sh.period()),
		})
	}
	return r
}

func lighter(p, q jigplan.Program) bool {
	if p.TotalCuts != q.TotalCuts {
		return p.TotalCuts < q.TotalCuts
	}
	if a, b := shims(p), shims(q); a != b {
		return a < b
	}
	return p.Travel.Cmp(q.Travel) < 0
}

func shims(p jigplan.Program) int {
	n := 0
	for _, h := range p.Heights {
		if h.Shim.Sign() > 0 {
			n++
		}
	}
	return n
}

// thinnest is the narrowest edge feature that survives handling (common
// practice).
const thinnest = measure.Inch / 16
