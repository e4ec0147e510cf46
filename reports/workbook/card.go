package workbook

import (
	"fmt"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/reports"
	"batchwright/reports/draw"
)

// A count card is read from where the maker stands at the saw. A figure of 52
// points is 13 mm high, which is what is read at two metres.
const (
	farSize  = 52.0
	nearSize = 22.0
	slotTall = 55.0 // row height in points
	mostKept = 24   // stacks listed on a card; the sheet Stacks has them all
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
	for _, sheet := range []*sheet{card, b.cautions(reports.Cautions)} {
		if err := b.emit(sheet); err != nil {
			return nil, fmt.Errorf("write the card: %w", err)
		}
	}
	return b.bytes()
}

// card is the sheet of one program: what to set, the ends drawn to size, the
// stacks, then the count on a page of its own.
func (b *book) card(c reports.Card, w reports.Words) (*sheet, error) {
	s := &sheet{name: "Jig " + c.Program.ID, widths: []float64{7, 9, 8, 15, 8, 11, 4, 14}}
	b.title(s, "Jig "+c.Program.ID+" · "+fingers(c.Program, w))
	s.add(cell{0, 8, reports.CautionLine, style{bold: true, size: 9.5, rim: thick}})
	s.gap(2)
	s.pairs(append(c.Head(), reports.Pair{Name: "Joint", Text: c.Joint()}), 2)
	s.setupRows(c.Setups, w)
	s.warnings(c)
	s.heightRows(c, w)
	pics, err := ends(c, w)
	if err != nil {
		return nil, err
	}
	pics = s.drawn(pics)
	if s.fitsOnePage(c) {
		s.countOnOnePage(c, pics, w)
		return s, nil
	}
	s.allDrawn(pics)
	s.together(func() { s.stackRows(c) })
	first := len(s.rows)
	s.count(c, w)
	s.rows[first].breaks = true
	return s, nil
}

// countOnOnePage puts the stacks before the count where the first page has room
// for them, else after it.
func (s *sheet) countOnOnePage(c reports.Card, pics []draw.Picture, w reports.Words) {
	early := len(pics) == 0 && s.stacksTall(c) <= s.room()
	if early {
		s.together(func() { s.stackRows(c) })
	}
	s.together(func() { s.count(c, w) })
	pics = s.drawn(pics)
	if !early {
		s.together(func() { s.stackRows(c) })
	}
	s.allDrawn(pics)
}

func fingers(p *jigplan.Program, w reports.Words) string {
	if !p.Regular {
		return strings.TrimSpace("pattern " + p.Pattern)
	}
	return "fingers of " + w.Fine(p.Finger)
}

// setupRows says blade height and spacer large: they are set at the saw.
func (s *sheet) setupRows(setups []*jigplan.Setup, w reports.Words) {
	if len(setups) == 0 {
		return
	}
	s.gap(2)
	g := grid{2, 2, 2, 2}
	s.head([]string{"Setup", "Blade", "Blade height", "Spacer"}, g)
	for _, u := range setups {
		spacer := "none"
		if u.Spacer.Sign() > 0 {
			spacer = w.Fine(u.Spacer)
		}
		col := 0
		var cells []cell
		for i, text := range []string{u.ID, u.Blade, w.Len(u.BladeHeight), spacer} {
			st := style{bold: true, size: 16, rim: thin, middle: true, shrink: true}
			if i == 1 {
				st = style{size: 10, rim: thin, middle: true}
			}
			cells = append(cells, cell{col, g[i], text, st})
			col += g[i]
		}
		s.add(cells...)
	}
}

func (s *sheet) warnings(c reports.Card) {
	for _, warning := range c.Program.Warnings {
		s.add(cell{0, 8, "! " + warning, style{bold: true, rim: below}})
	}
	steps := c.TestCorner()
	if len(steps) == 0 {
		return
	}
	s.heading("First: the test corner, because " + c.WhyCorner())
	for i, step := range steps {
		s.add(cell{0, 1, i + 1, style{bold: true, across: centre}}, cell{1, 7, step, style{}})
	}
}

// heightRows says for each board height what must be seen and counted.
func (s *sheet) heightRows(c reports.Card, w reports.Words) {
	if len(c.Ends) == 0 {
		return
	}
	s.heading("The finished ends")
	g := grid{2, 1, 2, 3}
	s.head([]string{"Board height", "Shim", "Row A: marked edge, other edge, fingers", "Row B: marked edge, other edge, fingers"}, g)
	for _, e := range c.Ends {
		shim := "none"
		if e.Shim.Sign() != 0 {
			shim = w.Fine(e.Shim)
		}
		s.add(cell{0, 2, w.Len(e.Height.Height), style{bold: true, size: 12, rim: thin}}, cell{2, 1, shim, style{rim: thin}},
			cell{3, 2, endText(e.A, c, w), style{rim: thin}}, cell{5, 3, endText(e.B, c, w), style{rim: thin}})
	}
}

func endText(e *reports.EndView, c reports.Card, w reports.Words) string {
	switch {
	case e == nil && c.Turned():
		return "the same boards, the other edge at the stop"
	case e == nil:
		return joined(" ", "cut by card", c.Program.Mate)
	}
	return fmt.Sprintf("%s, %s, %s", w.EdgeText(e.Low), w.EdgeText(e.High), reports.Counted(e.Count, "finger", "fingers"))
}

// mostDrawn is how many board heights are drawn; the table has them all.
const mostDrawn = 3

