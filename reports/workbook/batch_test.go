package workbook_test

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"

	"batchwright/jigplan"
	"batchwright/jigplan/plan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/reports/workbook"
)

var show = flag.String("show", "", "folder that gets the workbooks, to look at")

const in = measure.Inch

// shop is an order of an invented shop: four sizes of box and a rack with a
// few knots.
func shop() *orders.Order {
	s := settings.Default()
	o := &orders.Order{File: "Alder Lane, week 12.xlsx", SHA256: "00", Settings: s, HasRack: true}
	box := func(row, name string, n int, l, w, h, t measure.Length, more func(*orders.Box)) {
		b := orders.Box{Source: orders.Source{Sheet: "Boxes", Cell: "B" + row}, Name: name, Count: n, Length: l, Width: w, Height: h,
			Thickness: t, EndThickness: t, Wood: "walnut", Finger: in / 4,
			Bottom: orders.Bottom{Kind: orders.NoBottom}, Lid: orders.Lid{Kind: orders.NoLid}}
		if more != nil {
			more(&b)
		}
		o.Boxes = append(o.Boxes, b)
	}
	box("7", "Caddy", 4, 10*in, 7*in, 4*in+in/2, in/2, func(b *orders.Box) {
		b.Matched, b.Finish, b.Notes, b.Customer = true, "oil", "no knots on the front!", "Marrow & Pike"
		b.Bottom = orders.Bottom{Kind: orders.GrooveBottom}
		b.Due = time.Date(2026, 12, 4, 0, 0, 0, 0, time.UTC)
	})
	box("8", "Tray", 6, 12*in, 8*in, 3*in+3*in/8, in/2, nil)
	box("9", "Stamp box", 8, 8*in, 6*in, 2*in+in/4, 3*in/8, func(b *orders.Box) { b.Spare = 1 })
	box("10", "Tool till", 2, 16*in, 9*in, 5*in, in/2, func(b *orders.Box) { b.Finger = in / 2; b.Wood = "ash" })
	for i, id := range []string{"R1", "R2", "R3", "R4", "R5", "R6", "R7", "R8", "R9", "R10", "R11", "R12"} {
		b := orders.Board{ID: id, Origin: orders.FromRack, Count: 1, Wood: "walnut", Class: "4/4", Place: "north wall",
			Length: measure.Length(60+4*(i%5)) * in, Width: measure.Length(6+i%3) * in, Cost: 2000, CostKnown: true}
		if i%2 == 0 {
			b.Defects = []orders.Defect{{X: 20 * in, Y: 0, Length: 2 * in, Width: 2 * in}}
		}
		o.Rack = append(o.Rack, b)
	}
	o.Rack = append(o.Rack, orders.Board{ID: "A1", Origin: orders.FromRack, Count: 2, Wood: "ash", Class: "4/4", Length: 72 * in, Width: 6 * in, Cost: 1400, CostKnown: true})
	for _, b := range o.Boxes {
		o.Readings = append(o.Readings,
			orders.Reading{Source: b.Source, Heading: "Count", Text: "4", Meaning: "4 boxes"},
			orders.Reading{Source: orders.Source{Sheet: "Boxes", Cell: "C" + b.Source.Cell[1:]}, Heading: "Length", Text: b.Length.Fraction(), Meaning: b.Length.ShowUnit(measure.Inches) + " = " + b.Length.ShowUnit(measure.Millimetres)})
	}
	o.Findings = []orders.Finding{{Level: orders.Warning, Source: orders.Source{Sheet: "Boxes", Cell: "J8"}, Read: "wallnut", Did: "is taken as walnut", Fix: "write walnut"}}
	return o
}

// Planning takes longer than writing: each plan is made once.
var (
	shopPlan = sync.OnceValues(func() (*jigplan.Plan, error) {
		return plan.Plan(shop(), plan.Options{Limits: nesting.Limits{Seed: 1}})
	})
	metricPlan = sync.OnceValues(func() (*jigplan.Plan, error) {
		p, err := plan.Plan(metric(), plan.Options{Limits: nesting.Limits{Seed: 1}})
		if err == nil {
			p.Partial = true
		}
		return p, err
	})
)

