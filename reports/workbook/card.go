package workbook

import (
	"fmt"
	"math"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/reports"
	"batchwright/reports/draw"
)

// A count card is read from where the maker stands at the saw. A figure of 52
// points is 13 mm high, which is what is read at two metres.
const (
	farSize  = 52.0
	nearSize = 20.0
	lowRow   = 43.0 // of the count, in points: what such a figure needs
	highRow  = 56.0
	cardCols = 38  // columns of a card
	cardCol  = 2.0 // characters each
)

// Card is the workbook of one program alone.
func Card(p, mate *jigplan.Program, s *settings.Shop, about string) ([]byte, error) {
	b, err := newBook(s.Units, about, "")
	if err != nil {
		return nil, err
	}
	card, err := b.card(reports.CardOf(p, mate, s), reports.Words{Unit: s.Units})
	if err != nil {
		return nil, err
	}
	for _, sheet := range []*sheet{card, b.cautions(reports.CautionsFor(nil, s.Units))} {
		if err := b.emit(sheet); err != nil {
			return nil, fmt.Errorf("write the card: %w", err)
		}
	}
	return b.bytes()
}

// card is the page of one program: what is set, the count, the stacks to tick
// off, and, where the page has room, the finished ends.
func (b *book) card(c reports.Card, w reports.Words) (*sheet, error) {
	s := &sheet{name: "Jig " + c.Program.ID, widths: make([]float64, cardCols)}
	for i := range s.widths {
		s.widths[i] = cardCol
	}
	title := joined(" · ", c.Program.ID, c.Fingers(), c.Boxes)
	s.addTall(28, cell{0, cardCols, title, style{bold: true, size: fitting(title, cardCols*cardCol, 20), single: true, middle: true, rim: heavy}})
	s.strip(c, w)
	s.lead(c.Head())
	for _, warning := range c.Program.Warnings {
		s.add(cell{0, cardCols, "! " + warning, style{bold: true, size: 9}})
	}
	s.add(cell{0, cardCols, reports.CautionLine, style{bold: true, size: 8.5, rim: thick}})
	k := newCount(c, w, s)
	s.count(k)
	s.stackTicks(c)
	if err := s.finishedEnds(c, w); err != nil {
		return nil, err
	}
	s.cornerHere(c)
	return s, nil
}

// strip is what is set at the saw, large: blade height and spacer of each setup.
func (s *sheet) strip(c reports.Card, w reports.Words) {
	for _, u := range c.Setups {
		spacer := "no spacer"
		if u.Spacer.Sign() > 0 {
			spacer = c.Spacer
		}
		s.add(cell{0, 14, rich{{text: "blade height", size: 8.5}, {text: w.Len(u.BladeHeight), size: 18, bold: true}}, style{rim: thin}},
			cell{14, 24, rich{{text: "spacer: TAKE IT OUT before cutting", size: 8.5, bold: true}, {text: spacer, size: fitting(spacer, 24*cardCol, 18), bold: true}}, style{rim: thin}})
	}
}

// lead is what else is set or checked, in small type.
func (s *sheet) lead(list []reports.Pair) {
	var text rich
	for _, p := range list {
		text = append(text, run{text: p.Name + "  ", size: 9, bold: true}, run{text: p.Text, size: 9, on: true})
	}
	s.add(cell{0, cardCols, text, style{rim: below}})
}

// counter is how a card's count is laid out: which columns it has, how wide
// they are, and how large its figures.
type counter struct {
	card   reports.Card
	words  reports.Words
	cols   []column
	size   float64 // of the figures
	row    float64 // height of a row
	ticks  int     // boxes to tick in a row
	blocks int     // how many slots stand beside each other
}

// column is one column of the count: its heading and what stands in a row.
type column struct {
	head  string
	text  func(r *reports.CardRow) string
	small bool // not read from afar
	span  int  // of the card's columns
}

// What stands beside the rows of the count, in points.
const (
	bannerTall = 46.0
	headsTall  = 14.0
)

