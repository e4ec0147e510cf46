package intake

import (
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"batchwright/orders"
)

// SoldRow is a row of a fair's page of sales that was filled in.
type SoldRow struct {
	Source        orders.Source
	Box, Wood     string
	Brought, Sold int
}

// soldLayout is the page of a fair's workbook that is ticked at the stall.
var soldLayout = newLayout("Sold", "sales|what was sold", []column{
	{"Box", true, "name|item|article"},
	{"Wood", false, "species|timber"},
	{"Brought", true, "taken|carried there"},
	{"Sold", false, "number sold|how many sold"},
	{"Left", false, "came home|left over|unsold"},
})

// ReadSold reads what a fair sold from the Sold sheet of its workbook: Sold, or
// else Left, of each box. Rows with neither are noted and left out. The error is
// always a *Refusal; what is wrong inside are problems, every one of them.
func ReadSold(name string, data []byte) (rows []SoldRow, problems []orders.Finding, err error) {
	file := filepath.Base(name)
	defer func() {
		if r := recover(); r != nil {
			rows, err = nil, &Refusal{file, "damaged in a way that stopped the reading", fmt.Sprintf("save it again as .xlsx (%v)", r)}
		}
	}()
	b, err := open(file, data)
	if err != nil {
		return nil, nil, err
	}
	found := false
	for _, s := range b.sheets {
		if named := foldHeading(s.name); !b.csv && named != "sold" || len(s.rows) == 0 {
			continue
		}
		t, _ := findTable(s, &soldLayout)
		if t == nil || len(t.missing()) > 0 {
			continue
		}
		found = true
		read, faults := soldRows(t)
		rows, problems = append(rows, read...), append(problems, faults...)
	}
	if !found {
		problems = append(problems, orders.Finding{Level: orders.Error, Read: file, Did: "no sheet Sold with the headings Box, Brought and Sold or Left",
			Fix: "use the workbook that the fair command wrote, with its sheet Sold filled in"})
	}
	return rows, problems, nil
}

func soldRows(t *table) (rows []SoldRow, problems []orders.Finding) {
	var blank []string
	for i := range t.rows {
		row, problem := soldRow(t, &t.rows[i])
		switch {
		case problem != nil:
			problems = append(problems, *problem)
		case row.Box != "" && row.Sold < 0:
			blank = append(blank, row.Box)
		case row.Box != "":
			rows = append(rows, row)
		}
	}
	if len(blank) > 0 {
		problems = append(problems, orders.Finding{Level: orders.Note, Source: orders.Source{Sheet: t.name}, Read: strings.Join(blank, ", "),
			Did: "Sold and Left are both blank: nothing is noted", Fix: "OK if not known"})
	}
	return rows, problems
}

// soldRow reads a row; the zero value is none, and one with nothing filled in
// has sold -1.
func soldRow(t *table, r *row) (s SoldRow, problem *orders.Finding) {
	text := func(name string) string {
		if h := t.columns[name]; h != nil {
			if c := r.at(h.col); c != nil {
				return strings.TrimSpace(c.text)
			}
		}
		return ""
	}
	fault := func(column, did, fix string) *orders.Finding {
		at := orders.Source{Sheet: t.name, Cell: cellName(t.columns[column].col, r.num)}
		return &orders.Finding{Level: orders.Error, Source: at, Read: text(column), Did: did, Fix: fix}
	}
	s = SoldRow{Source: orders.Source{Sheet: t.name, Cell: cellName(t.columns["Box"].col, r.num)}, Box: text("Box"), Wood: text("Wood")}
	if s.Box == "" || text("Brought")+text("Sold")+text("Left") == "" {
		return SoldRow{}, nil
	}
	n := map[string]int{}
	for _, name := range []string{"Brought", "Sold", "Left"} {
		if text(name) == "" {
			continue
		}
		count, err := strconv.Atoi(text(name))
		if err != nil || count < 0 || count > maxSales {
			return s, fault(name, "not a number of boxes", "write a whole number")
		}
		n[name] = count
	}
	s.Brought = n["Brought"]
	sold, saidSold := n["Sold"]
	left, saidLeft := n["Left"]
	switch {
	case text("Brought") == "":
		return s, fault("Brought", "the number brought is missing", "write how many were at the booth")
	case !saidSold && !saidLeft:
		s.Sold = -1
		return s, nil
	case sold > s.Brought, left > s.Brought:
		return s, fault("Brought", fmt.Sprintf("%d were brought, and %d sold or left", s.Brought, max(sold, left)), "count again")
	case saidSold && saidLeft && sold+left != s.Brought:
		return s, fault("Brought", fmt.Sprintf("%d sold and %d left do not make up %d brought", sold, left, s.Brought), "count again; one of Sold and Left is enough")
	case !saidSold:
		sold = s.Brought - left
	}
	s.Sold = sold
	return s, nil
}