func once[T any](t testing.TB, make func() (T, error)) T {
	t.Helper()
	made, err := make()
	if err != nil {
		t.Fatal(err)
	}
	return made
}

func planned(t testing.TB, o *orders.Order) *jigplan.Plan {
	t.Helper()
	p, err := plan.Plan(o, plan.Options{Limits: nesting.Limits{Seed: 1}})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func written(t testing.TB, p *jigplan.Plan, name string) []byte {
	t.Helper()
	data, err := workbook.Batch(p)
	if err != nil {
		t.Fatal(err)
	}
	save(t, name, data)
	return data
}

func TestSamePlanSameBytes(t *testing.T) {
	p := once(t, shopPlan)
	first := written(t, p, "shop.xlsx")
	for range 2 {
		if again := written(t, p, "shop.xlsx"); !bytes.Equal(first, again) {
			t.Fatal("two workbooks of one plan differ")
		}
	}
}

// metric is the same shop measuring in millimetres, with a rod of M10, a wheel
// of four stops, boards bought at a yard, and lines that cannot be made.
func metric() *orders.Order {
	o := shop()
	o.File = "Erlenweg.xlsx"
	must := func(err error) {
		if err != nil {
			panic(err)
		}
	}
	set := func(name, value string) {
		must(o.Settings.Set(name, value, settings.Entry{Source: orders.Source{Sheet: "Shop", Cell: "B" + name[:1]}}))
	}
	set("Units", "mm")
	set("Rod", "M8x1.25")
	set("Stops per turn", "4")
	set("Blade kerf", "2.4 mm")
	set("Fit at most", "0.15 mm")
	const mm = measure.Millimetre
	for i := range o.Boxes {
		b := &o.Boxes[i]
		b.Finger, b.Length, b.Width, b.Height = 6*mm, 300*mm, 200*mm, 105*mm
		b.Thickness, b.EndThickness = 12*mm, 12*mm
	}
	o.Boxes[2].Length = 4000 * mm // longer than any board
	o.Rack, o.HasRack = nil, false
	return o
}

// wicked is the shop's plan with text in every field that a spreadsheet could
// take for a formula, or that breaks a file.
func wicked(t testing.TB) *jigplan.Plan {
	p := *once(t, shopPlan)
	o := *p.Order
	o.File = `=cmd|' /C calc'!A0 & "x" [1]*.xlsx`
	o.Boxes = slices.Clone(o.Boxes)
	o.Boxes[0].Name, o.Boxes[0].Notes, o.Boxes[0].Customer = "=1+1", "+2\x00\x01 & <b>", "@SUM(A1:A9)"
	o.Boxes[1].Name, o.Boxes[1].Notes = "-3", strings.Repeat("long ", 8000)
	o.Boxes[2].Name = "😀 'box' _x0041_ "
	o.Readings = append(slices.Clone(o.Readings), orders.Reading{Source: orders.Source{Sheet: "Boxes", Cell: "Z9"}, Heading: "Notes", Text: "=HYPERLINK(\"http://a\")", Meaning: "-1"})
	p.Order = &o
	p.Parts = slices.Clone(p.Parts)
	for i := range p.Parts {
		p.Parts[i].ID, p.Parts[i].Wood = "@"+p.Parts[i].ID, "=wood"
	}
	return &p
}

func TestWickedTextStaysText(t *testing.T) {
	data := written(t, wicked(t), "wicked.xlsx")
	f := opened(t, data)
	texts, lines := map[string]bool{}, map[string]bool{}
	for _, sheet := range f.GetSheetList() {
		rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		for r, row := range rows {
			for c, text := range row {
				cell, _ := excelize.CoordinatesToCellName(c+1, r+1)
				if formula, _ := f.GetCellFormula(sheet, cell); formula != "" {
					t.Errorf("%s!%s holds the formula %q", sheet, cell, formula)
				}
				if n := len(utf16.Encode([]rune(text))); n > 32767 {
					t.Errorf("%s!%s holds %d characters", sheet, cell, n)
				}
				texts[text] = true
				for line := range strings.SplitSeq(text, "\n") {
					lines[line] = true
				}
			}
		}
	}
	for _, want := range []string{"=1+1", "-3", "=HYPERLINK(\"http://a\")", "😀 'box' _x0041_ "} {
		if !texts[want] && !lines[want] {
			t.Errorf("no cell reads %q", want)
		}
	}
}

// Every sheet of the contract stands in its place, and the names differ.
func TestSheetsInOrder(t *testing.T) {
	data := written(t, once(t, shopPlan), "shop.xlsx")
	f := opened(t, data)
	want := []string{"Summary", "Buy", "Parts", "Boards", "Setups", "Jig J1", "Jig J2", "Jig J3", "Making", "Time", "Cautions", "As read"}
	if got := f.GetSheetList(); !slices.Equal(got, want) {
		t.Errorf("sheets %q, want %q", got, want)
	}
}

func BenchmarkBatch(b *testing.B) {
	o := shop()
	for i := range o.Boxes {
		o.Boxes[i].Count *= 100
	}
	for i := range o.Rack {
		o.Rack[i].Count = 200
	}
	p := planned(b, o)
	b.ReportMetric(float64(len(p.Parts)), "parts")
	b.ReportMetric(float64(len(p.Layout.Boards)), "boards")
	b.ResetTimer()
	for b.Loop() {
		data := written(b, p, "large.xlsx")
		b.ReportMetric(float64(len(data)), "bytes")
	}
}

// The card of one program alone, as the command for one joint writes it; an
// uneven pattern must be as readable as an even one.
func TestCardAlone(t *testing.T) {
	p := patternProgram("J2")
	s := settings.Default()
	data, err := workbook.Card(&p, nil, &s, "joint 1/4 in, 3 in high")
	if err != nil {
		t.Fatal(err)
	}
	save(t, "card.xlsx", data)
	text := dump(t, data)
	for _, want := range []string{
		"1 | 2 | ½ | ½ | 6 | 1/32 | 7½ | ☐",             // two cuts half a turn apart, then 7½
		"2 | 5 | 1, 1, 1, ½ | 11½ | 6 | 23/32 | 6½ | ☐", // unequal steps are written out
		"Wind back | 19½", // what goes forward comes back
		"! the last slot is 1/64 in wider than its pin", // the program's own warnings
		"row A alone, at the stop, no spacer; card J3 cuts its mates",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the card lacks %q", want)
		}
	}
	if t.Failed() {
		t.Log(text)
	}
}