// newCount lays the count out for what is left of the page: one slot a row while
// rows stay high enough, else two beside each other.
func newCount(c reports.Card, w reports.Words, s *sheet) *counter {
	k := &counter{card: c, words: w, blocks: 1, ticks: max(1, len(c.Stacks))}
	room := s.room()*pointsPerMM - bannerTall - headsTall - tickText(c).tall(cardCols*cardCol) - 4
	k.row = room / float64(len(c.Rows)+1)
	if k.row < lowRow && len(c.Rows) > 2 {
		k.blocks = 2
		k.row = room / float64((len(c.Rows)+1)/2+1)
	}
	k.row = math.Floor(min(highRow, max(lowRow, k.row)))
	k.cols = columnsOf(c, w, k.blocks)
	k.fit()
	return k
}

func columnsOf(c reports.Card, w reports.Words, blocks int) []column {
	_, _, even := c.Even()
	cuts := column{head: "cuts", text: func(r *reports.CardRow) string { return fmt.Sprint(r.Cuts) }}
	out := []column{{head: "slot", small: true, text: func(r *reports.CardRow) string { return fmt.Sprint(r.Slot) }}}
	if blocks == 1 || !sameCuts(c) {
		out = append(out, cuts)
	}
	if !even {
		out = append(out, column{head: "turn between", small: true, text: func(r *reports.CardRow) string { return r.BetweenText() }})
	}
	out = append(out, column{head: "wheel at", text: func(r *reports.CardRow) string { return reports.Turns(r.Total) }})
	if !c.WholeTurns() {
		out = append(out, column{head: "clock", text: func(r *reports.CardRow) string { return r.Clock }})
	}
	out = append(out, column{head: "rule, " + w.UnitName(), text: func(r *reports.CardRow) string { return w.Rule(r.Travel) }})
	if !even {
		out = append(out, column{head: "then turn", text: thenText})
	}
	return out
}

func thenText(r *reports.CardRow) string {
	if r.Last {
		return "–"
	}
	return reports.Turns(r.Then)
}

func sameCuts(c reports.Card) bool {
	for _, r := range c.Rows {
		if r.Cuts != c.Rows[0].Cuts {
			return false
		}
	}
	return true
}

// fit finds the largest figures for which every column is wide enough, and
// leaves what is over to the boxes to tick.
func (k *counter) fit() {
	const leastTicks = 2
	all := cardCols / k.blocks
	for k.size = farSize; ; k.size -= 2 {
		sum := leastTicks
		for i := range k.cols {
			c := &k.cols[i]
			c.span = 2
			for r := range k.card.Rows {
				size := k.size
				if c.small {
					size = min(size, nearSize)
				}
				wide := textWide(c.text(&k.card.Rows[r]), size, true) + cellMargin
				c.span = max(c.span, int(math.Ceil(wide/columnUnit/cardCol)))
			}
			sum += c.span
		}
		if sum <= all {
			return
		}
		if k.blocks == 2 && k.size <= farSize { // the rule gives way, the wheel stays large
			last := &k.cols[len(k.cols)-1]
			if rest := all - (sum - last.span); rest >= 5 {
				last.span = rest
				return
			}
		}
		if k.size > 16 {
			continue
		}
		if k.blocks == 1 {
			k.squeeze(all - leastTicks)
			return
		}
		k.blocks, all, k.size = 1, cardCols, farSize+2
		k.cols = columnsOf(k.card, k.words, 1)
	}
}

// squeeze takes columns from the widest ones until all find room; their figures
// are made smaller.
func (k *counter) squeeze(all int) {
	for {
		sum, widest := 0, 0
		for i := range k.cols {
			sum += k.cols[i].span
			if k.cols[i].span > k.cols[widest].span {
				widest = i
			}
		}
		if sum <= all {
			return
		}
		k.cols[widest].span--
	}
}

// count is the part that is followed cut by cut.
func (s *sheet) count(k *counter) {
	s.banner(k)
	first := len(s.rows)
	s.countHeads(k)
	n := (len(k.card.Rows) + k.blocks - 1) / k.blocks
	for i := range n {
		var cells []cell
		for block := range k.blocks {
			if at := i + block*n; at < len(k.card.Rows) {
				cells = append(cells, s.countCells(k, block*cardCols/k.blocks, &k.card.Rows[at])...)
			}
		}
		s.addTall(k.row, cells...)
		if i >= n-2 { // winding back never stands on a page alone
			s.hold()
		}
	}
	s.goOnUnder(first+1, s.rows[first])
	s.windBack(k)
}

