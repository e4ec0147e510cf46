package workbook

import (
	"fmt"
	"strings"
	"sync"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/reports"
	"batchwright/reports/draw"
)

// The largest drawing of a board: no wider than the columns are in the
// narrowest of the usual fonts, no taller than a row may be.
const (
	drawingWide = 216.0 // mm
	drawingTall = 138.0
	plainTall   = 95.0 // where few pieces need no more room
	fewPieces   = 20
)

// boards draws each layout once, with the boards that are cut so, the cuts in
// order with what stop and fence are set to, and what each piece becomes.
func (b *book) boards(p *jigplan.Plan) (*sheet, error) {
	w := reports.WordsOf(p)
	layouts := reports.Layouts(p)
	pictures, err := drawAll(layouts, w)
	if err != nil {
		return nil, err
	}
	s := &sheet{name: "Boards", landscape: true, widths: []float64{5, 13, 11.5, 11, 11.5, 5, 13, 11.5, 11, 11.5}}
	b.title(s, "Boards")
	if len(layouts) == 0 {
		s.paragraph("No board is cut.")
	} else {
		s.paragraph("Cuts in the order of their numbers. Set stop or fence to the nearest mark; a setting runs from the end or edge that stands against it to the near side of the kerf. Trims take off what no part needs.")
	}
	for i := range layouts {
		s.layout(&layouts[i], pictures[i], w)
	}
	s.labels(layouts)
	return s, nil
}

// drawAll draws on both cores; each drawing depends on its layout alone.
func drawAll(layouts []reports.Layout, w reports.Words) ([]draw.Picture, error) {
	pictures, errs := make([]draw.Picture, len(layouts)), make([]error, len(layouts))
	next := make(chan int)
	var wait sync.WaitGroup
	for range 2 {
		wait.Go(func() {
			for i := range next {
				l := &layouts[i]
				first := l.Boards[0]
				tall := plainTall
				if len(l.Pieces) > fewPieces {
					tall = drawingTall
				}
				pictures[i], errs[i] = draw.Board(first, tags(l, w), w.Size(first.Length, first.Width), drawingWide, tall)
			}
		})
	}
	for i := range layouts {
		next <- i
	}
	close(next)
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, fmt.Errorf("draw a board: %w", err)
		}
	}
	return pictures, nil
}

func tags(l *reports.Layout, w reports.Words) []draw.Tag {
	out := make([]draw.Tag, len(l.Pieces))
	for i, p := range l.Pieces {
		out[i] = draw.Tag{Number: fmt.Sprint(p.N), Lines: []string{pieceLabel(l, p.Part), w.Rule(p.Part.CutLength.Ratio()) + " x " + w.Rule(p.Part.CutWidth.Ratio())}}
	}
	return out
}

// pieceLabel is a part's own label on a board of its own, and the one with n
// where several boards are cut alike.
func pieceLabel(l *reports.Layout, p *orders.Part) string {
	if len(l.Boards) > 1 {
		return reports.Label(p)
	}
	return p.ID
}

func (s *sheet) layout(l *reports.Layout, pic draw.Picture, w reports.Words) {
	s.together(func() {
		s.gap(2)
		s.add(cell{0, 4, layoutTitle(l), style{bold: true, size: 12}}, cell{4, 6, layoutFacts(l, w), style{size: 9}})
		s.hold()
		s.picture(pic, layoutTitle(l))
		again := row{height: 20, cells: []cell{{0, 10, layoutTitle(l) + ", continued", style{bold: true, size: 12, single: true}}}}
		s.cutTable(l, again, w)
		s.pieceTable(l, again, w)
	})
}

func layoutTitle(l *reports.Layout) string {
	var ids []string
	for _, b := range l.Boards {
		ids = append(ids, b.ID)
	}
	text := "Board " + ids[0]
	if len(ids) > 1 {
		text = fmt.Sprintf("%d boards alike: %s", len(ids), reports.Listed(ids, 8))
	}
	first := l.Boards[0]
	return joined(" · ", text, joined(" ", first.Stock.Wood, first.Stock.Class))
}

