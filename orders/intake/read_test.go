package intake

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// tabs is a workbook as rows of sheets, in the order of names.
type tabs struct {
	names []string
	rows  map[string][][]any
	edit  func(*excelize.File) error
}

// one is a workbook of one sheet.
func one(name string, rows ...[]any) tabs {
	return tabs{names: []string{name}, rows: map[string][][]any{name: rows}}
}

// and adds a sheet.
func (s tabs) and(name string, rows ...[]any) tabs {
	s.names = append(s.names, name)
	s.rows[name] = rows
	return s
}

func (s tabs) edited(edit func(*excelize.File) error) tabs { s.edit = edit; return s }

func (s tabs) bytes(t testing.TB) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	fail := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	for i, name := range s.names {
		if i == 0 {
			fail(f.SetSheetName("Sheet1", name))
		} else {
			_, err := f.NewSheet(name)
			fail(err)
		}
		for r, row := range s.rows[name] {
			fail(f.SetSheetRow(name, fmt.Sprintf("A%d", r+1), &row))
		}
	}
	if s.edit != nil {
		fail(s.edit(f))
	}
	var buf bytes.Buffer
	_, err := f.WriteTo(&buf)
	fail(err)
	return buf.Bytes()
}

func (s tabs) read(t testing.TB) *orders.Order {
	t.Helper()
	order, err := Read("order.xlsx", s.bytes(t), settings.Default())
	if err != nil {
		t.Fatal(err)
	}
	return order
}

var (
	heads   = []any{"Box", "Count", "Length", "Width", "Height", "Measured", "Thickness", "Wood", "Notes"}
	sound   = []any{"Tea box", 6, 12, 8, 3.375, "outside", "1/2", "cherry"}
	boarded = []any{"Board", "Count", "Wood", "Class", "Thickness", "Length", "Width", "Cost", "Defects"}
)

// box is a sound line with one cell changed.
func box(column string, value any) []any {
	row := append([]any{}, sound...)
	row = append(row, nil)
	for i, h := range heads {
		if h == column {
			row[i] = value
		}
	}
	return row
}

// finding is a problem as a test expects it.
type finding struct {
	level orders.Level
	at    string // "Boxes!B2"
	says  string // part of read, did or fix
}

func checkFindings(t *testing.T, got []orders.Finding, want []finding) {
	t.Helper()
	left := append([]orders.Finding{}, got...)
	for _, w := range want {
		found := false
		for i, p := range left {
			if p.Level == w.level && p.Source.String() == w.at && strings.Contains(p.Read+"|"+p.Did+"|"+p.Fix, w.says) {
				left = append(left[:i], left[i+1:]...)
				found = true
				break
			}
		}
		if !found {
			t.Errorf("no %s at %s that says %q", w.level, w.at, w.says)
		}
	}
	for _, p := range left {
		if p.Level != orders.Note {
			t.Errorf("unexpected %s at %s: %q, %s; %s", p.Level, p.Source, p.Read, p.Did, p.Fix)
		}
	}
}

