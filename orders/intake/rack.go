package intake

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"batchwright/orders"
	"batchwright/orders/settings"
)

// rackFileLayout is a Rack sheet with what the shop file knows of a board
// beside what a plan needs.
var rackFileLayout = newLayout("Rack", rackLayout.others+"|buy", append(boardColumns[:len(boardColumns):len(boardColumns)],
	column{"Wide end", false, "width at the wide end|wide width|wide end width|taper"},
	column{"Grain tag", false, "grain|figure|log|flitch"},
	column{"Moisture", false, "moisture content|mc|moisture %"},
	column{"As listed", false, "listed"}))

// ReadRack reads the boards of a workbook or list for the shop's rack; sheets
// of another kind are left alone, but for the units of a Shop sheet. The error
// is always a *Refusal; what is wrong inside stands in the order's Findings.
func ReadRack(name string, data []byte, base settings.Shop) (*orders.Order, error) {
	return readList(name, data, base, &rackFileLayout, (*reader).readRackSheet)
}

// ReadYard is ReadRack for the boards of a Yard sheet: what can be bought.
func ReadYard(name string, data []byte, base settings.Shop) (*orders.Order, error) {
	return readList(name, data, base, &yardLayout, func(r *reader, t *table) {
		r.listTitles(t)
		t.takeUnitRow()
		r.reportHeadings(t)
		r.order.HasYard = true
		r.order.Yard = append(r.order.Yard, r.readBoards(t, orders.FromYard)...)
		r.askDates()
	})
}

// readList reads the sheets of one layout from a workbook or list.
func readList(name string, data []byte, base settings.Shop, want *layout, read func(*reader, *table)) (order *orders.Order, err error) {
	file := filepath.Base(name)
	defer func() {
		if r := recover(); r != nil {
			order, err = nil, &Refusal{file, "damaged in a way that stopped the reading", fmt.Sprintf("save it again as .xlsx (%v)", r)}
		}
	}()
	b, err := open(file, data)
	if err != nil {
		return nil, err
	}
	r := &reader{order: &orders.Order{File: file, SHA256: sum(data), Settings: base.Clone()}, book: b}
	for _, s := range b.sheets {
		if t := tableNamed(s, &shopLayout, b.csv); t != nil {
			r.readShop(t)
		}
	}
	found := false
	for _, s := range b.sheets {
		if t := tableNamed(s, want, b.csv); t != nil {
			found = true
			read(r, t)
		}
	}
	if !found {
		r.problem(orders.Error, orders.Source{}, file, "no sheet of boards found", "name the sheet "+want.name+" and head its columns "+
			strings.Join(want.neededNames(), ", ")+", Board, Count and Class or Thickness")
	}
	r.inSheetOrder()
	return r.order, nil
}

// tableNamed finds the table of a sheet that goes by the layout's name; a list
// has no name and must have all its needed headings.
func tableNamed(s *sheet, l *layout, csv bool) *table {
	if csv && l.name == "Shop" || !csv && !l.goesBy(s.name) || len(s.rows) == 0 {
		return nil
	}
	t, _ := findTable(s, l)
	return t
}

// goesBy reports whether a sheet's name is the layout's, or another one it has.
func (l *layout) goesBy(sheet string) bool {
	plain := foldHeading(sheet)
	return plain == foldHeading(l.name) || slices.Contains(strings.Split(l.others, "|"), plain)
}

func (r *reader) readRackSheet(t *table) {
	r.listTitles(t)
	t.takeUnitRow()
	r.reportHeadings(t)
	r.order.HasRack = true
	if t.columns["Count"] == nil {
		r.problem(orders.Note, orders.Source{Sheet: t.sheet.name}, "", "no column Count: each line is one board", "OK if each line is one board; otherwise add a Count column")
	}
	toFill := foldHeading(t.sheet.name) == "buy" // a plan's own sheet, on which sizes are filled in
	r.eachLine(t, func(l *line) int {
		if toFill && l.text("Length") == "" && l.text("Width") == "" {
			l.aside = "no sizes filled in; skipped"
			l.skip(orders.Note, "no length and width: not taken as bought", "fill in both if it was bought")
			return 0
		}
		b := l.board(orders.FromRack)
		b.WideEnd, _ = l.length("Wide end")
		if b.WideEnd > 0 && b.WideEnd < b.Width {
			l.fault("Wide end", l.text("Wide end"), "the wide end is narrower than the narrow end", "Width is at the narrow end")
		}
		b.GrainTag = l.text("Grain tag")
		b.Moisture = l.percent("Moisture")
		b.From, b.Listed = r.order.File, l.text("As listed")
		if !l.bad {
			r.order.Rack = append(r.order.Rack, b)
		}
		return b.Count
	})
}

// percent reads a number from 0 to 200.
func (l *line) percent(name string) float64 {
	c, ok := l.get(name)
	if !ok {
		return 0
	}
	f, err := l.reading(name, c).Number(strings.TrimSuffix(c.text, "%"))
	if err != nil || !(f >= 0 && f < 200) {
		l.fault(name, c.text, "not a percentage", "write it like 8.5")
		return 0
	}
	l.understood(name, c.text, c.text+" %")
	return f
}
