package joint

import (
	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// program writes a run down as a count card's figures.
func (r run) program() jigplan.Program {
	p := jigplan.Program{
		Rows: r.rows, Regular: true, Lead: r.lead, StopsPerTurn: int(r.stops), Kerf: r.kerf.Length(),
		Finger: r.finger(), Slot: r.slot(), Pin: r.pin(), Fit: r.clearance(),
		Period: r.period(), Spacer: r.finger(),
		CutsPerSlot: r.cuts(), PastPin: measure.Frac(r.u, r.stops),
	}
	if r.m()%2 == 0 {
		p.DialTurns = p.Spacer.Div(r.lead)
	}
	writeSteps(&p, r.cutSlots())
	r.firstPass(&p)
	for _, h := range r.heights {
		p.Heights = append(p.Heights, r.heightOf(h))
	}
	return p
}

// firstPass moves a program, laid for the second pass, to where the first one
// cuts: the shim at the stop sets the boards back by its thickness.
func (s screw) firstPass(p *jigplan.Program) {
	p.SecondPass, p.Origin = s.widen, p.Origin.Add(s.widen)
}

// writeSteps fills in slots and steps from the kerf starts. Every position
// comes from its own count of turns, never from adding up rounded steps.
func writeSteps(p *jigplan.Program, slots []slotCuts) {
	p.Origin = slots[0].starts[0]
	before := p.Origin
	for i, s := range slots {
		slot := jigplan.Slot{N: i + 1, Width: s.width, Cuts: len(s.starts)}
		for j, at := range s.starts {
			turns := at.Sub(before).Div(p.Lead)
			travel := at.Sub(p.Origin)
			total := travel.Div(p.Lead)
			p.Steps = append(p.Steps, jigplan.Step{
				Slot: i + 1, Cut: s.skipped + j + 1, Turns: turns, TotalTurns: total, Clock: clock(total), Travel: travel,
			})
			if j > 0 {
				slot.StepTurns = append(slot.StepTurns, turns)
			}
			before = at
		}
		if i+1 < len(slots) {
			slot.PastTurns = slots[i+1].starts[0].Sub(before).Div(p.Lead)
		}
		p.Slots = append(p.Slots, slot)
	}
	last := p.Steps[len(p.Steps)-1]
	p.TotalCuts, p.ReturnTurns, p.Travel = len(p.Steps), last.TotalTurns, last.Travel
}

func (r run) heightOf(h placed) jigplan.Height {
	out := jigplan.Height{Height: h.height, Shim: h.shim, Layout: h.layout}
	out.ALow, out.AHigh = r.edges(h.origin, h.height)
	out.BLow, out.BHigh = r.edges(h.origin.Sub(r.finger()), h.height)
	out.SmallestAtAll = out.ALow.Width
	for _, e := range []jigplan.Edge{out.AHigh, out.BLow, out.BHigh} {
		out.SmallestAtAll = lesser(out.SmallestAtAll, e.Width)
	}
	return out
}

// fromHome counts a program's turns and travel from the given home instead of
// from its own first cut.
func fromHome(p *jigplan.Program, home measure.Ratio) {
	before := p.Origin.Sub(home)
	for i := range p.Steps {
		s := &p.Steps[i]
		s.Travel = s.Travel.Add(before)
		s.TotalTurns = s.Travel.Div(p.Lead)
		s.Clock = clock(s.TotalTurns)
	}
	p.Steps[0].Turns = p.Steps[0].TotalTurns
	last := p.Steps[len(p.Steps)-1]
	p.Origin, p.ReturnTurns, p.Travel = home, last.TotalTurns, last.Travel
}