// What people send, and what is made of it.
func TestMess(t *testing.T) {
	dated := func(cell string) func(*excelize.File) error {
		return func(f *excelize.File) error {
			style, err := f.NewStyle(&excelize.Style{NumFmt: 16})
			return errors.Join(err, f.SetCellValue("Boxes", cell, 46089), f.SetCellStyle("Boxes", cell, cell, style))
		}
	}
	cases := []struct {
		why  string
		book tabs
		want []finding
	}{
		{"a sound line", one("Boxes", heads, sound), nil},
		{"sheets are found in any case", one("bOXES", heads, sound), nil},
		{"and by their headings", one("Sheet X", heads, sound), nil},
		{"headings under titles", one("Boxes", []any{"An order"}, []any{}, heads, sound), nil},
		{"inside or outside missing", one("Boxes", heads, box("Measured", nil)), []finding{{orders.Error, "Boxes!F2", "inside or outside"}}},
		{"inside or outside is a word of its own", one("Boxes", heads, box("Measured", "roughly")), []finding{{orders.Error, "Boxes!F2", "unknown word"}}},
		{"half a box", one("Boxes", heads, box("Count", 3.5)), []finding{{orders.Error, "Boxes!B2", "whole number"}}},
		{"no count", one("Boxes", heads, box("Count", nil)), []finding{{orders.Error, "Boxes!B2", "missing"}}},
		{"no boxes at all", one("Boxes", heads, box("Count", 0)), []finding{{orders.Error, "Boxes!B2", "starts at 1"}}},
		{"fewer than none", one("Boxes", heads, box("Count", -2)), []finding{{orders.Error, "Boxes!B2", "start with a number"}}},
		{"a letter for a digit", one("Boxes", heads, box("Length", "1O")), []finding{{orders.Error, "Boxes!C2", "write 10"}}},
		{"a length of nothing", one("Boxes", heads, box("Length", 0)), []finding{{orders.Error, "Boxes!C2", "of 0"}}},
		{"a length below nothing", one("Boxes", heads, box("Length", -12)), []finding{{orders.Error, "Boxes!C2", "below zero"}}},
		{"a length missing", one("Boxes", heads, box("Width", nil)), []finding{{orders.Error, "Boxes!D2", "missing"}}},
		{"a length between two ticks", one("Boxes", heads, box("Length", "1/3")), []finding{{orders.Error, "Boxes!C2", "8.46666625 mm or 8.4666675 mm"}}},
		{"a calculated one", one("Boxes", heads, box("Height", 10.0/3)), []finding{{orders.Error, "Boxes!E2", "stored exactly"}}},
		{"a fraction turned into a date", one("Boxes", heads, sound).edited(dated("G2")), []finding{{orders.Error, "Boxes!G2", "probably 3/8"}}},
		{"the same as text", one("Boxes", heads, box("Thickness", "8-Mar")), []finding{{orders.Error, "Boxes!G2", "3/8"}}},
		{"an error for a value", one("Boxes", heads, box("Length", nil)).edited(func(f *excelize.File) error {
			return f.SetCellFormula("Boxes", "C2", "1/0")
		}), []finding{{orders.Error, "Boxes!C2", "error"}}},
		{"a formula without its value", one("Boxes", heads, box("Length", nil)).edited(func(f *excelize.File) error {
			return f.SetCellFormula("Boxes", "C2", "D2+4")
		}), nil},
		{"a formula that cannot be computed here", one("Boxes", heads, box("Length", nil)).edited(func(f *excelize.File) error {
			return f.SetCellFormula("Boxes", "C2", "RAND()*10")
		}), []finding{{orders.Error, "Boxes!C2", "value was not saved"}}},
		{"a ditto in the first row", one("Boxes", heads, box("Wood", "ditto")), []finding{{orders.Error, "Boxes!H2", "nothing above"}}},
		{"a ditto under a blank", one("Boxes", heads, box("Notes", nil), box("Notes", `"`)), []finding{{orders.Error, "Boxes!I3", "nothing above"}}},
		{"a wood misspelt", one("Boxes", heads, box("Wood", "wallnut")), []finding{{orders.Warning, "Boxes!H2", "walnut"}}},
		{"a wood nobody knows", one("Boxes", heads, box("Wood", "unobtainium")), []finding{{orders.Warning, "Boxes!H2", "unknown wood"}}},
		{"shorter than wide", one("Boxes", heads, box("Length", 6)), []finding{{orders.Warning, "Boxes!C2", "swap"}}},
		{"millimetres among inches", one("Boxes", heads, sound, sound, sound, box("Length", 90)), []finding{{orders.Warning, "Boxes!C5", "four times"}}},
		{"a total that agrees", one("Boxes", heads, sound, []any{"Total", 6}), nil},
		{"a total without a word", one("Boxes", heads, sound, []any{nil, 6}), nil},
		{"a box of that name is no total", one("Boxes", heads, box("Box", "Total"), []any{"Total", 6}), nil},
		{"a total that does not", one("Boxes", heads, sound, []any{"Total", 7}), []finding{{orders.Warning, "Boxes!B3", "add up to 6"}}},
		{"headings again after a page", one("Boxes", heads, sound, heads, sound), nil},
		{"a note between lines", one("Boxes", heads, sound, []any{"For the second stall:"}, sound), nil},
		{"a remark in two cells", one("Boxes", heads, sound, []any{"Signed", "J. Larkspur"}), []finding{{orders.Warning, "Boxes!A3", "remark"}}},
		{"a hidden row", one("Boxes", heads, sound).edited(func(f *excelize.File) error { return f.SetRowVisible("Boxes", 2, false) }), []finding{{orders.Warning, "Boxes!A2", "hidden"}}},
		{"a hidden column", one("Boxes", heads, sound).edited(func(f *excelize.File) error { return f.SetColVisible("Boxes", "C", false) }), []finding{{orders.Warning, "Boxes!C1", "hidden"}}},
		{"a wood merged over two rows", one("Boxes", heads, sound, box("Wood", nil)).edited(func(f *excelize.File) error { return f.MergeCell("Boxes", "H2", "H3") }), nil},
		{"a heading that may mean two", one("Boxes", []any{"Box", "Count", "Length", "Depth", "D", "Measured", "Thickness", "Wood"}, sound), []finding{
			{orders.Error, "Boxes!D1", "Width or Height"}, {orders.Error, "Boxes!E1", "Width or Height"}, {orders.Error, "Boxes!A1", "no column Width"}, {orders.Error, "Boxes!A1", "no column Height"}}},
		{"one that may mean only one", one("Boxes", []any{"Box", "Count", "Length", "Width", "Depth", "Measured", "Thickness", "Wood"}, sound), []finding{{orders.Warning, "Boxes!E1", "read as Height"}}},
		{"two headings of one column", one("Boxes", append([]any{"Count"}, heads[1:]...), sound), []finding{
			{orders.Error, "Boxes!B1", "two headings"}, {orders.Error, "Boxes!A2", "count"}}},
		{"a title in another unit", one("Boxes", []any{"All sizes in mm"}, heads, sound), []finding{{orders.Error, "Boxes!A1", "names a unit"}}},
		{"walls thicker than the box", one("Boxes", heads, box("Thickness", 5)), []finding{{orders.Error, "Boxes!G2", "no room"}}},
		{"a bottom in the wrong unit", one("Boxes", append(heads, "Bottom"), append(box("Notes", "x"), "groove 6 birch ply")), []finding{{orders.Error, "Boxes!J2", "thick"}}},
		{"a date that may be two", one("Boxes", append(heads, "Due"), append(box("Notes", "x"), "5/6/2027")), []finding{{orders.Error, "Boxes!J2", "this date is"}}},
		{"no headings", one("Boxes", []any{1, 2, 3}), []finding{{orders.Error, "Boxes!A1", "headings"}}},
		{"a class turned into a date", one("Rack", boarded, []any{"R1", 1, "oak", "9/4", nil, 96, 6}), []finding{{orders.Error, "Rack!D2", "unknown"}}},
		{"a board without a thickness", one("Rack", boarded, []any{"R1", 1, "oak", nil, nil, 96, 6}), []finding{{orders.Error, "Rack!E2", "class and thickness are both missing"}}},
		{"a dash among fractions in a defect", one("Rack", boarded, []any{"R1", 1, "oak", "4/4", nil, 96, 6, nil, "1-1/2-3"}), []finding{{orders.Error, "Rack!I2", "is missing"}}},
		{"a defect beyond the board", one("Rack", boarded, []any{"R1", 1, "oak", "4/4", nil, 96, 6, nil, "100 to 102"}), []finding{{orders.Error, "Rack!I2", "outside"}}},
		{"a defect the wrong way round", one("Rack", boarded, []any{"R1", 1, "oak", "4/4", nil, 96, 6, nil, "22 to 18"}), []finding{{orders.Error, "Rack!I2", "before"}}},
		{"a setting nobody knows", one("Boxes", heads, sound).and("Shop", []any{"Setting", "Value"}, []any{"Blad kerf", 1}), []finding{{orders.Warning, "Shop!A2", "Blade kerf"}}},
		{"a setting that cannot be", one("Boxes", heads, sound).and("Shop", []any{"Setting", "Value"}, []any{"Blade kerf", "wide"}), []finding{{orders.Error, "Shop!B2", "not Blade kerf"}}},
		{"seconds written as minutes", one("Boxes", heads, sound).and("Shop", []any{"Setting", "Value", "Unit"}, []any{"Sanding", 12, "min"}), []finding{{orders.Error, "Shop!C2", "always in s"}}},
	}
	for _, c := range cases {
		t.Run(c.why, func(t *testing.T) { checkFindings(t, c.book.read(t).Findings, c.want) })
	}
}

