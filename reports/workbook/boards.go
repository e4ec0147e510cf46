package workbook

import (
	"fmt"
	"runtime"
	"strings"
	"sync"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/reports"
	"batchwright/reports/draw"
)

// The largest drawing of a board, of a sheet, and of a strip of either, in mm:
// no wider than the columns are in the narrowest of the usual fonts.
const (
	drawingWide = 157.0
	boardTall   = 40.0
	sheetTall   = 62.0
	stripMost   = 38.0 // of a strip
	rowTall     = 9.0  // of a row of parts across a board
	sheetRow    = 14.0 // and across a sheet
	stripTall   = 6.0  // of a strip that is drawn elsewhere
	restTall    = 12.0 // of the rest of a drawing
	uprightTall = 46.0 // of a strip that runs across the sheet
)

// boards draws each layout once, with the boards that are cut so and the steps
// that take them apart.
func (b *book) boards(p *jigplan.Plan) (*sheet, error) {
	w, names := reports.WordsOf(p), reports.NamesOf(p)
	layouts := reports.Layouts(p)
	stages := make([][]reports.Stage, len(layouts))
	for i := range layouts {
		stages[i] = layouts[i].Stages(names, w)
	}
	pictures, err := drawAll(layouts, stages, names, w)
	if err != nil {
		return nil, err
	}
	s := &sheet{name: "Boards", least: 0.92, widths: []float64{3, 2.5, 15, 17.5, 10, 28}}
	about := "No board is cut."
	if len(layouts) > 0 {
		about = "Set stop or fence to the figure in bold, in " + w.UnitWord() + ", from the end or edge named beside it to the near side of the kerf. Equal cuts are one row. " + reports.PushSticks(w)
	}
	b.head(s, "Boards", about, "")
	for i := range layouts {
		s.layout(&layouts[i], stages[i], pictures[i], names, w, i == 0)
	}
	s.widthRips(reports.WidthRips(p))
	return s, nil
}

// widthRips is the last rip of all parts, each width with one setting of the fence.
func (s *sheet) widthRips(list []reports.WidthRip) {
	if len(list) == 0 {
		return
	}
	s.heading("When all boards are cut: rip to finished width, the jointed edge at the fence")
	s.columns([]string{"", "", "Fence", "Parts", "Boards"}, grid{1, 1, 1, 2, 1})
	first := len(s.rows)
	for i, r := range list {
		text := style{rim: below, size: 8.5}
		s.tick(0, cell{1, 1, i + 1, style{rim: below, across: centre, size: 9}},
			cell{2, 1, r.Set, style{rim: below, bold: true, size: 11}}, cell{3, 2, r.Parts, text}, cell{5, 1, r.Boards, text})
		if i < min(fewSteps, len(list))-1 || i == len(list)-2 {
			s.hold()
		}
	}
	s.goOn(first)
}

