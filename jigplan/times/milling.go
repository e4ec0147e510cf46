package times

import (
	"cmp"
	"maps"
	"slices"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// Milling lists what is done to the boards between the cuts, each step once and
// with its minutes: the same minutes as the elements "Mill face and edge" and
// "Thickness pass", and the last rips in "Rip" and "Rip a foot".
func Milling(in Input) []jigplan.Milling {
	out := []jigplan.Milling{}
	parts := map[string]*orders.Part{}
	for i := range in.Parts {
		parts[in.Parts[i].ID] = &in.Parts[i]
	}
	t := &in.Settings.Times
	set := map[measure.Length]bool{}
	for i := range in.Layout.Boards {
		b := &in.Layout.Boards[i]
		if !b.Stock.Sheet && len(b.Pieces) > 0 {
			out = append(out, flattened(b, parts, t.MillPerFoot, t.ThicknessPass, t.PlanerTakes)...)
		}
		if in.Settings.PartWidth > 0 {
			out = append(out, lastRips(b, parts, set, t.RipEach, t.RipPerFoot)...)
		}
	}
	return out
}

// flattened are the steps after the rough cuts: one face and one edge of every
// piece are jointed, then it is planed, each strip to its own thickness.
func flattened(b *nesting.CutBoard, parts map[string]*orders.Part, perFoot, pass float64, takes measure.Length) []jigplan.Milling {
	after := 0
	for _, c := range b.Cuts {
		if c.Rough {
			after = c.N
		}
	}
	step := func(kind string, to measure.Length, seconds float64, ids []string) jigplan.Milling {
		return jigplan.Milling{AfterCut: after, Boards: []string{b.ID}, Parts: ids, Kind: kind, To: to, Minutes: round(seconds / 60)}
	}
	all := []string{}
	for _, p := range b.Pieces {
		all = append(all, p.Part)
	}
	feet := used(*b).Inches() / inchesAFoot
	joint := feet * perFoot
	out := []jigplan.Milling{step("joint face", 0, joint/2, all), step("joint edge", 0, joint/2, all)}
	for _, thick := range thicknesses(b, parts) {
		ids := []string{}
		for _, p := range b.Pieces {
			if parts[p.Part].Thickness == thick {
				ids = append(ids, p.Part)
			}
		}
		out = append(out, step("plane", thick, float64(passesFor(b.Thickness-thick, takes))*pass, ids))
	}
	return out
}

// thicknesses are those that a board is planed to, thick to thin.
func thicknesses(b *nesting.CutBoard, parts map[string]*orders.Part) []measure.Length {
	seen := map[measure.Length]bool{}
	for _, p := range b.Pieces {
		if part := parts[p.Part]; part != nil {
			seen[part.Thickness] = true
		}
	}
	return slices.SortedFunc(maps.Keys(seen), func(a, b measure.Length) int { return cmp.Compare(b, a) })
}

// lastRips bring the parts of a board to their finished width; the fence is set
// once for all boards with parts of one width.
func lastRips(b *nesting.CutBoard, parts map[string]*orders.Part, set map[measure.Length]bool, each, perFoot float64) []jigplan.Milling {
	byWidth := map[measure.Length][]string{}
	for _, p := range b.Pieces {
		if part := parts[p.Part]; part != nil {
			byWidth[part.Width] = append(byWidth[part.Width], p.Part)
		}
	}
	var out []jigplan.Milling
	for _, width := range slices.Sorted(maps.Keys(byWidth)) {
		seconds := 0.0
		if !set[width] {
			set[width], seconds = true, each
		}
		for _, id := range byWidth[width] {
			seconds += perFoot * parts[id].CutLength.Inches() / inchesAFoot
		}
		out = append(out, jigplan.Milling{AfterCut: len(b.Cuts), Boards: []string{b.ID}, Parts: byWidth[width],
			Kind: "rip to width", To: width, Minutes: round(seconds / 60)})
	}
	return out
}
