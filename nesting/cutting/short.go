package cutting

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/nesting"
	"batchwright/orders/measure"
	"batchwright/orders/woods"
)

// dropHopeless takes out of the problem what fits on no board however many
// there are, and says why.
func (p *problem) dropHopeless() []nesting.Short {
	var short []nesting.Short
	for i := range p.items {
		it := &p.items[i]
		why := p.whyNot(i)
		if why == "" {
			continue
		}
		for _, unit := range it.units {
			for _, u := range unit {
				short = append(short, nesting.Short{Part: p.job.Parts[u].ID, Why: why})
			}
		}
		it.units = nil
	}
	return short
}

// whyNot is empty when some board holds the item.
func (p *problem) whyNot(at int) string {
	it := &p.items[at]
	if why := p.badSize(it); why != "" {
		return why
	}
	var wood, thick, unplaned, long, wide, fits, safe bool
	for i := range p.stocks {
		s := &p.stocks[i]
		if s.wood != it.wood || s.left <= 0 && !s.board.Unlimited || p.each(i, at) > len(it.units) {
			continue
		}
		wood = true
		if !s.suits(it) {
			continue
		}
		thick = true
		alone := p.aloneOn(s, it)
		unplaned = unplaned || alone.unplaned
		long = long || alone.long
		wide = wide || alone.long && alone.wide
		fits = fits || alone.clear
		safe = safe || alone.clear && p.safeAlone(s, at, p.set)
	}
	name := p.job.Parts[it.units[0][0]].Wood
	what := "the part"
	if len(it.units[0]) > 1 {
		what = "its matched-grain run"
	}
	switch {
	case !wood:
		return fmt.Sprintf("no such wood: no board of %q is on the rack or in the yard; add one, or change the part's wood", name)
	case it.book && p.set.ResawUpTo <= 0:
		return "no band saw: grain round four corners comes from two leaves of one board, and the shop resaws nothing (setting Resaw up to); set it, or ask for three corners"
	case it.book && !thick:
		return fmt.Sprintf("no two leaves: no board of %q up to %s wide (setting Resaw up to) gives two of %s each; add a thicker board, or ask for three corners",
			name, p.show(p.set.ResawUpTo), p.show(it.thick))
	case !thick:
		return p.wrongThickness(it, name)
	case !long && unplaned && p.set.ShortestRip > p.set.ShortestMachine:
		return fmt.Sprintf("too short to rip: the boards of %q that hold %s, cut %s long, have less than %s between their end trims, the least that is safe along the fence (setting Shortest rip); add a longer board",
			name, what, p.show(it.l), p.show(p.set.ShortestRip))
	case !long && unplaned:
		return fmt.Sprintf("too short to be planed: the boards of %q that hold %s, cut %s long, have less than %s between their end trims, the least that goes through the planer (setting Shortest machine length); add a longer board",
			name, what, p.show(it.l), p.show(p.set.ShortestMachine))
	case !long:
		return fmt.Sprintf("too long: %s is cut %s long and no suitable board of %q is that long between its end trims", what, p.show(it.l), name)
	case !wide:
		return fmt.Sprintf("too wide: %s is cut %s wide and no suitable board of %q long enough is that wide between its edge trims", what, p.show(it.w), name)
	case !fits:
		return fmt.Sprintf("only across a defect: %s of %s x %s fits a board of %q only over a defect", what, p.show(it.l), p.show(it.w), name)
	case !safe:
		return p.unsafe(at, what, name)
	}
	return ""
}

// wrongThickness says what no board of the wood yields. Sheets are not planed:
// theirs is the thickness as it lies.
func (p *problem) wrongThickness(it *item, name string) string {
	var sheets []string
	for i := range p.stocks {
		s := &p.stocks[i]
		if s.wood != it.wood {
			continue
		}
		if !s.board.Sheet {
			return fmt.Sprintf("too thick: no board of %q yields %s; add a thicker board", name, p.show(it.thick))
		}
		if thick := p.show(s.board.Rough()); !slices.Contains(sheets, thick) {
			sheets = append(sheets, thick)
		}
	}
	return fmt.Sprintf("no sheet of %q is %s thick: sheets are not planed, and there are %s; write the thickness of the sheet in the order, or add a sheet",
		name, p.show(it.thick), strings.Join(sheets, ", "))
}

// badSize refuses what no saw can cut.
func (p *problem) badSize(it *item) string {
	for _, u := range it.units[0] {
		part := p.job.Parts[u]
		if part.CutLength <= 0 || part.CutWidth <= 0 || part.Thickness <= 0 {
			return fmt.Sprintf("a size of zero: it is cut %s x %s x %s; every size must be above zero",
				p.show(part.CutLength), p.show(part.CutWidth), p.show(part.Thickness))
		}
	}
	if it.mixed {
		return p.badMix(it)
	}
	return ""
}

// badMix refuses a run of several thicknesses that no planer can make: its parts
// are planed one by one.
func (p *problem) badMix(it *item) string {
	for _, u := range it.units[0] {
		part := p.job.Parts[u]
		switch {
		case woods.IsSheet(part.Wood):
			return "its matched-grain run mixes thicknesses, and a sheet has one; use one thickness, or set Grain to any"
		case part.CutLength < p.set.ShortestMachine:
			return fmt.Sprintf("its matched-grain run mixes thicknesses, so that each wall is planed on its own, and %s is shorter than the planer takes (%s, setting Shortest machine length); use one thickness, or set Grain to any",
				p.show(part.CutLength), p.show(p.set.ShortestMachine))
		}
	}
	return ""
}

func (p *problem) show(l measure.Length) string { return l.OnRule(p.set.Units) }

// alone says how an item lies on an empty board.
type alone struct{ unplaned, long, wide, clear bool }

// aloneOn tries the item on the empty board, either way it may lie.
func (p *problem) aloneOn(s *stock, it *item) alone {
	var a alone
	try := func(l, w measure.Length) {
		if l > s.sound.length() {
			return
		}
		if p.machine(s) > s.sound.length() {
			a.unplaned = true
			return
		}
		a.long = true
		if w > s.sound.width() {
			return
		}
		a.wide = true
		a.clear = a.clear || s.clearIn(s.sound, l, w)
	}
	try(it.l, it.w)
	if it.turn {
		try(it.w, it.l)
	}
	return a
}

func (s *stock) blocked(r rect) bool {
	return slices.ContainsFunc(s.defects, r.overlaps)
}

// sortShort puts the parts in the order they were asked for.
func (p *problem) sortShort(short []nesting.Short) {
	at := make(map[string]int, len(p.job.Parts))
	for i, part := range p.job.Parts {
		at[part.ID] = i
	}
	slices.SortStableFunc(short, func(a, b nesting.Short) int { return at[a.Part] - at[b.Part] })
}
