package main

import (
	"fmt"
	"io"
	"os"
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
	for _, t := range tables {
		printTable(out, t, c.world.getenv("NO_COLOR") == "")
	}
}

func printTable(out io.Writer, t reports.Table, styled bool) {
	w := table.NewWriter()
	style := table.StyleLight
	style.Options.SeparateRows = false
	style.Format.Header = text.FormatDefault
	if styled && interactive(out) {
		style.Color.Header = text.Colors{text.Bold}
	}
	w.SetStyle(style)
	w.AppendHeader(rowOf(t.Head))
	for _, row := range t.Rows {
		w.AppendRow(rowOf(row))
	}
	w.SetColumnConfigs(columns(len(t.Head), screenWidth(out)))
	if t.Title != "" {
		fmt.Fprintln(out, t.Title)
	}
	if len(t.Rows) > 0 || len(t.Notes) == 0 {
		fmt.Fprintln(out, w.Render())
	}
	for _, note := range t.Notes {
		fmt.Fprintln(out, note)
	}
}

func rowOf(cells []string) table.Row {
	row := make(table.Row, len(cells))
	for i, c := range cells {
		row[i] = c
	}
	return row
}

// columns wraps long texts so that a table fits the screen.
func columns(n, width int) []table.ColumnConfig {
	configs := make([]table.ColumnConfig, n)
	for i := range configs {
		configs[i] = table.ColumnConfig{Number: i + 1, WidthMax: max(14, (width-3*n)/max(2, n-2)), WidthMaxEnforcer: wrap}
	}
	return configs
}

// wrap wraps each line of a text by itself.
func wrap(lines string, width int) string {
	parts := strings.Split(lines, "\n")
	for i, line := range parts {
		parts[i] = text.WrapSoft(line, width)
	}
	return strings.Join(parts, "\n")
}

// screenWidth is the terminal's, or a page's when nobody watches.
func screenWidth(out io.Writer) int {
	if f, ok := out.(*os.File); ok {
		if w, _, err := term.GetSize(int(f.Fd())); err == nil && w > 40 {
			return w
		}
	}
	return 120
}
