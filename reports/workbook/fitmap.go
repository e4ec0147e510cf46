package workbook

import (
	"fmt"
	"slices"

	"batchwright/orders/measure"
	"batchwright/reports"
	"batchwright/reports/draw"
)

// A fit map is drawn as wide as a page takes, in mm, and in pieces of as many
// rods as one row of a sheet can be high.
const (
	mapWide = 184
	mapRods = 24
)

// FitMap is the workbook of a fit map: a drawing for each index, then every
// pair in words.
func FitMap(units measure.Unit, grids []reports.Grid, pairs reports.Table) ([]byte, error) {
	b, err := newBook(units, "fit map", "")
	if err != nil {
		return nil, err
	}
	s := &sheet{name: "Fit map", widths: []float64{portraitWide}}
	b.title(s, "Fit map")
	for _, g := range grids {
		all := g.Rows
		for rods := range slices.Chunk(all, mapRods) {
			g.Rows = rods
			picture, err := draw.Grid(g, mapWide)
			if err != nil {
				return nil, fmt.Errorf("draw the fit map: %w", err)
			}
			s.together(func() {
				s.heading(g.Title)
				s.paragraph(g.Legend)
				s.picture(picture, g.Title)
			})
			s.gap(4)
		}
	}
	list := &sheet{name: "Pairs", landscape: true, fit: true, widths: []float64{14, 10, 7, 11, 14, 12, 12, 12, 12, 12}}
	b.title(list, pairs.Title)
	list.repeatNext()
	list.table(pairs, ones(len(pairs.Head)))
	for _, sheet := range []*sheet{s, list} {
		if err := b.emit(sheet); err != nil {
			return nil, fmt.Errorf("write the fit map: %w", err)
		}
	}
	return b.bytes()
}
