package plan

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/settings"
	"batchwright/orders/woods"
)

// spareID begins the label of every spare blank.
const spareID = "Spare"

// sparesSetting is the row of the Shop sheet that asks for them.
const sparesSetting = "Spares per stack"

// addSpares adds the spare blanks that stand by for the boards of each stack:
// of each wood in it, as large as the largest blank, cut and milled with the
// rest and never jointed unless a board is lost. They are loose parts of the
// plan's own copy of the order.
func addSpares(p *jigplan.Plan, stacks []jigplan.Stack) {
	if p.Order.Settings.SpareBlanks == 0 {
		return
	}
	byID := map[string]*orders.Part{}
	for i := range p.Parts {
		byID[p.Parts[i].ID] = &p.Parts[i]
	}
	var blanks []orders.Part
	for _, s := range stacks {
		if s.End == 1 { // its boards stand in the stacks of the other end again
			blanks = append(blanks, sparesOf(s, byID, &p.Order.Settings)...)
		}
	}
	if len(blanks) == 0 {
		return
	}
	o := *p.Order
	o.Loose = slices.Clone(o.Loose)
	own := len(o.Loose)
	for i := range blanks {
		b := &blanks[i]
		b.Line, b.Unit = lineOf(&o, own, b)
		b.Source = o.Settings.Source(sparesSetting)
		b.ID = fmt.Sprintf("%s%d-%d", spareID, b.Line-own+1, b.Unit)
	}
	p.Order, p.Parts = &o, append(p.Parts, blanks...)
}

// lineOf is the line of equal spare blanks that one more belongs to, behind
// the order's own lines, and its number there.
func lineOf(o *orders.Order, own int, b *orders.Part) (line, unit int) {
	for i := own; i < len(o.Loose); i++ {
		l := &o.Loose[i]
		if l.Length == b.Length && l.Width == b.Width && l.Thickness == b.Thickness && woods.Key(l.Wood) == woods.Key(b.Wood) {
			l.Count++
			return i, l.Count
		}
	}
	o.Loose = append(o.Loose, orders.LoosePart{Source: o.Settings.Source(sparesSetting), Name: "Spare blank", Count: 1, Length: b.Length, Width: b.Width, Thickness: b.Thickness,
		Wood: b.Wood, Grain: b.Grain, Notes: "milled with the batch, used only if a board is spoiled"})
	return len(o.Loose) - 1, 1
}

// sparesOf are the spare blanks of one stack. Their finished size is that of a
// jointed blank, proud fingers and all: any board of the stack can be cut from
// one.
func sparesOf(s jigplan.Stack, byID map[string]*orders.Part, shop *settings.Shop) (out []orders.Part) {
	at := map[string]int{}
	for _, b := range s.Boards {
		part := byID[b.Part]
		i, known := at[woods.Key(part.Wood)]
		if !known {
			i = len(out)
			at[woods.Key(part.Wood)] = i
			out = append(out, orders.Part{Role: orders.Loose, Wood: part.Wood, Grain: part.Grain, Thickness: part.Thickness})
		}
		spare := &out[i]
		spare.CutLength, spare.CutWidth = max(spare.CutLength, part.CutLength), max(spare.CutWidth, part.CutWidth)
		spare.Length, spare.Width = spare.CutLength-shop.PartLength, spare.CutWidth-shop.PartWidth
	}
	return slices.Repeat(out, shop.SpareBlanks)
}

// dropSpares takes the spare blanks out of a plan whose wood does not reach for
// everything, and reports whether there were any.
func dropSpares(p *jigplan.Plan) bool {
	first := slices.IndexFunc(p.Parts, isSpare)
	if first < 0 {
		return false
	}
	n := len(p.Parts) - first
	p.Order.Loose = p.Order.Loose[:p.Parts[first].Line]
	p.Parts = p.Parts[:first]
	p.Findings = append(p.Findings, orders.Finding{Level: orders.Warning,
		Source: p.Order.Settings.Source(sparesSetting),
		Read:   fmt.Sprint(p.Order.Settings.SpareBlanks),
		Did:    fmt.Sprintf("not enough wood for the boxes and %d spare blanks: no spares are cut", n),
		Fix:    "bring more wood, or make the boxes without spares"})
	return true
}

func isSpare(p orders.Part) bool {
	return p.IsLoose() && strings.HasPrefix(p.ID, spareID)
}