func layoutFacts(l *reports.Layout, w reports.Words) string {
	b := l.Boards[0]
	var out []string
	switch {
	case b.Leaf.Count > 0:
		out = append(out, reports.ResawWords(l.Boards, w), w.Len(b.Thickness)+" thick off the saw")
	case b.Thickness > 0:
		out = append(out, w.Len(b.Thickness)+" thick as it lies")
	}
	out = append(out, map[orders.BoardOrigin]string{orders.FromRack: "from the rack", orders.FromYard: "to buy at the yard",
		orders.FromOffcut: "an offcut", orders.FromTypical: "a typical size, to buy"}[b.Stock.Origin])
	if b.Stock.Place != "" {
		out = append(out, "place: "+b.Stock.Place)
	}
	out = append(out, reports.DefectWords(&b.Stock)...)
	out = append(out, fmt.Sprintf("%.0f %% becomes parts", 100*l.Used))
	for _, o := range l.Kept {
		out = append(out, "keep the offcut of "+w.MarkedSize(o.Length, o.Width))
	}
	return strings.Join(out, " · ")
}

// cutTable lists the cuts in two columns, down the left one first; cuts that
// follow each other at one setting are one line. Another page begins with the
// board's name.
func (s *sheet) cutTable(l *reports.Layout, again row, w reports.Words) {
	runs := l.Runs()
	if len(runs) == 0 {
		return
	}
	names := []string{"Cut", "Kind", "Set to", "From", "Comes off"}
	s.head(append(names, names...), ones(10))
	first, half := len(s.rows), (len(runs)+1)/2
	for i := range half {
		cells := cutCells(0, runs[i], w)
		if i+half < len(runs) {
			cells = append(cells, cutCells(5, runs[i+half], w)...)
		}
		s.add(cells...)
	}
	s.goOnUnder(first, again, s.rows[first-1])
}

func cutCells(col int, r reports.CutRun, w reports.Words) []cell {
	kind, set := string(r.First.Kind), w.Marked(r.First.Set)
	if r.First.Rough {
		kind += ", rough"
	}
	off := r.Off()
	if trim := r.Trim(); trim > 0 {
		off = "trim: takes off " + w.Marked(trim)
	}
	if r.First.Guide == nesting.ByStraightedge || r.First.Guide == nesting.ByStop && r.First.Kind == nesting.Rip {
		kind += ", " + string(r.First.Guide)
	}
	return []cell{
		{col, 1, r.Numbers(), style{rim: thin, bold: true, across: centre, shrink: true}},
		{col + 1, 1, kind, style{rim: thin}},
		{col + 2, 1, set, style{rim: thin, bold: true, single: true}},
		{col + 3, 1, string(r.First.Reference), style{rim: thin, single: true}},
		{col + 4, 1, off, style{rim: thin}},
	}
}

// pieceTable says what each number of the drawing becomes, equal sizes
// together.
func (s *sheet) pieceTable(l *reports.Layout, again row, w reports.Words) {
	index := map[string]int{}
	var sizes []string
	var lists [][]string
	for _, p := range l.Pieces {
		size := w.MarkedSize(p.Part.CutLength, p.Part.CutWidth)
		at, ok := index[size]
		if !ok {
			at = len(sizes)
			index[size], sizes, lists = at, append(sizes, size), append(lists, nil)
		}
		lists[at] = append(lists[at], fmt.Sprintf("%d %s", p.N, pieceLabel(l, p.Part)))
	}
	first := len(s.rows)
	for i, size := range sizes {
		s.add(cell{0, 3, size + " each", style{rim: thin, bold: true}}, cell{3, 7, strings.Join(lists[i], " · "), style{rim: thin}})
	}
	s.goOnUnder(first, again)
}

// labels names every part of the boards that are cut alike.
func (s *sheet) labels(layouts []reports.Layout) {
	first := 0
	for i := range layouts {
		l := &layouts[i]
		if len(l.Boards) < 2 {
			continue
		}
		if first == 0 {
			s.heading("Labels of the boards that are cut alike")
			first = len(s.rows)
		}
		for _, b := range l.Boards {
			s.add(cell{0, 2, b.ID, style{bold: true, rim: below}}, cell{2, 8, numbered(b), style{rim: below}})
		}
	}
	if first > 0 {
		s.goOn(first)
	}
}

func numbered(b *nesting.Board) string {
	var out []string
	for i, p := range b.Pieces {
		out = append(out, fmt.Sprintf("%d %s", i+1, p.Part))
	}
	return strings.Join(out, " · ")
}
