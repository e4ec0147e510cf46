package reports

import (
	"slices"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// ripToWidth is the milling that is done last, board for board with one fence
// setting for all parts of a width.
const ripToWidth = "rip to width"

// withMilling puts the jointing and planing of a board among its steps: before
// the first cut, or after the cut that it follows.
func (l *Layout) withMilling(steps []BoardStep, first bool, names Names, w Words) []BoardStep {
	var out []BoardStep
	if first {
		out = l.milling(0, names, w)
	}
	for _, step := range steps {
		out = append(out, step)
		for _, n := range step.Cuts {
			out = append(out, l.milling(n, names, w)...)
		}
	}
	return out
}

// milling is what is done after one cut: a row for each thickness.
func (l *Layout) milling(after int, names Names, w Words) (out []BoardStep) {
	do := ""
	var to []measure.Length
	codes := map[measure.Length][]string{}
	for i := range l.mills {
		m := &l.mills[i]
		switch {
		case m.AfterCut != after:
		case m.Kind == "plane":
			if codes[m.To] == nil {
				to = append(to, m.To)
			}
			codes[m.To] = append(codes[m.To], m.Parts...)
		default:
			do = "Joint, then plane"
		}
	}
	for i, thick := range to {
		step := BoardStep{Do: "Plane", Set: w.Bare(thick), From: "thickness", Gets: "all of it"}
		if i == 0 && do != "" {
			step.Do = do
		}
		if len(to) > 1 {
			step.Gets = names.Together(codes[thick], false)
		}
		out = append(out, step)
	}
	return out
}

// WidthRip is one fence setting that brings parts to their finished width.
type WidthRip struct{ Set, Parts, Boards string }

// WidthRips are the last rips of a batch, wide parts first.
func WidthRips(p *jigplan.Plan) (out []WidthRip) {
	w, names := WordsOf(p), NamesOf(p)
	var widths []measure.Length
	parts, boards := map[measure.Length][]string{}, map[measure.Length][]string{}
	for i := range p.Milling {
		m := &p.Milling[i]
		if m.Kind != ripToWidth {
			continue
		}
		if parts[m.To] == nil {
			widths = append(widths, m.To)
		}
		parts[m.To], boards[m.To] = append(parts[m.To], m.Parts...), append(boards[m.To], m.Boards...)
	}
	slices.Sort(widths)
	slices.Reverse(widths)
	for _, width := range widths {
		out = append(out, WidthRip{w.Marked(width), names.Together(parts[width], false), Listed(slices.Compact(boards[width]), 12)})
	}
	return out
}