// Fifty lines with one error each: fifty are reported, each with its cell, what
// was read and what to do, and the sound lines between them are still read.
func TestFiftyErrorsAtOnce(t *testing.T) {
	rows := [][]any{heads}
	var want []finding
	bad := []struct {
		column string
		value  any
	}{{"Count", "some"}, {"Length", "1O"}, {"Width", "8 by 4"}, {"Height", "tall"}, {"Measured", "perhaps"}}
	for i := range 50 {
		b := bad[i%len(bad)]
		rows = append(rows, box(b.column, b.value), sound)
		want = append(want, finding{orders.Error, fmt.Sprintf("Boxes!%s%d", columnName(2+i%len(bad)), 2*i+2), fmt.Sprint(b.value)})
	}
	order := one("Boxes", rows...).read(t)
	checkFindings(t, order.Findings, want)
	if len(order.Boxes) != 50 {
		t.Errorf("%d sound lines read, want 50", len(order.Boxes))
	}
}

func TestLineIsUnderstood(t *testing.T) {
	order := one("Boxes",
		[]any{"Name", "Qty", "Inside length (mm)", "Inside width, mm", "Internal height mm", "Thickness", "End thk", "Species", "Finger", "Height tolerance", "Base", "Lid", "Compartments", "Grain", "Finish", "Client", "Due", "Price", "Quantities", "Notes"},
		[]any{"Tea", "6+1 spare", 300, "8 in", "8.9 cm", "1/2", "5/8", "Black Walnut", "1/4", "±1/8", "groove, 1/4, birch plywood", "sliding", "2 x 3", "matched", "oil", "Larkspur", "5 Dec 2026", "$42.50", "10; 25; 50", "no knots!"}).read(t)
	if order.HasErrors() || len(order.Boxes) != 1 {
		t.Fatalf("problems: %+v", order.Findings)
	}
	b := order.Boxes[0]
	want := orders.Box{Source: orders.Source{Sheet: "Boxes", Cell: "A2"}, Name: "Tea", Count: 7, Spare: 1, Inside: true,
		Length: 300 * measure.Millimetre, Width: 8 * measure.Inch, Height: 89 * measure.Millimetre,
		Thickness: measure.Inch / 2, EndThickness: measure.Inch * 5 / 8, Wood: "walnut", Finger: measure.Inch / 4, HeightMayVary: measure.Inch / 8,
		Bottom: orders.Bottom{Kind: orders.GrooveBottom, Thickness: measure.Inch / 4, Wood: "birch ply"}, Lid: orders.Lid{Kind: orders.SlidingLid},
		Dividers: orders.Dividers{Along: 2, Across: 3}, Matched: true, Finish: "oil", Customer: "Larkspur",
		Due: time.Date(2026, 12, 5, 0, 0, 0, 0, time.UTC), Price: 4250, Notes: "no knots!"}
	if fmt.Sprint(b.Quantities) != "[10 25 50]" {
		t.Errorf("quantities = %v", b.Quantities)
	}
	b.Quantities = nil
	if fmt.Sprintf("%+v", b) != fmt.Sprintf("%+v", want) {
		t.Errorf("read\n%+v, want\n%+v", b, want)
	}
}