func TestProblemsWorkbook(t *testing.T) {
	o := wicked(t).Order
	o.Findings = append(o.Findings, orders.Finding{Level: orders.Error, Source: orders.Source{Sheet: "Boxes", Cell: "C9"}, Read: "=A1", Did: "is no length", Fix: "write a length such as 12 1/2"})
	data, err := workbook.Problems(o)
	if err != nil {
		t.Fatal(err)
	}
	save(t, "problems.xlsx", data)
	text := dump(t, data)
	if !strings.Contains(text, "error | Boxes!C9 | =A1 | is no length | write a length such as 12 1/2") {
		t.Errorf("the error is not told:\n%s", text[:500])
	}
	if strings.Index(text, "error | Boxes!C9") > strings.Index(text, "warning | Boxes!J8") {
		t.Error("a warning stands before an error")
	}
}

func save(t testing.TB, name string, data []byte) {
	t.Helper()
	if *show != "" {
		if err := os.WriteFile(filepath.Join(*show, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// Three hundred boards, no two cut alike: every one is drawn.
func BenchmarkDistinctBoards(b *testing.B) {
	p := handPlan()
	first := p.Layout.Boards[0]
	p.Layout.Boards = nil
	for i := range 300 {
		board := first
		board.ID = fmt.Sprintf("R%d", i)
		board.Stock.Defects = []orders.Defect{{X: 40 * in, Length: measure.Length(i+1) * in / 64, Width: in}}
		p.Layout.Boards = append(p.Layout.Boards, board)
	}
	for b.Loop() {
		written(b, p, "distinct.xlsx")
	}
}
