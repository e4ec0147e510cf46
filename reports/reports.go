// Package reports turns results into tables and texts, free of any file
// format. It decides nothing: what is made, how and in which order stands in
// the plan, and record, workbook, draw and page give it a form.
package reports

import (
	"strconv"
	"strings"

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
		if p.Parts[i].Role != orders.Loose {
			seen[box{p.Parts[i].Line, p.Parts[i].Unit}] = true
		}
	}
	return len(seen)
}

// Problems is every finding about the order and the plan, each once, in the
// order they were found.
func Problems(p *jigplan.Plan) []orders.Problem {
	var out []orders.Problem
	seen := map[orders.Problem]bool{}
	for _, list := range [][]orders.Problem{p.Order.Problems, p.Problems} {
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

// BoardFeet is the lumber tally of whole solid boards: length in feet times
// width in feet times nominal thickness in inches, stock under one inch
// counted as one inch (common practice of the hardwood trade). Manufactured sheets are sold by area and are left out.
func BoardFeet(boards []nesting.Board) float64 {
	total := 0.0
	for i := range boards {
		b := &boards[i]
		if b.Stock.Sheet {
			continue
		}
		inches := max(nominal(b), 1)
		total += b.Length.Inches() / 12 * b.Width.Inches() / 12 * inches
	}
	return total
}

// nominal is a board's thickness in inches as the trade names it: 5/4 is
// 1.25. A board without a class counts as it lies.
func nominal(b *nesting.Board) float64 {
	quarters, rest, ok := strings.Cut(b.Stock.Class, "/")
	n, err := strconv.ParseFloat(strings.TrimSpace(quarters), 64)
	if ok && err == nil && strings.TrimSpace(rest) == "4" {
		return n / 4
	}
	return float64(b.Thickness) / float64(measure.Inch)
}