func TestBoardsAreUnderstood(t *testing.T) {
	order := one("Yard",
		[]any{"Board", "Count", "Wood", "Class", "Thickness", "Length", "Width", "Price per board foot", "Defects", "Arrives"},
		[]any{"A", nil, "walnut", "4/4", nil, "8'", "6 1/2", 9.5, "18 to 22; 40-43 across 0 to 1 1/2", "2026-12-05"}).
		and("Rack", []any{"Board", "Count", "Wood", "Thickness", "Length", "Width", "Cost per m2"},
			[]any{"P", 2, "Baltic birch", "6 mm", "1525 mm", "1525 mm", "18.00"}).read(t)
	if len(order.Findings) != 0 || len(order.Yard) != 1 || len(order.Rack) != 1 || !order.HasRack || !order.HasYard {
		t.Fatalf("order: %+v", order)
	}
	y, r := order.Yard[0], order.Rack[0]
	// 6.5 in x 8 ft x 4/4 is 13/3 board feet; at 9.50 that is 41.1667.
	if !y.Unlimited || y.Class != "4/4" || y.Cost != 4117 || !y.CostKnown || y.Arrives.Day() != 5 || len(y.Defects) != 2 {
		t.Errorf("yard board: %+v", y)
	}
	if d := y.Defects; d[0] != (orders.Defect{X: 18 * measure.Inch, Length: 4 * measure.Inch, Width: y.Width}) || d[1] != (orders.Defect{X: 40 * measure.Inch, Length: 3 * measure.Inch, Width: measure.Inch * 3 / 2}) {
		t.Errorf("defects: %+v", d)
	}
	// 1.525 m squared is 2.325625 m2; at 18.00 that is 41.86125.
	if r.Cost != 4186 || r.Wood != "birch ply" || !r.Sheet || r.Count != 2 {
		t.Errorf("rack board: %+v", r)
	}
}

