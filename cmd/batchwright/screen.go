package main

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"regexp"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
	"golang.org/x/term"

	"batchwright/reports"
)

// show prints tables on the screen: on standard output, unless JSON goes
// there, and not at all when the command is to be quiet.
func (c *common) show(tables []reports.Table) {
	if c.quiet {
		return
	}
	out := c.world.out
	if c.json == "-" || c.output == "-" {
		out = c.world.err
	}
	buffered := bufio.NewWriterSize(out, 64<<10)
	for _, t := range tables {
		g := newGrid(t, screenWidth(out))
		g.bold = c.world.getenv("NO_COLOR") == "" && interactive(out)
		t.Notes = folded(out, t.Notes)
		g.print(buffered, t)
	}
	_ = buffered.Flush() // a screen that is gone has nobody to tell
}

// folded breaks lines between words where a person watches; what goes to a file
// or another program keeps its lines.
func folded(out io.Writer, lines []string) []string {
	if !interactive(out) {
		return lines
	}
	short := make([]string, len(lines))
	for i, line := range lines {
		short[i] = wrap(line, screenWidth(out)-1)
	}
	return short
}

// grid is a table on the screen. The library's own table takes a screen's time
// for each thousand rows, and a rack has ten: this writes the same lines, in
// its style, going over the cells twice.
type grid struct {
	head   []string
	rows   [][]string // cells that were wrapped have line ends
	widths []int
	right  []bool // numbers end below each other
	bold   bool   // the heading
}

func newGrid(t reports.Table, screen int) *grid {
	n := len(t.Head)
	g := &grid{widths: make([]int, n), right: make([]bool, n)}
	for _, column := range t.Numbers {
		g.right[column] = true
	}
	g.head = g.printable(t.Head)
	g.rows = make([][]string, len(t.Rows))
	for i, row := range t.Rows {
		g.rows[i] = g.printable(row)
	}
	if most := g.most(screen - 3*n - 1); most != nil {
		clear(g.widths)
		g.fit(g.head, most)
		for _, row := range g.rows {
			g.fit(row, most)
		}
	}
	return g
}

// narrowest is how far a column gives way within words; between words it gives
// way further.
const narrowest = 14

// most is how wide each column may be for all to fit into so many places: the
// wide ones give way first, and none within a word while another can between
// words. nil: all fit as they are.
func (g *grid) most(room int) []int {
	whole := 0
	for _, width := range g.widths {
		whole += width
	}
	if whole <= room {
		return nil
	}
	words := g.longestWords()
	most := make([]int, len(words))
	for share := room; ; share-- {
		whole := 0
		for i, word := range words {
			most[i] = max(share, min(word, narrowest))
			whole += min(g.widths[i], most[i])
		}
		if whole <= room || share == 0 {
			return most
		}
	}
}

// longestWords is how wide the longest word of each column is.
func (g *grid) longestWords() []int {
	longest := make([]int, len(g.widths))
	measure := func(row []string) {
		for i, cell := range row {
			for word := range strings.FieldsFuncSeq(glued(cell), breakable) {
				longest[i] = max(longest[i], cellWidth(word))
			}
		}
	}
	measure(g.head)
	for _, row := range g.rows {
		measure(row)
	}
	return longest
}

// printable is a row as it may be shown; its columns grow to hold it.
func (g *grid) printable(cells []string) []string {
	row := make([]string, len(g.widths))
	copy(row, cells)
	for i, cell := range row {
		cell = printable(cell)
		row[i], g.widths[i] = cell, max(g.widths[i], linesWidth(cell))
	}
	return row
}

// fit wraps the cells of a row that are wider than their column may be, and
// widens the columns to what they hold then.
func (g *grid) fit(row []string, most []int) {
	for i, cell := range row {
		width := linesWidth(cell)
		if width > most[i] {
			cell = wrap(cell, most[i])
			width = text.LongestLineLen(cell)
		}
		row[i], g.widths[i] = cell, max(g.widths[i], width)
	}
}

