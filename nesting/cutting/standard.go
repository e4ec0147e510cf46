package cutting

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/orders/woods"
)

// standard lists the boards to buy for what the yard cannot supply in any
// number: of every wood and thickness needed, the shop's typical board, and for
// parts too large for it one as large as they need, up to the largest a yard
// has; and the other sizes a yard has, where a part fits them. A shop that
// resaws is offered the thicker boards that give two leaves as well.
func standard(job Job) []orders.Board {
	p := newProblem(job)
	var out []orders.Board
	type kind struct {
		wood, class              string
		length, width, thickness measure.Length
	}
	seen := map[kind]bool{}
	offers := []func(*item) (orders.Board, bool){p.standardFor}
	for _, size := range job.Settings.OtherTypical {
		offers = append(offers, func(it *item) (orders.Board, bool) { return p.standardOf(it, size) })
	}
	missing := p.missing()
	if job.Settings.ResawUpTo > 0 {
		offers = append(offers, p.standardResawn)
	}
	for _, offer := range offers {
		for _, i := range missing {
			b, ok := offer(&p.items[i])
			key := kind{woods.Key(b.Wood), b.Class, b.Length, b.Width, b.Thickness}
			if ok && !seen[key] {
				seen[key] = true
				out = append(out, b)
			}
		}
	}
	prefix := freePrefix(job)
	for i := range out {
		out[i].ID = fmt.Sprint(prefix, i+1)
	}
	return out
}

// freePrefix begins the names of standard-size boards: no board that was given
// begins with it.
func freePrefix(job Job) string {
	prefix := "T"
	for _, list := range [][]orders.Board{job.Rack, job.Yard} {
		for i := range list {
			for strings.HasPrefix(list[i].ID, prefix) {
				prefix += "T"
			}
		}
	}
	return prefix
}

// missing are the items that no yard board holds of which any number is had.
func (p *problem) missing() (out []int) {
	for i := range p.items {
		if !slices.ContainsFunc(p.stocks, func(s stock) bool { return p.supplies(&s, &p.items[i]) }) {
			out = append(out, i)
		}
	}
	return out
}

// supplies reports whether the yard has any number of boards that hold an item,
// whole or, where it asks for two leaves, resawn.
func (p *problem) supplies(s *stock, it *item) bool {
	if !s.board.Unlimited || !isBought(&s.board) || s.wood != it.wood || !p.aloneOn(s, it).clear {
		return false
	}
	if !it.book {
		return s.takes(it.thick)
	}
	for n := 2; n <= orders.MaxLeaves; n += 2 {
		if _, finished, ok := s.board.Leaves(n, p.set); ok && finished >= it.thick {
			return true
		}
	}
	return false
}

// standardOf is a board of another size for an item; false: it does not fit, or
// comes from a sheet.
func (p *problem) standardOf(it *item, size settings.Flat) (orders.Board, bool) {
	b, ok := p.standardFor(it)
	b.Length, b.Width = size.Length, size.Width
	return b, ok && !b.Sheet && it.l+2*p.set.EndTrim <= b.Length && it.w+2*p.set.EdgeTrim <= b.Width
}

// standardResawn is the board an item is looked for on in two leaves: of the
// thinnest class that gives them, no wider than the band saw takes.
func (p *problem) standardResawn(it *item) (orders.Board, bool) {
	b, ok := p.standardFor(it)
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

// standardFor is the board an item is looked for on; false: no class is thick
// enough.
func (p *problem) standardFor(it *item) (orders.Board, bool) {
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
