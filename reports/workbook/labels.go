package workbook

import (
	"fmt"
	"math"

	"batchwright/jigplan"
	"batchwright/reports"
	"batchwright/reports/draw"
)

// A page of labels is drawn without an edge, in mm, that the paper has all round;
// its margins are a little narrower, so that the drawing never takes a second page.
const (
	labelEdge   = 7.0
	labelMargin = labelEdge - 0.6 // a drawing is set off from its cell by so much
)

// Labels is the workbook of stick-on labels, one for every part; the first
// places of the first sheet are left free where it was used before.
func Labels(p *jigplan.Plan, s reports.LabelSheet, skip int) ([]byte, error) {
	b, err := newBook(p.Order.Settings.Units, p.Order.File, "")
	if err != nil {
		return nil, err
	}
	wide, tall := 215.9-2*labelEdge, 279.4-2*labelEdge
	if b.paper == a4 {
		wide, tall = 210-2*labelEdge, 297-2*labelEdge
	}
	if w := float64(s.Columns)*(s.Width+s.Gap) - s.Gap; w > wide {
		return nil, fmt.Errorf("%d labels of %s mm are wider than the paper's %.0f mm", s.Columns, p.Order.Settings.Units.Number(s.Width, 1), wide)
	}
	if h := float64(s.Rows)*(s.Height+s.RowGap) - s.RowGap; h > tall {
		return nil, fmt.Errorf("%d labels of %s mm are higher than the paper's %.0f mm", s.Rows, p.Order.Settings.Units.Number(s.Height, 1), tall)
	}
	sh := &sheet{name: "Labels", bare: true, edge: labelMargin, widths: []float64{90}}
	labels := reports.PartLabels(p)
	for len(labels) > 0 {
		pic, done, err := draw.LabelPage(s, labels, skip, wide, tall)
		if err != nil {
			return nil, fmt.Errorf("draw the labels: %w", err)
		}
		labels, skip = labels[done:], 0
		sh.labelPage(pic)
	}
	if len(sh.rows) == 0 {
		sh.paragraph("No part is cut.")
	}
	if err := b.emit(sh); err != nil {
		return nil, fmt.Errorf("write the labels: %w", err)
	}
	return b.bytes()
}

// labelPage is one picture over two rows, since no row is as high as a page.
func (s *sheet) labelPage(drawn draw.Picture) {
	first := len(s.rows)
	for range 2 {
		s.addTall(math.Floor(drawn.Height/2*pointsPerMM) - 2)
	}
	s.rows[first].breaks = first > 0
	s.hold()
	s.rows[first].holds, s.rows[first+1].holds = true, false
	s.rows[first].picture = &pic{drawn, "part labels"}
}