// Numeric cells hold binary fractions; what counts is what a spreadsheet shows.
func TestNumbersAreReadAtFifteenDigits(t *testing.T) {
	for _, c := range []struct {
		value float64
		want  measure.Length
	}{{0.0955, measure.Inch * 955 / 10_000}, {12.375, measure.Inch * 99 / 8}, {0.1 + 0.2, measure.Inch * 3 / 10}, {88.9 / 25.4, measure.Inch * 7 / 2}, {1e-4, measure.Inch / 10_000}} {
		order := one("Boxes", append(heads, "Finger"), append(box("Notes", "x"), c.value)).read(t)
		if order.HasErrors() || order.Boxes[0].Finger != c.want {
			t.Errorf("%v: %+v", c.value, order.Findings)
		}
	}
}

func TestEveryCellIsListed(t *testing.T) {
	book := one("Boxes", []any{"An order"}, append(heads, "Mystery"), append(box("Length", "1O"), "?"), sound, []any{"a note"}, []any{"Total", 12})
	order := book.read(t)
	listed := map[string]bool{}
	for _, r := range order.Readings {
		if listed[r.Source.String()] {
			t.Errorf("%s is listed twice", r.Source)
		}
		listed[r.Source.String()] = true
		if r.Meaning == "" && r.Heading != "heading" {
			t.Errorf("%s has no meaning", r.Source)
		}
	}
	for r, row := range book.rows["Boxes"] {
		for c, v := range row {
			if at := "Boxes!" + cellName(c+1, r+1); v != nil && !listed[at] {
				t.Errorf("%s is not listed", at)
			}
		}
	}
}