// ends draws the mating ends of the first heights, face to face.
func ends(c reports.Card, w reports.Words) ([]draw.Picture, error) {
	bar, text := 2*measure.Inch, "2 in"
	if w.Unit.Metric() {
		bar, text = 50*measure.Millimetre, "50 mm"
	}
	var out []draw.Picture
	for i, e := range c.Ends {
		if i == mostDrawn {
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

// drawn puts the drawings that find room on this page, and gives back the rest.
func (s *sheet) drawn(pics []draw.Picture) []draw.Picture {
	for i, pic := range pics {
		if pic.Height+2 > s.room() {
			return pics[i:]
		}
		s.endPicture(pic)
	}
	return nil
}

// allDrawn puts the drawings that are left, on as many pages as they need.
func (s *sheet) allDrawn(pics []draw.Picture) {
	if len(pics) > 0 {
		s.heading("The other ends")
	}
	for _, pic := range pics {
		s.endPicture(pic)
	}
}

func (s *sheet) endPicture(pic draw.Picture) {
	s.picture(pic, "Two mating ends, the marked edge to the left")
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

// stackRows lists what this card cuts, to tick off.
func (s *sheet) stackRows(c reports.Card) {
	if len(c.Stacks) == 0 {
		return
	}
	s.heading("The stacks of this card")
	g := grid{1, 1, 3, 3}
	s.head([]string{"Done", "Stack · end", "Row A", "Row B"}, g)
	w := reports.WordsOfCard(c)
	first := len(s.rows)
	for i, k := range c.Stacks {
		if i == mostKept {
			s.paragraph(fmt.Sprintf("and %d more: see the sheet Stacks", len(c.Stacks)-i))
			break
		}
		s.add(cell{0, 1, "☐", style{size: 12, across: centre, rim: thin}}, cell{1, 1, fmt.Sprintf("%s · %d", k.ID, k.End), style{bold: true, rim: thin}},
			cell{2, 3, rowBoards(k, orders.RowA, w), style{rim: thin}}, cell{5, 3, rowBoards(k, orders.RowB, w), style{rim: thin}})
	}
	s.goOn(first)
}

// stacksTall is how much of a page the list of stacks takes, in mm.
func (s *sheet) stacksTall(c reports.Card) float64 {
	trial := *s
	trial.stackRows(c)
	return heightOf(trial.rows[len(s.rows):]) / pointsPerMM
}

// fitsOnePage reports whether the count needs no heading on a second page.
func (s *sheet) fitsOnePage(c reports.Card) bool {
	const headAndFoot = 57.5 // mm
	return headAndFoot+float64(len(c.Rows))*slotTall/pointsPerMM <= s.tall()
}

func countTitle(c reports.Card) string {
	always := "always "
	if c.Turned() {
		always = "" // one line holds no more
	}
	return "Count · Jig " + c.Program.ID + " · " + c.AtTheStop() + ", wheel at zero, " + always + "turn the same way"
}

// count is the part that is followed cut by cut.
func (s *sheet) count(c reports.Card, w reports.Words) {
	s.gap(3)
	s.add(cell{0, 8, countTitle(c), style{bold: true, size: 11, single: true}})
	s.head([]string{"Slot", "Cuts", "Turn between cuts", "Wheel stands at, turns in all", "Clock", "Rule, " + w.UnitName(), "✓", "Then turn past the pin"}, ones(8))
	first := len(s.rows)
	for i, r := range c.Rows {
		s.countRow(r, w)
		if i >= len(c.Rows)-2 { // winding back never stands on a page alone
			s.hold()
		}
	}
	home := s.figure(3, turns(c.Program.ReturnTurns), farSize)
	home.style.rim = thick
	s.add(cell{0, 3, "Wind back", style{bold: true, size: nearSize, rim: thick, middle: true, across: centre}},
		home,
		cell{4, 4, c.Finish(), style{bold: true, size: 10, rim: thick, middle: true}})
	s.hold()
	s.add(cell{0, 8, reports.CautionLine, style{bold: true, size: 9.5}})
	s.goOnUnder(first, s.rows[first-2:first]...)
}

func (s *sheet) countRow(r reports.CardRow, w reports.Words) {
	between := s.figure(2, r.BetweenText(), nearSize)
	if len(r.Between) > 1 && len(r.BetweenText()) > 4 {
		between.style = style{bold: true, size: 13, rim: thin, middle: true, across: centre}
	}
	then := s.figure(7, turns(r.Then), farSize)
	if r.Last {
		then = cell{7, 1, "wind back", style{bold: true, size: 14, rim: thin, middle: true, across: centre}}
	}
	s.addTall(slotTall,
		cell{0, 1, tiered{fmt.Sprint(r.Slot), "from " + reports.Turns(r.From)}, style{rim: thin, middle: true, across: centre}},
		s.figure(1, r.Cuts, farSize), between, s.figure(3, turns(r.Total), farSize),
		s.figure(4, r.Clock, nearSize), s.figure(5, w.Rule(r.Travel), nearSize),
		cell{6, 1, "☐", style{size: nearSize, rim: thin, middle: true, across: centre}}, then)
}

// figure is a figure as large as its column allows.
func (s *sheet) figure(col int, value any, most float64) cell {
	size := fitting(fmt.Sprint(value), s.widths[col], most)
	return cell{col, 1, value, style{bold: true, size: size, rim: thin, middle: true, across: centre, shrink: true}}
}

// turns is a number where it is whole, else a text such as "6½".
func turns(r measure.Ratio) any {
	if r.IsWhole() {
		return int(r.Num())
	}
	return reports.Turns(r)
}