// drawAll draws on all cores; each drawing depends on its layout alone.
func drawAll(layouts []reports.Layout, stages [][]reports.Stage, names reports.Names, w reports.Words) ([][]draw.Picture, error) {
	pictures, errs := make([][]draw.Picture, len(layouts)), make([]error, len(layouts))
	next := make(chan int)
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for i := range next {
				for k := range stages[i] {
					pic, err := drawStage(&layouts[i], &stages[i][k], names, w)
					pictures[i] = append(pictures[i], pic)
					if err != nil {
						errs[i] = err
					}
				}
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

func drawStage(l *reports.Layout, stage *reports.Stage, names reports.Names, w reports.Words) (draw.Picture, error) {
	v := draw.View{X: stage.X, Y: stage.Y, Length: stage.Length, Width: stage.Width, Whole: stage.Title == "",
		Pieces: map[int][]string{}, Steps: map[int]string{}}
	for _, i := range stage.Pieces {
		v.Pieces[i] = pieceLines(l, names.Of(l.Pieces[i].Part.ID))
	}
	for _, a := range stage.Strips {
		v.Strips = append(v.Strips, draw.Area(a))
	}
	for i, step := range stage.Steps {
		if len(step.Cuts) > 0 {
			v.Steps[step.Cuts[0]] = fmt.Sprint(i + 1)
		}
	}
	most, row := boardTall, rowTall
	switch {
	case stage.Title != "":
		if v.Size, most = stage.Title+", "+w.MarkedSize(stage.Length, stage.Width), stripMost; stage.Width > stage.Length {
			most = uprightTall
		}
	case l.Boards[0].Stock.Sheet:
		most, row = sheetTall, sheetRow
	}
	if len(stage.Pieces) == 0 {
		row = stripTall
	}
	tall := min(most, restTall+row*float64(rowsOf(l, stage)))
	return draw.Board(l.Boards[0], v, drawingWide, tall)
}

// rowsOf is how many parts, strips and offcuts lie beside each other across a stage.
func rowsOf(l *reports.Layout, stage *reports.Stage) int {
	edges := map[measure.Length]bool{}
	for _, i := range stage.Pieces {
		edges[l.Pieces[i].Y] = true
	}
	for _, a := range stage.Strips {
		edges[a.Y] = true
	}
	for _, o := range l.Kept {
		if o.X >= stage.X && o.Y >= stage.Y && o.X < stage.X+stage.Length && o.Y < stage.Y+stage.Width {
			edges[o.Y] = true
		}
	}
	return len(edges)
}

// pieceLines is what is written on a piece: on boards that are cut alike the
// name alone, else also which box it is of.
func pieceLines(l *reports.Layout, n *reports.Name) []string {
	which := ""
	if n.Units > 1 && len(l.Boards) == 1 {
		which = fmt.Sprint(n.Unit)
		if n.What != "" {
			which = "box " + which
		}
	}
	var out []string
	for _, line := range []string{n.Part(), which, n.Box} {
		if line != "" {
			out = append(out, line)
		}
	}
	if n.What == "" { // a loose part is called by its name
		out = append([]string{n.Box}, out[:len(out)-1]...)
	}
	return out
}

func (s *sheet) layout(l *reports.Layout, stages []reports.Stage, pics []draw.Picture, names reports.Names, w reports.Words, first bool) {
	title := layoutTitle(l)
	again := row{height: 20, cells: []cell{{0, 6, title + ", continued", style{bold: true, size: 12, single: true, rim: ruled}}}}
	for i := range stages {
		if i == 0 {
			s.gap(2)
			s.add(cell{0, 6, rich{{text: title, size: 13, bold: true}, {text: "   " + layoutFacts(l, w), size: 8.5, on: true}}, style{rim: ruled}})
			s.hold()
		}
		if i > 0 {
			s.gap(1.5)
		}
		s.picture(pics[i], joined(", ", title, stages[i].Title))
		if i > 0 {
			s.goOnUnder(len(s.rows)-1, again)
		}
		s.hold()
		s.cutSteps(stages[i].Steps, again, first && i == 0)
	}
	if len(l.Boards) > 1 {
		s.alike(l, names)
	}
}

// fewSteps is how many of a board's steps stay with its drawing; the others may
// go on overleaf.
const fewSteps = 2

func (s *sheet) cutSteps(steps []reports.BoardStep, again row, headed bool) {
	if len(steps) == 0 {
		return
	}
	if headed {
		s.columns([]string{"", "", "Cut", "Set to", "From", "You get"}, ones(6), 1)
	}
	first := len(s.rows)
	for i, step := range steps {
		text := style{rim: below, size: 9}
		s.tick(0, cell{1, 1, i + 1, style{rim: below, across: centre, size: 9}}, cell{2, 1, step.Do, text},
			cell{3, 1, step.Set, style{rim: below, bold: true, size: 12}}, cell{4, 1, step.From, text}, cell{5, 1, step.Gets, style{rim: below, size: 8.5}})
		if i < min(fewSteps, len(steps))-1 || i == len(steps)-2 {
			s.hold()
		}
	}
	s.goOnUnder(first, again)
}

func layoutTitle(l *reports.Layout) string {
	var ids []string
	for _, b := range l.Boards {
		ids = append(ids, b.ID)
	}
	text := "Board " + ids[0]
	if len(ids) > 1 {
		text = fmt.Sprintf("%d equal boards: %s", len(ids), reports.Listed(ids, 8))
	}
	first := l.Boards[0]
	return joined(" · ", text, joined(" ", first.Stock.Wood, first.Stock.Class))
}

func layoutFacts(l *reports.Layout, w reports.Words) string {
	b := l.Boards[0]
	out := []string{w.Size(b.Length, b.Width)}
	switch {
	case b.Leaf.Count > 0:
		out = append(out, reports.ResawWords(l.Boards, w), w.Len(b.Thickness)+" thick off the saw")
	case b.Thickness > 0:
		out = append(out, w.Len(b.Thickness)+" rough")
	}
	where := map[orders.BoardOrigin]string{orders.FromRack: "rack", orders.FromYard: "to buy at the yard",
		orders.FromOffcut: "an offcut", orders.FromTypical: "a standard size, to buy"}[b.Stock.Origin]
	out = append(out, joined(", ", where, b.Stock.Place))
	out = append(out, reports.DefectWords(&b.Stock)...)
	out = append(out, "yield "+w.Unit.Percent(100*l.Used, 0))
	for _, o := range l.Kept {
		out = append(out, "keep the offcut, "+w.MarkedSize(o.Length, o.Width))
	}
	return strings.Join(out, " · ")
}

// alike says which boxes the parts of each of several equal boards are for.
func (s *sheet) alike(l *reports.Layout, names reports.Names) {
	first := len(s.rows)
	for _, b := range l.Boards {
		s.add(cell{0, 3, "Board " + b.ID, style{bold: true, size: 9, rim: below}}, cell{3, 3, names.Together(codesOn(b), false), style{size: 8.5, rim: below}})
	}
	s.goOn(first)
}

func codesOn(b *nesting.CutBoard) (out []string) {
	for i := range b.Pieces {
		out = append(out, b.Pieces[i].Part)
	}
	return out
}