func (g *grid) print(out *bufio.Writer, t reports.Table) {
	if t.Title != "" {
		fmt.Fprintln(out, printable(t.Title))
	}
	if len(t.Rows) > 0 || len(t.Notes) == 0 {
		box := table.StyleLight.Box
		g.rule(out, box.TopLeft, box.TopSeparator, box.TopRight)
		if strings.Join(g.head, "") != "" {
			g.row(out, g.head, g.bold)
			g.rule(out, box.LeftSeparator, box.MiddleSeparator, box.RightSeparator)
		}
		for _, row := range g.rows {
			g.row(out, row, false)
		}
		g.rule(out, box.BottomLeft, box.BottomSeparator, box.BottomRight)
	}
	for _, note := range t.Notes {
		fmt.Fprintln(out, printable(note))
	}
}

// rule draws a line across.
func (g *grid) rule(out *bufio.Writer, left, between, right string) {
	for _, width := range g.widths {
		out.WriteString(left)
		out.WriteString(strings.Repeat(table.StyleLight.Box.MiddleHorizontal, width+2))
		left = between
	}
	out.WriteString(right + "\n")
}

// row writes one row, as many lines as its tallest cell has.
func (g *grid) row(out *bufio.Writer, cells []string, bold bool) {
	box := table.StyleLight.Box
	for rest := cells; rest != nil; {
		line := rest
		line, rest = firstLines(rest)
		for i, cell := range line {
			out.WriteString(box.MiddleVertical)
			g.cell(out, i, cell, bold)
		}
		out.WriteString(box.MiddleVertical + "\n")
	}
}

func (g *grid) cell(out *bufio.Writer, column int, cell string, bold bool) {
	gap := g.widths[column] - cellWidth(cell)
	before, after := 1, gap+1
	if g.right[column] {
		before, after = gap+1, 1
	}
	if bold {
		out.WriteString(text.Bold.Sprint(strings.Repeat(" ", before) + cell + strings.Repeat(" ", after)))
		return
	}
	spaces(out, before)
	out.WriteString(cell)
	spaces(out, after)
}

func spaces(out *bufio.Writer, n int) {
	for range n {
		out.WriteByte(' ')
	}
}

// firstLines parts the first lines of cells from the rest; nil is no rest.
func firstLines(cells []string) (line, rest []string) {
	tall := false
	for _, cell := range cells {
		tall = tall || strings.Contains(cell, "\n")
	}
	if !tall {
		return cells, nil
	}
	line, rest = make([]string, len(cells)), make([]string, len(cells))
	for i, cell := range cells {
		line[i], rest[i], _ = strings.Cut(cell, "\n")
	}
	return line, rest
}

// linesWidth is how many places the longest line of a cell takes.
func linesWidth(cell string) int {
	if strings.Contains(cell, "\n") {
		return text.LongestLineLen(cell)
	}
	return cellWidth(cell)
}

// cellWidth is how many places a text takes on the screen.
func cellWidth(cell string) int {
	for i := range len(cell) {
		if cell[i] >= 0x80 {
			return text.StringWidth(cell)
		}
	}
	return len(cell)
}

// printable shows control characters as pictures: a text from somebody's
// workbook never steers the screen.
func printable(s string) string {
	steers := func(r rune) bool { return r < ' ' && r != '\n' || r >= 0x7f && r < 0xa0 }
	if strings.IndexFunc(s, steers) < 0 {
		return s
	}
	return strings.Map(func(r rune) rune {
		switch {
		case !steers(r):
			return r
		case r < ' ':
			return '␀' + r
		}
		return '␡'
	}, s)
}

// wrap wraps each line of a text by itself, and leaves a figure its unit.
func wrap(lines string, width int) string {
	parts := strings.Split(glued(lines), "\n")
	for i, line := range parts {
		parts[i] = text.WrapSoft(line, width)
	}
	return strings.ReplaceAll(strings.Join(parts, "\n"), glue, " ")
}

// glue is one place wide and no blank: a character nobody may write.
const glue = "\ue000"

var figureAndUnit = regexp.MustCompile(`([0-9]) (in\b|mm\b|m2|h\b|min\b|%)`)

// glued is a text in which a figure and its unit are one word.
func glued(s string) string { return figureAndUnit.ReplaceAllString(s, "$1"+glue+"$2") }

func breakable(r rune) bool { return r == ' ' || r == '\n' }

// screenWidth is the terminal's, or a page's when nobody watches.
func screenWidth(out io.Writer) int {
	if f, ok := out.(*os.File); ok {
		if w, _, err := term.GetSize(int(f.Fd())); err == nil && w > 40 {
			return w
		}
	}
	return 120
}
