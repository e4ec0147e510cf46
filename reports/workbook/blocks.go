package workbook

import (
	"strconv"
	"strings"

	"batchwright/reports"
)

// title opens a sheet, with the mark of an incomplete plan above it.
func (b *book) title(s *sheet, text string) {
	all := len(s.widths)
	if b.mark != "" {
		s.add(cell{0, all, b.mark, style{bold: true, size: 11, rim: thick}})
	}
	s.add(cell{0, all, text, style{bold: true, size: 16, single: true}})
}

// heading opens a block and stays with what follows it.
func (s *sheet) heading(text string) {
	s.gap(3)
	s.add(cell{0, len(s.widths), text, style{bold: true, size: 12, single: true}})
	s.hold()
}

// paragraph is text across the sheet.
func (s *sheet) paragraph(text string) {
	s.add(cell{0, len(s.widths), text, style{}})
}

// pairs are names and what is said of them; split is the first column of the
// text.
func (s *sheet) pairs(list []reports.Pair, split int) {
	for _, p := range list {
		s.add(cell{0, split, p.Name, style{bold: true, rim: below}},
			cell{split, len(s.widths) - split, p.Text, style{rim: below}})
	}
}

// grid says how a table's columns lie on the sheet's: how many of the sheet's
// columns each takes.
type grid []int

// ones is a grid of n columns, one of the sheet's each.
func ones(n int) grid {
	g := make(grid, n)
	for i := range g {
		g[i] = 1
	}
	return g
}

// head writes a table's headings.
func (s *sheet) head(names []string, g grid) {
	var cells []cell
	col := 0
	for i, name := range names {
		cells = append(cells, cell{col, g[i], name, style{bold: true, grey: true, rim: thin, middle: true}})
		col += g[i]
	}
	s.add(cells...)
	s.hold()
}

// table writes headings and rows. Rows of headings that are to be repeated on
// every page are set with repeatHere before.
func (s *sheet) table(t reports.Table, g grid) {
	s.head(t.Head, g)
	number := map[int]bool{}
	for _, i := range t.Numbers {
		number[i] = true
	}
	for _, r := range t.Rows {
		s.tableRow(r, g, number)
	}
	for _, note := range t.Notes {
		s.add(cell{0, len(s.widths), note, style{}})
	}
}

func (s *sheet) tableRow(texts []string, g grid, number map[int]bool) {
	var cells []cell
	col := 0
	for i, text := range texts {
		c := cell{col, g[i], text, style{rim: thin}}
		if number[i] {
			c.value, c.style = figure(text)
		}
		c.style.size = s.size
		cells = append(cells, c)
		col += g[i]
	}
	s.add(cells...)
}

// figure makes a number of a text that is one, with as many decimals.
func figure(text string) (any, style) {
	st := style{rim: thin, across: right, single: true, indent: true}
	if n, err := strconv.Atoi(text); err == nil {
		return n, st
	}
	f, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return text, style{rim: thin}
	}
	_, decimals, _ := strings.Cut(text, ".")
	st.format = "0." + strings.Repeat("0", max(1, len(decimals)))
	return f, st
}

// repeatNext makes the next row the heading of every page, and keeps it in
// sight on the screen.
func (s *sheet) repeatNext() {
	s.repeat, s.repeatTo = len(s.rows)+1, len(s.rows)+1
	s.frozen = len(s.rows) + 1
}
