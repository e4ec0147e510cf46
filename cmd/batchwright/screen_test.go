package main

import (
	"bufio"
	"bytes"
	"slices"
	"strings"
	"testing"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
	"github.com/spf13/cobra"
	"pgregory.net/rapid"

	"batchwright/reports"
)

// The screen's tables are, to the byte, what the table library makes of them.
func TestTablesAreThoseOfTheLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.OneOf(rapid.StringMatching(`([a-z0-9,.¾×é]{1,9} ){0,6}[a-z0-9¾]{1,20}`), rapid.SampledFrom([]string{"", "two\nlines", "a word\n\nand another one that goes on and on", "W1"}))
		n := rapid.IntRange(1, 6).Draw(t, "columns")
		row := func() []string { return rapid.SliceOfN(cell, n, n).Draw(t, "row") }
		in := reports.Table{Head: row()}
		for range rapid.IntRange(1, 6).Draw(t, "rows") {
			in.Rows = append(in.Rows, row())
		}
		if rapid.Bool().Draw(t, "numbers") {
			in.Numbers = []int{n - 1}
		}
		screen := rapid.IntRange(41, 160).Draw(t, "screen")
		var got bytes.Buffer
		out := bufio.NewWriter(&got)
		newGrid(in, screen).print(out, in)
		if err := out.Flush(); err != nil {
			t.Fatal(err)
		}
		if want := byLibrary(in, screen); got.String() != want {
			t.Fatalf("got\n%s\nwant\n%s", got.String(), want)
		}
	})
}

func byLibrary(t reports.Table, screen int) string {
	rowOf := func(cells []string) (row table.Row) {
		for _, c := range cells {
			row = append(row, c)
		}
		return row
	}
	w := table.NewWriter()
	style := table.StyleLight
	style.Format.Header = text.FormatDefault
	w.SetStyle(style)
	if strings.Join(t.Head, "") != "" {
		w.AppendHeader(rowOf(t.Head))
	}
	for _, row := range t.Rows {
		w.AppendRow(rowOf(row))
	}
	var configs []table.ColumnConfig
	n := len(t.Head)
	most := mostByHand(t, screen)
	for i := range n {
		c := table.ColumnConfig{Number: i + 1}
		if most != nil {
			c.WidthMax, c.WidthMaxEnforcer = most[i], wrap
		}
		if slices.Contains(t.Numbers, i) {
			c.Align, c.AlignHeader = text.AlignRight, text.AlignRight
		}
		configs = append(configs, c)
	}
	w.SetColumnConfigs(configs)
	return w.Render() + "\n"
}

// mostByHand is the widest that each column may be for the table to fit the
// screen, tried one width after the other, but none narrower than its longest
// word of up to 14 letters; nil: all fit as they are.
func mostByHand(t reports.Table, screen int) []int {
	columns, words := make([]int, len(t.Head)), make([]int, len(t.Head))
	for _, row := range append([][]string{t.Head}, t.Rows...) {
		for i, cell := range row {
			columns[i] = max(columns[i], text.LongestLineLen(cell))
			for _, word := range strings.FieldsFunc(glued(cell), breakable) {
				words[i] = max(words[i], min(14, text.StringWidth(word)))
			}
		}
	}
	whole := 0
	for _, width := range columns {
		whole += width + 3
	}
	if whole+1 <= screen {
		return nil
	}
	for most := screen; ; most-- {
		whole, each := 1, make([]int, len(columns))
		for i, width := range columns {
			each[i] = max(most, words[i])
			whole += min(width, each[i]) + 3
		}
		if whole <= screen || most <= 0 {
			return each
		}
	}
}

// A table of short words stays on a screen of 100 places, however many columns
// it has; and a word is not torn where another column can give way.
func TestTablesStayOnTheScreen(t *testing.T) {
	in := reports.Table{Head: []string{"Finger", "Error", "Fit", "", "Cuts a slot", "Turns between", "Past the pin", "Cuts", "Travel", "Layout"},
		Rows: [][]string{{"9/32 in", "1/32 in", "0.0035 in", "good", "4", "1", "6", "27", "3-1/2 in", "centred antisymmetric"}}}
	var got bytes.Buffer
	out := bufio.NewWriter(&got)
	newGrid(in, 100).print(out, in)
	_ = out.Flush()
	for line := range strings.Lines(got.String()) {
		if text.StringWidth(strings.TrimRight(line, "\n")) > 100 {
			t.Errorf("wider than 100: %s", line)
		}
	}
	if !strings.Contains(got.String(), "antisymmetric") || !strings.Contains(got.String(), "between") {
		t.Errorf("a word is torn\n%s", got.String())
	}
}

// What stands in a cell of somebody's workbook is shown, and never carried out
// by the terminal.
func TestTextsDoNotSteerTheScreen(t *testing.T) {
	for _, hostile := range []string{"\x1b[2J", "\x1b]0;title\a", "a\rb", "\b\b", "\u009b31m", "\x7f", "tab\there"} {
		in := reports.Table{Title: hostile, Head: []string{hostile}, Rows: [][]string{{hostile}}, Notes: []string{hostile}}
		var got bytes.Buffer
		out := bufio.NewWriter(&got)
		newGrid(in, 80).print(out, in)
		_ = out.Flush()
		if strings.ContainsFunc(got.String(), func(r rune) bool { return r < ' ' && r != '\n' || r >= 0x7f && r < 0xa0 }) {
			t.Errorf("%q reaches the terminal as it is: %q", hostile, got.String())
		}
	}
}

// Every page of help stands on a screen of 100 places.
func TestHelpStaysOnTheScreen(t *testing.T) {
	var walk func(cmd *cobra.Command)
	walk = func(cmd *cobra.Command) {
		var out bytes.Buffer
		cmd.SetOut(&out)
		if err := cmd.Help(); err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(out.String()) {
			if wide := text.StringWidth(strings.TrimRight(line, "\n")); wide > helpWide {
				t.Errorf("%s: %d places: %s", cmd.CommandPath(), wide, line)
			}
		}
		for _, sub := range cmd.Commands() {
			walk(sub)
		}
	}
	walk(newRoot(&common{}))
}
