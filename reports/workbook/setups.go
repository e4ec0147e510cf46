package workbook

import (
	"fmt"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders/measure"
	"batchwright/reports"
)

// setups is the work at the jig: what is looked at once, the spacers, then each
// setup in running order with its stacks.
func (b *book) setups(p *jigplan.Plan) *sheet {
	s := &sheet{name: "Setups", least: 0.9, widths: []float64{3, 5, 31, 28.5, 4.5, 4}}
	views := reports.SetupsOf(p)
	about := "No joint is cut."
	if len(views) > 0 {
		about = fmt.Sprintf("%s in this order, %s. Blade stopped and isolated for every change.",
			reports.Counted(len(views), "setup", "setups"), reports.Counted(len(p.Stacks), "stack end", "stack ends"))
	}
	if len(views) > 0 {
		about += " Setup changes take " + changing(p) + "."
	}
	b.head(s, "At the jig", about, "")
	if len(views) == 0 {
		return s
	}
	s.beforeFirst(p)
	s.spacers(reports.Spacers(p), reports.SpacerStock(p))
	s.heading("Setups")
	s.columns([]string{"", "Card", "Row A, at the stop", "Row B, behind the spacer", "End 1", "End 2"}, ones(6), 4, 5)
	for i := range views {
		s.setup(&views[i])
	}
	s.corners(p)
	return s
}

func (s *sheet) beforeFirst(p *jigplan.Plan) {
	s.gap(2)
	list := reports.BeforeFirstCut
	text := rich{{text: "Once, before the first cut, and whenever the jig has been off the sled", bold: true}, {text: "☐ " + strings.Join(list, "     ☐ ")}}
	s.add(cell{0, 6, text, style{rim: thick}})
	s.heading("Every stack")
	for i, step := range reports.EveryStack(p) {
		s.add(cell{0, 1, i + 1, style{bold: true, across: centre, top: true}}, cell{1, 5, step, style{}})
	}
}

func (s *sheet) spacers(list []reports.SpacerView, stock string) {
	if len(list) == 0 {
		return
	}
	s.heading("Spacers")
	s.add(cell{0, 6, stock, style{size: 9}})
	s.hold()
	for _, v := range list {
		width := rich{{text: v.Width, bold: true, size: 12}, {text: v.Within, size: 9}}
		s.add(cell{0, 2, "☐ " + v.Name, style{bold: true, size: 12, rim: below}}, cell{2, 1, width, style{rim: below}},
			cell{3, 3, "cards " + v.Cards + ": " + v.Boxes, style{size: 9, rim: below}})
	}
}

// setup is one state of the saw: what changes, the figures that are set, then
// its stacks with a box to tick for each end.
func (s *sheet) setup(v *reports.SetupView) {
	first := len(s.rows)
	head := []cell{{0, 1, v.N, style{bold: true, size: 12, grey: true, across: centre, rim: ruled}},
		{1, 1, v.Setup.Program, style{bold: true, size: 14, grey: true, rim: ruled}},
		{2, 1, rich{{text: v.Boxes, bold: true}, {text: joined(" · ", strings.Join(v.Change, "; "), reports.Hours(v.Minutes), "blade "+v.Blade), size: 8.5}}, style{grey: true, rim: ruled}},
		{3, 3, rich{{text: "blade height " + v.Height, bold: true, size: 12}, {text: "spacer " + v.Spacer, bold: true, size: 12}}, style{grey: true, rim: ruled}}}
	s.add(head...)
	s.hold()
	again := s.rows[first]
	for _, k := range v.Stacks {
		tick := style{size: 12, rim: below, across: centre}
		text := style{size: 8.5, rim: below}
		one, two := "☐", "☐"
		if k.Other == nil {
			one, two = onlyEnd(k.First.End, 1), onlyEnd(k.First.End, 2)
		}
		s.add(cell{0, 2, fmt.Sprintf("stack %d", k.N), style{size: 9, rim: below, bold: true}},
			cell{2, 1, atBothEnds(k.A, k.OtherA, k.First.End), text}, cell{3, 1, atBothEnds(k.B, k.OtherB, k.First.End), text},
			cell{4, 1, one, tick}, cell{5, 1, two, tick})
	}
	s.goOnUnder(first+1, again)
}

func onlyEnd(end, column int) string {
	if end == column {
		return "☐"
	}
	return "–"
}

// atBothEnds is the boards of a row, and which others it holds at its other end.
func atBothEnds(boards, other string, end int) any {
	if other == "" {
		return boards
	}
	return rich{{text: boards, size: 8.5}, {text: fmt.Sprintf("  end %d: ", 3-end), size: 8, bold: true, on: true}, {text: other, size: 8, on: true}}
}

// corners are the test corners that are cut before the batch.
func (s *sheet) corners(p *jigplan.Plan) {
	measured := map[measure.Length]bool{}
	for _, c := range reports.Cards(p) {
		steps, blade := c.TestCorner(), c.Program.Kerf
		if len(steps) == 0 || !c.Program.KerfMeasured && measured[blade] {
			continue // one test corner tells the kerf of a blade
		}
		measured[blade] = true
		s.together(func() {
			s.heading(fmt.Sprintf("Test corner for card %s, because %s", c.Program.ID, c.WhyCorner()))
			for i, step := range steps {
				s.tick(0, cell{1, 1, i + 1, style{bold: true, across: centre, rim: below}}, cell{2, 4, step, style{rim: below}})
			}
		})
	}
}

func changing(p *jigplan.Plan) string {
	text := reports.Hours(p.Sequence.ChangeoverMinutes)
	if p.Sequence.Proven {
		text += ", the least possible"
	}
	return text
}