// banner says once what every slot has in common.
func (s *sheet) banner(k *counter) {
	c := k.card
	title := style{bold: true, size: 10, middle: true}
	between, then, even := c.Even()
	about := joined(", ", "Count "+c.Program.ID, c.AtTheStop(), "wheel at zero, always turn the same way")
	if !even {
		s.add(cell{0, cardCols, about, title})
		return
	}
	text := func(small float64) rich {
		said := func(text string) run { return run{text: text, size: small, on: true} }
		turns := func(r measure.Ratio) run { return run{text: reports.Turns(r), size: 40, bold: true, on: true} }
		var out rich
		if k.blocks == 2 && sameCuts(c) {
			out = append(out, said(reports.Counted(c.Rows[0].Cuts, "cut a slot  ", "cuts a slot  ")))
		}
		if between.Sign() > 0 {
			out = append(out, said("between cuts, turn "), turns(between), said("  "))
		}
		out = append(out, said("past the pin, turn "), turns(then))
		out[0].on = false
		return out
	}
	const aboutCols = 10
	size := 12.0
	for size > 8 && linesOf(text(size), (cardCols-aboutCols)*cardCol) > 1 {
		size--
	}
	title.size = 9
	s.addTall(bannerTall, cell{0, aboutCols, about, title}, cell{aboutCols, cardCols - aboutCols, text(size), style{middle: true, across: right}})
	s.hold()
}

func (s *sheet) countHeads(k *counter) {
	var cells []cell
	for block := range k.blocks {
		col := block * cardCols / k.blocks
		st := style{size: 8.5, rim: thin, grey: true, across: centre, shrink: true}
		for _, c := range k.cols {
			cells = append(cells, cell{col, c.span, c.head, st})
			col += c.span
		}
		cells = append(cells, cell{col, (block+1)*cardCols/k.blocks - col, "done", st})
	}
	s.add(cells...)
	s.hold()
}

func (s *sheet) countCells(k *counter, col int, r *reports.CardRow) (cells []cell) {
	from := col
	for _, c := range k.cols {
		text := c.text(r)
		most := k.size
		if c.small {
			most = min(most, nearSize)
		}
		cells = append(cells, s.figure(col, c.span, text, most))
		col += c.span
	}
	span := from + cardCols/k.blocks - col
	return append(cells, cell{col, span, s.boxesToTick(k, col, span), style{size: tickSize, rim: thin, middle: true, across: centre}})
}

const tickSize = 13.0

// boxesToTick is one box for each stack end, where they find room.
func (s *sheet) boxesToTick(k *counter, col, span int) string {
	const tickWide = 15.0 // points, with the room beside it
	aLine := int((s.width(col, span)*columnUnit - cellMargin) / tickWide)
	inAll := aLine * int(k.row/(tickSize*lineOfSize))
	if k.ticks > inAll || aLine < 1 {
		return "☐"
	}
	return strings.TrimSpace(strings.Repeat("☐ ", k.ticks))
}

func (s *sheet) windBack(k *counter) {
	home := s.figure(9, 9, reports.Turns(k.card.Program.ReturnTurns), farSize)
	home.style.rim = thick
	s.addTall(max(lowRow, k.row), cell{0, 9, "Stop the saw. Wind back", style{bold: true, size: 14, rim: thick, middle: true, across: centre}},
		home, cell{18, cardCols - 18, joined(" ", "The wheel must be at zero. If it is not, stop before unclamping: the count is lost.", k.card.SecondPass()), style{bold: true, size: 10, rim: thick, middle: true}})
	if len(k.card.Stacks) > 0 {
		s.hold()
	}
}

// figure is a figure as large as its column allows.
func (s *sheet) figure(col, span int, text string, most float64) cell {
	size := fitting(text, s.width(col, span), most)
	return cell{col, span, asNumber(text), style{bold: true, size: size, rim: thin, middle: true, across: centre, shrink: true}}
}

