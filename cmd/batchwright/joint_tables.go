package main

import (
	"fmt"
	"strconv"

	"batchwright/jigplan"
	"batchwright/jigplan/joint"
	"batchwright/orders/settings"
	"batchwright/reports"
)

// maxNear is how many neighbours are shown on the screen; JSON has them all.
const maxNear = 6

func jointTables(q joint.Request, a joint.Answer) []reports.Table {
	w := reports.Words{Unit: q.Settings.Units}
	var tables []reports.Table
	if len(a.Candidates) > 0 {
		tables = append(tables, candidateTable(w, a))
		for _, p := range a.Candidates[0].Programs() {
			tables = append(tables, countTable(w, q, p), heightTable(w, p))
		}
	}
	if offers := offersTable(w, joint.Offers(q, a.Best()), a.Best()); len(offers.Rows) > 0 {
		tables = append(tables, offers)
	}
	if len(a.Near) > 0 {
		tables = append(tables, nearTable(w, a.Near))
	}
	return tables
}

func candidateTable(w reports.Words, a joint.Answer) reports.Table {
	t := reports.Table{
		Title: fmt.Sprintf("Finger %s with rod %s, kerf %s", w.Len(a.Finger), a.Best().Rod, w.Fine(a.Best().Kerf.Ratio())),
		Head:  []string{"", "Finger", "Error", "Fit", "", "Cuts a slot", "Turns between", "Past the pin", "Cuts", "Travel", "Layout"},
	}
	for i, c := range a.Candidates {
		p := c.Program
		t.Rows = append(t.Rows, []string{
			strconv.Itoa(i + 1), w.Fine(p.Finger), w.Fine(c.FingerError), w.Fine(p.Fit), joint.FitClass(p.Fit),
			strconv.Itoa(p.CutsPerSlot), between(p), reports.Turns(p.PastPin), strconv.Itoa(p.TotalCuts),
			w.Fine(p.Travel), p.Heights[0].Layout,
		})
	}
	return t
}

// between is the turns between the cuts of a program's fullest slot.
func between(p jigplan.Program) string {
	for _, row := range reports.CardOf(&p, nil, &settings.Shop{}).Rows {
		if row.Cuts == p.CutsPerSlot {
			return row.BetweenText()
		}
	}
	return "–"
}

func countTable(w reports.Words, q joint.Request, p jigplan.Program) reports.Table {
	t := reports.Table{
		Title: "Count card" + rowName(p) + ": " + toSet(w, p),
		Head:  []string{"Slot", "Cuts", "Turns between", "Turns from home", "Clock", "Rule", "Then past the pin"},
	}
	card := reports.CardOf(&p, nil, &q.Settings)
	for _, row := range card.Rows {
		then := reports.Turns(row.Then)
		if row.Last {
			then = "saw stopped, back " + reports.Turns(p.ReturnTurns)
		}
		t.Rows = append(t.Rows, []string{
			strconv.Itoa(row.Slot), strconv.Itoa(row.Cuts), row.BetweenText(),
			reports.Turns(row.Total), row.Clock, w.Rule(row.Travel), then,
		})
	}
	return t
}

// toSet is what the card's figures rest on.
func toSet(w reports.Words, p jigplan.Program) string {
	text := "first kerf " + w.Fine(p.Origin) + " from the marked edge"
	switch {
	case p.Rows == jigplan.OnlyB && p.Spacer.Sign() > 0:
		text += ", behind the spacer of " + w.Fine(p.Spacer)
	case p.Rows == jigplan.BothRows:
		text += ", row B behind a spacer of " + w.Fine(p.Spacer)
	}
	if p.Regular {
		return text + ", slot " + w.Fine(p.Slot) + ", pin " + w.Fine(p.Pin)
	}
	return text + ", every slot " + w.Fine(p.Fit) + " wider than its pin"
}

func rowName(p jigplan.Program) string {
	if p.Rows == jigplan.BothRows {
		return ""
	}
	return " of row " + string(p.Rows)
}

func heightTable(w reports.Words, p jigplan.Program) reports.Table {
	t := reports.Table{
		Title: "Boards" + rowName(p),
		Head:  []string{"Height", "Shim at the stop", "Layout", "A, marked edge", "A, other edge", "B, marked edge", "B, other edge"},
	}
	for _, h := range p.Heights {
		shim := "none"
		if h.Shim.Sign() > 0 {
			shim = w.Fine(h.Shim)
		}
		t.Rows = append(t.Rows, []string{
			w.Len(h.Height), shim, h.Layout, w.EdgeText(h.ALow), w.EdgeText(h.AHigh), w.EdgeText(h.BLow), w.EdgeText(h.BHigh),
		})
	}
	return t
}

func nearTable(w reports.Words, near []joint.Candidate) reports.Table {
	t := reports.Table{Title: "Close, but outside your limits", Head: []string{"Finger", "Error", "Fit", "Why not"}}
	for _, c := range near[:min(len(near), maxNear)] {
		t.Rows = append(t.Rows, []string{w.Fine(c.Program.Finger), w.Fine(c.FingerError), w.Fine(c.Program.Fit), c.Why})
	}
	return t
}

// offersTable is every layout that the heights could have instead, and the
// heights near by that come out in whole fingers.
func offersTable(w reports.Words, offers []joint.Offer, p jigplan.Program) reports.Table {
	t := reports.Table{
		Title: "What these heights allow instead",
		Head:  []string{"Height", "Layout", "A, marked edge", "A, other edge", "B, marked edge", "B, other edge", "Nearest heights in whole fingers"},
	}
	for i, o := range offers {
		even := evenText(w, o)
		for _, h := range o.Layouts {
			if h.Layout == p.Heights[i].Layout {
				continue
			}
			t.Rows = append(t.Rows, []string{
				w.Len(h.Height), h.Layout, w.EdgeText(h.ALow), w.EdgeText(h.AHigh), w.EdgeText(h.BLow), w.EdgeText(h.BHigh), even,
			})
			even = ""
		}
	}
	return t
}

// evenText names the nearest even heights, or says that this one is.
func evenText(w reports.Words, o joint.Offer) string {
	text := ""
	for i, e := range o.Even {
		fingers := reports.Counted(int(e.Fingers), "finger", "fingers")
		switch {
		case i == 0 && e.Height == o.Height:
			return "this one is: " + fingers
		case i > 0:
			text += ", "
		}
		text += w.Len(e.Height) + " (" + fingers + ")"
	}
	return text
}
