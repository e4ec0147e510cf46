// Package reports turns results into tables and texts, free of any file
// format. It decides nothing: what is made, how and in which order stands in
// the plan, and record, workbook, draw and page give it a form.
package reports

import (
	"math/big"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// Boxes counts the boxes the plan's parts belong to.
func Boxes(p *jigplan.Plan) int {
	type box struct{ line, unit int }
	seen := map[box]bool{}
	for i := range p.Parts {
		if !p.Parts[i].IsLoose() {
			seen[box{p.Parts[i].Line, p.Parts[i].Unit}] = true
		}
	}
	return len(seen)
}

// Findings is every finding about the order and the plan, each once, in the
// order they were found.
func Findings(p *jigplan.Plan) []orders.Finding {
	var out []orders.Finding
	seen := map[orders.Finding]bool{}
	for _, list := range [][]orders.Finding{p.Order.Findings, p.Findings} {
		for _, problem := range list {
			if !seen[problem] {
				seen[problem] = true
				out = append(out, problem)
			}
		}
	}
	return out
}

// Short is every part that cannot be made, each once: those no board holds
// and those whose joint is refused.
func Short(p *jigplan.Plan) []nesting.Short {
	var out []nesting.Short
	seen := map[string]bool{}
	add := func(part, why string) {
		if !seen[part] {
			seen[part] = true
			out = append(out, nesting.Short{Part: part, Why: why})
		}
	}
	for _, s := range p.Layout.Short {
		add(s.Part, s.Why)
	}
	for _, r := range p.Refusals {
		for _, part := range r.Parts {
			add(part, r.Why)
		}
	}
	return out
}

// BoardFeet is the lumber tally of the whole solid boards used.
func BoardFeet(boards []nesting.CutBoard) float64 { return contents(boards, Words{measure.Inches}) }

// Tally writes a lumber tally of so many board feet in the shop's measure, and
// names that measure. A board foot is 144 cubic inches.
func Tally(feet float64, unit measure.Unit) (text, measured string) {
	if unit.Metric() {
		return unit.Number(feet*144*25.4*25.4*25.4/1e9, 3), "m3"
	}
	return unit.Number(feet, 1), "board feet"
}

// contents is what the whole solid boards used hold: board feet, or cubic
// metres. Manufactured sheets are sold by area and are left out; the leaves of
// one resawn board ("K1/1", "K1/2") count once.
func contents(boards []nesting.CutBoard, w Words) float64 {
	total := new(big.Rat)
	counted := map[string]bool{}
	for i := range boards {
		b := &boards[i]
		if b.Stock.Sheet || counted[b.Whole()] {
			continue
		}
		counted[b.Whole()] = true
		stock := b.Stock
		stock.Length, stock.Width = b.Length, b.Width
		total.Add(total, content(&stock, w))
	}
	sum, _ := total.Float64()
	return sum
}