func TestOtherProgramsWorkbooks(t *testing.T) {
	data, err := os.ReadFile("testdata/libreoffice.xlsx")
	if err != nil {
		t.Fatal(err)
	}
	order, err := Read("libreoffice.xlsx", data, settings.Default())
	if err != nil || order.HasErrors() || len(order.Boxes) != 3 {
		t.Fatalf("err %v, %+v", err, order)
	}
	b := order.Boxes
	if b[0].Count != 6 || b[0].Length != 12*measure.Inch || b[1].Count != 12 || b[2].Count != 4 || b[2].Length != b[1].Length || b[2].Height != measure.Inch*30955/10_000 {
		t.Errorf("boxes: %+v", b)
	}
	for file, says := range map[string]string{"testdata/libreoffice.ods": ".ods", "testdata/libreoffice.xls": "old .xls"} {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		_, err = Read(file, data, settings.Default())
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v, want it to say %q", file, err, says)
		}
	}
}

func TestLists(t *testing.T) {
	const lines = "Box,Count,Length,Width,Height,Measured,Thickness,Wood\nTea,6,12,8,3 3/8,outside,1/2,cherry\nSpice,2,10,8,3½,outside,1/2,\"\n"
	wide := func(order string) []byte {
		var out []byte
		for _, r := range lines {
			if order == "big" {
				out = append(out, byte(r>>8), byte(r))
			} else {
				out = append(out, byte(r), byte(r>>8))
			}
		}
		return out
	}
	swap := func(mark string) []byte { return []byte(strings.ReplaceAll(lines, ",", mark)) }
	comma := strings.NewReplacer(",", ";", "12", "12,5").Replace(lines)
	cases := []struct {
		why    string
		data   []byte
		length string
	}{
		{"commas", []byte(lines), "12"},
		{"semicolons", swap(";"), "12"},
		{"tabs", swap("\t"), "12"},
		{"bars", swap("|"), "12"},
		{"a byte order mark", append([]byte("\xEF\xBB\xBF"), lines...), "12"},
		{"a first line that names the mark", append([]byte("sep=;\n"), swap(";")...), "12"},
		{"carriage returns", []byte(strings.ReplaceAll(lines, "\n", "\r\n")), "12"},
		{"only carriage returns", []byte(strings.ReplaceAll(lines, "\n", "\r")), "12"},
		{"Windows-1252", []byte(strings.ReplaceAll(lines, "½", "\xBD")), "12"},
		{"UTF-16, marked", append([]byte{0xFF, 0xFE}, wide("little")...), "12"},
		{"UTF-16 the other way", append([]byte{0xFE, 0xFF}, wide("big")...), "12"},
		{"UTF-16 without a mark", wide("little"), "12"},
		{"decimal commas", []byte(comma), "12.5"},
		{"quoted fields", []byte(strings.Replace(lines, "Tea,", "\"Tea, large\",", 1)), "12"},
	}
	for _, c := range cases {
		order, err := Read("list.csv", c.data, settings.Default())
		if err != nil || order.HasErrors() || len(order.Boxes) != 2 {
			t.Errorf("%s: err %v, %+v", c.why, err, order)
			continue
		}
		b := order.Boxes
		if b[0].Length.DecimalInches() != c.length || b[1].Wood != "cherry" || b[1].Height != measure.Inch*7/2 {
			t.Errorf("%s: %+v", c.why, b)
		}
	}
}

func TestCounts(t *testing.T) {
	for text, want := range map[string]tally{
		"12": {12, 0}, "12.0": {12, 0}, "1 doz": {12, 0}, "2 dozen": {24, 0}, "1/2 doz": {}, "a dozen": {12, 0}, "2 pr": {4, 0}, "3 pairs": {6, 0}, "6+1 spare": {6, 1}, "6 + 2 spares": {6, 2}, "6+1": {6, 1},
		"12 pcs": {12, 0}, "12 ea.": {12, 0}, "x4": {4, 0}, "4x": {4, 0}, "1,200": {1200, 0}, "1 doz + 1 spare": {12, 1},
		"": {}, "0": {}, "-3": {}, "3.5": {}, "some": {}, "3 or 4": {}, "6+half": {}, "1,2": {}, "99999999999": {}, "2x3": {}, "6+1 lid": {}, "1O": {},
	} {
		got, err := parseCount(text, false)
		if (err == nil) != (want.make > 0) || err == nil && got != want {
			t.Errorf("parseCount(%q) = %+v, %v, want %+v", text, got, err, want)
		}
	}
}

