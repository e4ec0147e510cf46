package workbook

import (
	"slices"
	"strconv"
	"strings"

	"batchwright/reports"
)

// title opens a sheet, with the mark of an incomplete plan above it.
func (b *book) title(s *sheet, text string) {
	all := len(s.widths)
	if b.mark != "" {
		s.add(cell{0, all, b.mark, style{bold: true, size: 11, rim: thick}})
		s.addTall(28, cell{0, all, text, style{bold: true, size: 16, single: true, middle: true}})
		return
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

// head writes a table's headings, those of numbers at the right as they are.
func (s *sheet) head(names []string, g grid, numbers ...int) { s.headings(names, g, numbers, false) }

// headings are a table's; indented ones stand over figures that are.
func (s *sheet) headings(names []string, g grid, numbers []int, indented bool) {
	var cells []cell
	col := 0
	for i, name := range names {
		st := style{bold: true, size: s.size, grey: true, rim: thin, middle: true}
		if slices.Contains(numbers, i) {
			st.across, st.indent = right, indented
		} else if slices.Contains(numbers, i-1) {
			st.indent = true
		}
		cells = append(cells, cell{col, g[i], name, st})
		col += g[i]
	}
	s.add(cells...)
	s.hold()
}

// numbersFrom are the columns from the first up to the end.
func numbersFrom(first, end int) (columns []int) {
	for col := first; col < end; col++ {
		columns = append(columns, col)
	}
	return columns
}

// table writes headings and rows; a page that begins within the rows begins
// with the headings.
func (s *sheet) table(t reports.Table, g grid) {
	s.headings(t.Head, g, t.Numbers, true)
	first := len(s.rows)
	number := map[int]bool{}
	for _, i := range t.Numbers {
		number[i] = true
	}
	for _, r := range t.Rows {
		s.tableRow(r, g, number)
	}
	s.goOn(first)
	for i, note := range t.Notes {
		if i == 0 {
			s.gap(0.8)
		}
		s.add(cell{0, len(s.widths), note, style{}})
	}
}

// goOn has the rows from first on, of the table whose headings stand right above
// it, repeat them on every page they come to.
func (s *sheet) goOn(first int) { s.goOnUnder(first, s.rows[first-1]) }

// goOnUnder has the rows from first on begin every page they come to with these.
func (s *sheet) goOnUnder(first int, heads ...row) {
	for i := first; i < len(s.rows); i++ {
		s.rows[i].heads = heads
	}
}

func (s *sheet) tableRow(texts []string, g grid, number map[int]bool) {
	var cells []cell
	col := 0
	for i, text := range texts {
		c := cell{col, g[i], text, style{rim: thin, indent: i > 0 && number[i-1]}}
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
	s.freezeNext()
}

// freezeNext keeps the next row in sight on the screen.
func (s *sheet) freezeNext() { s.frozen = len(s.rows) + 1 }

// asNumber is a whole number as one, any other text as it is.
func asNumber(text string) any {
	if n, err := strconv.Atoi(text); err == nil {
		return n
	}
	return text
}
