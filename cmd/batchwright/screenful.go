package main

import (
	"bufio"
	"bytes"
	"os"

	"golang.org/x/term"

	"batchwright/reports"
)

// usualLines is how many lines of tables fit on a terminal of 24 lines (the
// VT100's, and still the usual smallest) above the last words of a command.
const usualLines = 19

// showFirst prints tables, the most important first, on one screenful, of which
// the first table leaves up to half to the second; --all prints what does not
// fit.
func (c *common) showFirst(tables []reports.Table) {
	if c.all {
		c.show(tables)
		return
	}
	room, width := usualLines, screenWidth(c.world.out)
	if f, ok := c.world.out.(*os.File); ok {
		if _, lines, err := term.GetSize(int(f.Fd())); err == nil && lines > 24 {
			room = lines - 5
		}
	}
	whole := 0
	for _, t := range tables {
		whole += linesOf(t, width)
	}
	if whole <= room {
		c.show(tables)
		return
	}
	var shown []reports.Table
	left := 0
	for i, t := range tables {
		if len(t.Rows) == 0 {
			shown, room = append(shown, t), room-linesOf(t, width)
			continue
		}
		rows, own := len(t.Rows), room
		if len(shown) == 0 && i+1 < len(tables) {
			own -= min(linesOf(tables[i+1], width), room/2)
		}
		for rows > 0 && linesOf(firstRows(t, rows), width) > own {
			rows--
		}
		if rows > 0 {
			part := firstRows(t, rows)
			part.Notes = t.Notes // they say what stops the work: never left out
			shown = append(shown, part)
			room -= linesOf(shown[len(shown)-1], width)
		}
		left += len(t.Rows) - rows
	}
	c.show(shown)
	if left > 0 {
		c.sayf("%s: --all shows everything", reports.Counted(left, "more row", "more rows"))
	}
}

// firstRows is a table with so many of its rows and, to measure it, its notes
// only where it is whole.
func firstRows(t reports.Table, n int) reports.Table {
	if n < len(t.Rows) {
		t.Rows, t.Notes = t.Rows[:n], nil
	}
	return t
}

// linesOf is how many lines a table takes on a screen.
func linesOf(t reports.Table, width int) int {
	var out bytes.Buffer
	buffered := bufio.NewWriter(&out)
	newGrid(t, width).print(buffered, t)
	_ = buffered.Flush()
	return bytes.Count(out.Bytes(), []byte("\n"))
}