func TestDates(t *testing.T) {
	for text, want := range map[string]string{
		"2026-12-05": "2026-12-05", "5 Dec 2026": "2026-12-05", "December 5, 2026": "2026-12-05", "5th December 2026": "2026-12-05", "05.12.2026": "2026-12-05", "12/25/2026": "2026-12-25", "25/12/2026": "2026-12-25", "3/3/2027": "2027-03-03", "Sat 5 Dec 2026": "2026-12-05",
		"5/6/2027": "", "3/8": "", "31/31/2026": "", "soon": "", "1926-01-01": "", "2026-02-30": "", "": "",
	} {
		got, err := measure.ParseDate(text, measure.AnyDates)
		if (err == nil) != (want != "") || err == nil && got.Format("2006-01-02") != want {
			t.Errorf("parseDate(%q) = %v, %v, want %q", text, got, err, want)
		}
	}
}

// Day 46089 is 8 March 2026, and 1462 days less where days count from 1904
// (ECMA-376 part 1, 18.17.4.1).
func TestDayNumbers(t *testing.T) {
	for _, c := range []struct {
		day  float64
		from bool
		want string
	}{{46089, false, "2026-03-08"}, {46089 - 1462, true, "2026-03-08"}, {1, false, "1900-01-01"}, {61, false, "1900-03-01"}, {0, true, "1904-01-01"}} {
		if got := dateOfSerial(c.day, c.from).Format("2006-01-02"); got != c.want {
			t.Errorf("day %v is %s, want %s", c.day, got, c.want)
		}
	}
}

func TestBlankReadsBackClean(t *testing.T) {
	for name, kind := range map[string]struct {
		blank           func(measure.Unit) ([]byte, error)
		boxes, possible int
	}{"order": {Blank, 1, 0}, "catalog": {BlankCatalog, 0, 2}} {
		for _, unit := range []measure.Unit{measure.Inches, measure.Millimetres} {
			data, err := kind.blank(unit)
			if err != nil {
				t.Fatal(err)
			}
			order, err := Read("blank.xlsx", data, settings.Default())
			if err != nil || len(order.Findings) != 0 || len(order.Boxes) != kind.boxes || len(order.Candidates) != kind.possible || order.HasRack || order.HasShop != unit.Metric() || order.Settings.Units != unit {
				t.Errorf("%s in %s: err %v, %+v", name, unit, err, order)
			}
			again, err := kind.blank(unit)
			if err != nil || !bytes.Equal(data, again) {
				t.Errorf("a second blank %s differs: %d and %d bytes, %v", name, len(again), len(data), err)
			}
		}
	}
}

// The worked lines of a blank catalog say what they show: three guesses and
// two woods, and a likely number alone with boxes that are there.
func TestBlankCatalogShowsBothWays(t *testing.T) {
	data, err := BlankCatalog(measure.Inches)
	if err != nil {
		t.Fatal(err)
	}
	order, err := Read("blank.xlsx", data, settings.Default())
	if err != nil || len(order.Candidates) != 2 {
		t.Fatalf("%v, %+v", err, order)
	}
	tea, pencil := order.Candidates[0], order.Candidates[1]
	if tea.Low != 2 || tea.Likely != 4 || tea.High != 8 || len(tea.Woods) != 2 || tea.Price != 88_00 || tea.Height != 27*measure.Inch/8 {
		t.Errorf("%+v", tea)
	}
	if pencil.Likely != 6 || pencil.High != 0 || pencil.Made != 1 || pencil.HalfMade != 2 || pencil.Bottom.Kind != orders.NailedBottom {
		t.Errorf("%+v", pencil)
	}
}