// stackTicks is a box for each end of each stack of the card.
func (s *sheet) stackTicks(c reports.Card) {
	if text := tickText(c); len(text) > 0 {
		s.add(cell{0, cardCols, text, style{rim: below}})
	}
}

func tickText(c reports.Card) rich {
	if len(c.Stacks) == 0 {
		return nil
	}
	return rich{{text: "Stacks of this card (what is in each: sheet Setups)", bold: true, size: 9}, {text: strings.Join(c.Ticks(), "     "), size: 10}}
}

// finishedEnds says for each board height what must be seen and counted, and
// draws the ends that find room on the page.
func (s *sheet) finishedEnds(c reports.Card, w reports.Words) error {
	var text rich
	for _, e := range c.Ends {
		line := w.Len(e.Height.Height) + " boards: "
		shim := ""
		if e.Shim.Sign() != 0 {
			shim = "; a shim of " + w.Fine(e.Shim) + " at the stop"
		}
		text = append(text, run{text: line, size: 9, bold: true},
			run{text: joined("; ", prefixed("A ", endText(e.A, c, w)), prefixed("B ", endText(e.B, c, w))) + shim, size: 9, on: true})
	}
	if len(text) == 0 {
		return nil
	}
	text = append(rich{{text: "The finished ends: at the marked edge, at the other edge, fingers to count", bold: true, size: 9}}, text...)
	if s.room() < text.tall(cardCols*cardCol)/pointsPerMM {
		return nil // the drawing of the count is what the page is for
	}
	s.add(cell{0, cardCols, text, style{}})
	pics, err := ends(c, w)
	if err != nil {
		return err
	}
	for _, pic := range pics {
		if pic.Height+2 > s.room() {
			break
		}
		s.picture(pic, "Two mating ends, marked edge at the left")
	}
	return nil
}

func endText(e *reports.EndView, c reports.Card, w reports.Words) string {
	switch {
	case e == nil && c.Turned():
		return "the same boards, the other edge at the stop"
	case e == nil:
		return joined(" ", "cut by card", c.Program.Mate)
	}
	return fmt.Sprintf("%s, %s, %d", w.EdgeText(e.Low), w.EdgeText(e.High), e.Count)
}

// cornerHere is the test corner of a card that stands alone; of a batch's cards
// it is on the sheet Setups.
func (s *sheet) cornerHere(c reports.Card) {
	steps := c.TestCorner()
	if len(steps) == 0 || len(c.Setups) > 0 {
		return
	}
	s.together(func() {
		s.heading("First: the test corner, because " + c.WhyCorner())
		for i, step := range steps {
			s.add(cell{0, 2, i + 1, style{bold: true, across: centre}}, cell{2, cardCols - 2, step, style{}})
		}
	})
}

// maxDrawn is how many board heights are drawn.
const maxDrawn = 3

// ends draws the mating ends of the first heights, face to face.
func ends(c reports.Card, w reports.Words) ([]draw.Picture, error) {
	bar, text := 2*measure.Inch, "2 in"
	if w.Unit.Metric() {
		bar, text = 50*measure.Millimetre, "50 mm"
	}
	var out []draw.Picture
	for i, e := range c.Ends {
		if i == maxDrawn {
			break
		}
		note := text + ": full size, if printed without scaling"
		if scale := draw.JointScale(e.Height.Height.Millimetres()); scale > 1 {
			note = fmt.Sprintf("%s; drawn 1 : %.2f", text, scale)
		}
		pic, err := draw.Joint(endOf("A", e.A, w), endOf("B", e.B, w), bar.Millimetres(), note)
		if err != nil {
			return nil, fmt.Errorf("draw the joint: %w", err)
		}
		out = append(out, pic)
	}
	return out, nil
}

// endOf is one end as it is drawn; nil where another card cuts it.
func endOf(name string, e *reports.EndView, w reports.Words) *draw.End {
	if e == nil {
		return nil
	}
	end := draw.End{Name: name, Height: e.Height.Millimetres(), Low: w.EdgeText(e.Low), High: w.EdgeText(e.High)}
	for _, slot := range e.Slots {
		end.Slots = append(end.Slots, [2]float64{slot.From.Length().Millimetres(), slot.To.Length().Millimetres()})
	}
	return &end
}
