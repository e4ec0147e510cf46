package cutting

import (
	"fmt"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/orders/woods"
)

// typical lists the boards a yard usually has of every wood and thickness the
// job needs, as many as wanted: the shop's typical board, and for parts too
// large for it one as large as they need, up to the largest the yard has; and
// the other sizes the yard has, where a part fits them. A shop that resaws is
// offered the thicker boards that give two leaves as well.
func typical(job Job) []orders.Board {
	p := &problem{job: job, set: &job.Settings}
	p.gather()
	var out []orders.Board
	type kind struct {
		wood, class              string
		length, width, thickness measure.Length
	}
	seen := map[kind]bool{}
	offers := []func(*item) (orders.Board, bool){p.typicalFor}
	for _, size := range job.Settings.OtherTypical {
		offers = append(offers, func(it *item) (orders.Board, bool) { return p.typicalOf(it, size) })
	}
	for _, offer := range append(offers, p.typicalResawn) {
		for i := range p.items {
			b, ok := offer(&p.items[i])
			key := kind{woods.Key(b.Wood), b.Class, b.Length, b.Width, b.Thickness}
			if ok && !seen[key] {
				seen[key] = true
				b.ID = fmt.Sprintf("T%d", len(out)+1)
				out = append(out, b)
			}
		}
	}
	return out
}

// typicalOf is a board of another size for an item; false: it does not fit, or
// comes from a sheet.
func (p *problem) typicalOf(it *item, size settings.Flat) (orders.Board, bool) {
	b, ok := p.typicalFor(it)
	b.Length, b.Width = size.Length, size.Width
	return b, ok && !b.Sheet && it.l+2*p.set.EndTrim <= b.Length && it.w+2*p.set.EdgeTrim <= b.Width
}

// typicalResawn is the board an item is looked for on in two leaves: of the
// thinnest class that gives them, no wider than the band saw takes.
func (p *problem) typicalResawn(it *item) (orders.Board, bool) {
	b, ok := p.typicalFor(it)
	if !ok || b.Sheet {
		return b, false
	}
	b.Width = min(b.Width, p.set.ResawUpTo)
	for _, class := range p.set.ClassesOf(p.set.TypicalClass) {
		b.Class = class.Name
		if _, finished, ok := b.Leaves(2, p.set); ok && finished >= it.thick {
			return b, it.w+2*p.set.EdgeTrim <= b.Width
		}
	}
	return b, false
}

// typicalFor is the board an item is looked for on; false: no class is thick
// enough.
func (p *problem) typicalFor(it *item) (orders.Board, bool) {
	part := p.job.Parts[it.units[0][0]]
	b := orders.Board{Origin: orders.FromTypical, Unlimited: true, Wood: part.Wood,
		Length: p.set.TypicalLength, Width: p.set.TypicalWidth}
	if woods.IsSheet(part.Wood) {
		b.Sheet, b.Thickness = true, it.thick
		b.Length, b.Width = p.set.SheetLength, p.set.SheetWidth
		return b, true
	}
	class, ok := orders.ClassFor(it.thick, p.set.TypicalClass, p.set)
	b.Class = class.Name
	b.Width = stretch(b.Width, it.w+2*p.set.EdgeTrim, p.yardStep(measure.Inch, 10*measure.Millimetre), p.set.TypicalWidest)
	b.Length = stretch(b.Length, it.l+2*p.set.EndTrim, p.yardStep(measure.Foot, 100*measure.Millimetre), p.set.TypicalLongest)
	return b, ok
}

// yardStep is the step a yard of the shop's units sells in.
func (p *problem) yardStep(inches, metric measure.Length) measure.Length {
	if p.set.Units.Metric() {
		return metric
	}
	return inches
}

// stretch makes a usual size as large as is needed, in the steps a yard sells,
// when that is not beyond the most it has.
func stretch(usual, need, step, most measure.Length) measure.Length {
	stepped := (need + step - 1) / step * step
	if need > usual && stepped <= most {
		return stepped
	}
	return usual
}
