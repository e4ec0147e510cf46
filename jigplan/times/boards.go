package times

import (
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
)

const inchesAFoot = 12

// milling is flattening and planing the boards; manufactured sheets come flat.
func (s *sheet) milling(in Input) {
	parts := map[string]*orders.Part{}
	for i := range in.Parts {
		parts[in.Parts[i].ID] = &in.Parts[i]
	}
	var feet, passes float64
	for _, b := range in.Layout.Boards {
		if b.Stock.Sheet || len(b.Pieces) == 0 {
			continue
		}
		feet += used(b).Inches() / inchesAFoot
		for _, thick := range thicknesses(&b, parts) {
			passes += float64(passesFor(b.Thickness-thick, s.times.PlanerTakes))
		}
	}
	s.add("Mill face and edge", feet, s.times.MillPerFoot)
	s.add("Thickness pass", passes, s.times.ThicknessPass)
}

// passesFor is how often a board goes through the planer: at least once a face.
func passesFor(off, takes measure.Length) int64 {
	if off <= 0 {
		return 0
	}
	if takes <= 0 {
		return 2
	}
	return max(2, int64((off+takes-1)/takes))
}

// used is how much of a board's length is milled: what goes back to the rack
// across its whole width is not.
func used(b nesting.CutBoard) measure.Length {
	length := b.Length
	for _, o := range b.Offcuts {
		if o.Keep && o.Width == b.Width {
			length -= o.Length
		}
	}
	return length
}

// resawing is sawing boards on edge into leaves, before all else: a cut fewer
// than leaves, each the length of the board.
func (s *sheet) resawing(in Input) {
	var cuts, feet float64
	for i := range in.Layout.Boards {
		if b := &in.Layout.Boards[i]; b.Leaf.N > 1 {
			cuts++
			feet += b.Length.Inches() / inchesAFoot
		}
	}
	s.add("Resaw", cuts, s.times.ResawEach)
	s.add("Resaw a foot", feet, s.times.ResawPerFoot)
}

// sawing is the cuts of the layout, then the cuts that bring every part to
// its size where there is an allowance to take off: equal widths are ripped
// at one fence setting.
func (s *sheet) sawing(in Input) {
	work := in.Layout.Work()
	crosscuts, rips, feet := float64(work.Crosscuts), float64(work.Rips), work.RipFeet
	placed := map[string]bool{}
	for _, b := range in.Layout.Boards {
		for _, piece := range b.Pieces {
			placed[piece.Part] = true
		}
	}
	fences := map[measure.Length]bool{}
	for _, p := range in.Parts {
		if !placed[p.ID] {
			continue
		}
		if in.Settings.PartLength > 0 {
			crosscuts++
		}
		if in.Settings.PartWidth > 0 {
			fences[p.Width] = true
			feet += p.CutLength.Inches() / inchesAFoot
		}
	}
	marked := 0.0
	for _, p := range in.Parts {
		if placed[p.ID] {
			marked++
		}
	}
	s.add("Mark part", marked, s.times.MarkPart)
	s.add("Crosscut", crosscuts, s.times.CrosscutEach)
	s.add("Rip", rips+float64(len(fences)), s.times.RipEach)
	s.add("Rip a foot", feet, s.times.RipPerFoot)
	s.add("Set stop or fence", float64(work.Settings), s.times.SetSaw)
	s.add("Straightedge cut", float64(work.Straightedge), s.times.StraightedgeEach)
}

// panelGlueing is edge-gluing strips to panels: each panel, and each joint in it.
func (s *sheet) panelGlueing(in Input) {
	strips := map[string]float64{}
	short := map[string]bool{}
	for _, x := range in.Layout.Short {
		short[x.Part] = true
	}
	var panels, joints float64
	for _, p := range in.Parts {
		if p.Panel == "" || short[p.ID] {
			continue
		}
		if strips[p.Panel]++; strips[p.Panel] == 1 {
			panels++
		} else {
			joints++
		}
	}
	if panels > 0 {
		s.add("Panel glue-up", panels, s.times.PanelGlue)
		s.add("Panel joint", joints, s.times.PanelJoint)
	}
}

// built is how many boxes of each line have all their parts on boards.
func built(in Input) map[int]int {
	short := map[string]bool{}
	for _, x := range in.Layout.Short {
		short[x.Part] = true
	}
	type box struct{ line, unit int }
	whole := map[box]bool{}
	for _, p := range in.Parts {
		if p.IsLoose() {
			continue
		}
		b := box{p.Line, p.Unit}
		sofar, seen := whole[b]
		whole[b] = (sofar || !seen) && !short[p.ID]
	}
	count := map[int]int{}
	for b, ok := range whole {
		if ok {
			count[b.line]++
		}
	}
	return count
}
