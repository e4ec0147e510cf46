package plan

import (
	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/parts"
)

// placeGrooves stands every line's grooves, parting line and lowered front
// among the fingers that its programs leave. A line whose joint is refused
// keeps its build as it was wanted. Heights are those of the order as it is
// made.
func placeGrooves(p *jigplan.Plan, asMade *orders.Order, c programs) {
	byID := map[string]*jigplan.Program{}
	for i := range c.programs {
		byID[c.programs[i].ID] = &c.programs[i]
	}
	walls := map[int]map[orders.Role]*orders.Part{}
	for i := range p.Parts {
		part := &p.Parts[i]
		if part.Joint == nil || walls[part.Line][part.Role] != nil {
			continue
		}
		if walls[part.Line] == nil {
			walls[part.Line] = map[orders.Role]*orders.Part{}
		}
		walls[part.Line][part.Role] = part
	}
	for i := range p.Builds {
		side, end := walls[p.Builds[i].Line][orders.Side], walls[p.Builds[i].Line][orders.End]
		sideCard, endCard := byID[c.of[side.ID]], byID[c.of[end.ID]]
		if sideCard == nil || endCard == nil {
			continue
		}
		placed, problems := parts.Placed(asMade, p.Builds[i], parts.Cells{
			Side: cellsOf(sideCard, side), End: cellsOf(endCard, end),
			Kerf: sideCard.Kerf, Step: sideCard.Lead.Over(int64(sideCard.StopsPerTurn)), Stops: sideCard.StopsPerTurn,
		})
		p.Builds[i] = placed
		sizeDividers(p, &placed)
		p.Findings = append(p.Findings, problems...)
	}
}

// sizeDividers gives a line's dividers the size its build came to: they end
// below the line where a lid is sawn off, wherever that was moved to.
func sizeDividers(p *jigplan.Plan, b *orders.Build) {
	unit, n := 0, 0
	var sizes []measure.Length
	for _, panel := range b.Panels {
		if panel.Role == orders.Divider {
			for range panel.Count {
				sizes = append(sizes, panel.Width)
			}
		}
	}
	for i := range p.Parts {
		part := &p.Parts[i]
		if part.Line != b.Line || part.Role != orders.Divider {
			continue
		}
		if part.Unit != unit {
			unit, n = part.Unit, 0
		}
		if n < len(sizes) {
			part.CutWidth += sizes[n] - part.Width
			part.Width = sizes[n]
		}
		n++
	}
}

// cellsOf is what a program leaves on the ends of one board.
func cellsOf(card *jigplan.Program, board *orders.Part) []orders.Cell {
	var kerfs []parts.Kerf
	for _, h := range card.Heights {
		if h.Height != board.Joint.Height {
			continue
		}
		setback := h.Shim
		if card.Rows == jigplan.BothRows && board.Joint.Row == orders.RowB {
			setback = setback.Add(card.Spacer)
		}
		for _, s := range card.Steps {
			from := card.Origin.Add(s.Travel).Sub(setback)
			kerfs = append(kerfs, parts.Kerf{From: from.Sub(card.SecondPass).Length(), To: from.Add(card.Kerf.Ratio()).Length()})
		}
	}
	graze := max(card.Fit.Length(), 0)
	return parts.CellsOf(board.Joint.Height, kerfs, graze)
}
