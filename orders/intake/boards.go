package intake

import (
	"fmt"
	"math/big"
	"strconv"
	"strings"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/woods"
)

func (r *reader) readBoards(t *table, origin orders.BoardOrigin) []orders.Board {
	var boards []orders.Board
	r.eachLine(t, func(l *line) int {
		b := l.board(origin)
		if !l.bad {
			boards = append(boards, b)
		}
		return b.Count
	})
	return boards
}

func (l *line) board(origin orders.BoardOrigin) orders.Board {
	b := orders.Board{Source: l.source("Board"), ID: l.text("Board"), Origin: origin}
	if b.ID == "" {
		b.ID = map[orders.BoardOrigin]string{orders.FromRack: "R", orders.FromYard: "Y"}[origin] + fmt.Sprint(l.row.num)
	}
	l.boardCount(&b)
	b.Wood = l.neededWood()
	b.Sheet = woods.IsSheet(b.Wood)
	l.thickness(&b)
	b.Length, b.Width = l.size("Length"), l.size("Width")
	l.boardCost(&b)
	b.Defects = l.defects(&b)
	b.Place = l.text("Place")
	if origin == orders.FromYard {
		b.Arrives = l.date("Arrives")
	}
	l.auditBoard(&b)
	return b
}

// boardCount reads how many; a blank means as many as wanted in the yard and
// is an error on the rack.
func (l *line) boardCount(b *orders.Board) {
	if c, ok := l.get("Count"); b.Origin == orders.FromRack && !l.bad && (!ok || isBlank(c.text)) {
		b.Count = 1 // a blank count on the rack is one board
		return
	}
	if b.Origin == orders.FromRack {
		b.Count = l.neededCount("Count").total()
		return
	}
	if c, ok := l.get("Count"); ok {
		switch foldHeading(c.text) {
		case "any", "as wanted", "unlimited", "as many as wanted", "no limit", "lots", "many":
			l.understood("Count", c.text, "as many as wanted")
			b.Unlimited = true
			return
		}
		n, _ := l.count("Count")
		b.Count = n.total()
		return
	}
	switch {
	case b.Origin != orders.FromRack:
		b.Unlimited = !l.bad
	case l.t.layout == &rackFileLayout:
		b.Count = 1 // the list says so once, at its head
	default:
		l.fault("Board", "", "there is no column Count", "add a column headed Count")
	}
}

// thickness reads class and true thickness; one of the two is needed.
func (l *line) thickness(b *orders.Board) {
	before := l.bad
	l.bad = false
	defer func() { l.bad = l.bad || before }()
	if c, ok := l.get("Class"); ok {
		class, known := l.order.Settings.FindClass(classText(c))
		if !known {
			if c.kind == dateCell {
				l.fault("Class", c.text, "the spreadsheet turned this into a date"+dateGuess(c.text), "format the cell as text and type the class again")
				return
			}
			l.fault("Class", c.text, "unknown thickness class", "write one of "+l.order.Settings.ClassNames()+", or the true thickness in the Thickness column")
		} else {
			b.Class = class.Name
			l.understood("Class", c.text, class.Name+": yields up to "+class.Surfaced.ShowUnit(l.order.Settings.Units))
		}
	}
	t, ok := l.length("Thickness")
	if b.Class == "" {
		b.Class = l.class
	}
	switch {
	case ok && t > 0:
		b.Thickness = t
	case ok:
		l.fault("Thickness", "0", "the thickness is missing", "write its true thickness")
	case b.Class == "" && !l.bad:
		l.fault("Thickness", "", "class and thickness are both missing", "write a class such as 4/4, or the true thickness")
	}
}

// takeClass makes of 4/4 in a column of thicknesses a board's class; as the
// thickness of a wall it is no size at all.
func (l *line) takeClass(name, class string) {
	c, _ := l.order.Settings.FindClass(class)
	yields := "yields up to " + c.Surfaced.ShowUnit(l.order.Settings.Units)
	if l.t.takesBoards() {
		l.class = class
		l.understood(name, class, "class "+class+": "+yields)
		return
	}
	l.fault(name, class, "this is a class of rough boards, not a finished thickness; it "+yields, "write the finished thickness, as in "+c.Surfaced.Fraction()+"; for one inch, write 1")
}

func (t *table) takesBoards() bool { return t.layout.has("Class") }

// roughClass is the class that a text such as 4/4 or 5/4" names, from 4/4 up;
// 3/4 is as good a thickness as any.
func roughClass(text string) string {
	quarters, ok := strings.CutSuffix(strings.TrimRight(text, "\" "), "/4")
	if n, err := strconv.Atoi(quarters); !ok || err != nil || n < 4 {
		return ""
	}
	class, _ := orders.FindClass(quarters + "/4")
	return class.Name
}

// classText reads a class that a spreadsheet may have turned into a date
// (4/4 is 4 April) or kept as a text.
func classText(c cell) string {
	text := strings.ToLower(c.text)
	for _, tail := range []string{"quarters", "quarter", "qtr", "\"", "in"} {
		text = strings.TrimRight(strings.TrimSuffix(text, tail), " -")
	}
	if _, err := strconv.Atoi(text); err == nil && len(text) < len(c.text) && strings.Contains(strings.ToLower(c.text), "q") {
		return text + "/4"
	}
	return text
}

// boardCost turns Cost or Price, by what its heading says it is for, into the
// cost of one board.
func (l *line) boardCost(b *orders.Board) {
	name, h := "Price", l.priceColumn("Price")
	if h == nil || !l.filled(h) {
		name, h = "Cost", l.priceColumn("Cost")
	}
	first := l.t.columns[name]
	defer func() { l.t.columns[name] = first }()
	l.t.columns[name] = h
	amount, ok := l.amount(name)
	if !ok {
		return
	}
	b.CostKnown = true
	b.Cost = amount.At(quantityOf(h.basis, b))
	meaning := b.Cost.In(l.units()) + " a board"
	if h.basis != perBoard {
		meaning = amount.In(l.units()) + " " + h.basis.String() + ", " + meaning
	}
	l.understood(name, amount.In(l.units()), meaning)
}

// priceColumn is the column of this row's price. Where two columns give prices for
// different measures, it is the one that is filled, and the first where both are.
func (l *line) priceColumn(name string) *heading {
	first := l.t.columns[name]
	if first == nil {
		return nil
	}
	for i := range l.t.headings {
		if h := &l.t.headings[i]; !l.filled(first) && h.name == name && l.t.otherPrice(h) && l.filled(h) {
			return h
		}
	}
	return first
}

func (l *line) filled(h *heading) bool {
	c := l.row.at(h.col)
	return c != nil && !isBlank(c.text)
}

// quantityOf is how much of what is priced one board holds.
func quantityOf(per basis, b *orders.Board) *big.Rat {
	switch per {
	case perBoardFoot:
		return b.BoardFeet()
	case perSquareMetre:
		return amountIn(1000*measure.Millimetre, b.Length, b.Width)
	case perSquareFoot:
		return amountIn(measure.Foot, b.Length, b.Width)
	case perCubicMetre:
		return amountIn(1000*measure.Millimetre, b.Length, b.Width, b.Rough())
	}
	return big.NewRat(1, 1)
}

func amountIn(unit measure.Length, lengths ...measure.Length) *big.Rat {
	out := big.NewRat(1, 1)
	for _, l := range lengths {
		out.Mul(out, big.NewRat(int64(l), int64(unit)))
	}
	return out
}
