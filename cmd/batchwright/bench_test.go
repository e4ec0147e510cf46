package main

import (
	"fmt"
	"math/rand/v2"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/xuri/excelize/v2"
)

// The whole command, from process start to the workbook on disk: time an
// operation, and the most memory any of them took. Goals: the demo under 2 s
// and 150 MB with --think 1s; 1,000 boxes (8,000 parts, 300 boards) under 30 s
// and 600 MB; checking 10,000 rows under 4 s and 250 MB.

func BenchmarkPlanDemo(b *testing.B) {
	measureCommand(b, "plan", "../../testdata/orders/demo.xlsx", "--think", "1s", "--quiet", "-o", filepath.Join(b.TempDir(), "out.xlsx"))
}

func BenchmarkPlanThousandBoxes(b *testing.B) {
	order := bigOrder(b, 50, 20, 300)
	measureCommand(b, "plan", order, "--think", "15s", "--quiet", "-o", filepath.Join(b.TempDir(), "out.xlsx"))
}

func BenchmarkCheckTenThousandRows(b *testing.B) {
	order := bigOrder(b, 10_000, 1, 10)
	measureCommand(b, "check", order, "--quiet")
}

// Thirty boxes, half of them in two woods, sixty boards: the goal is 15 s.
func BenchmarkFairThirtyBoxes(b *testing.B) {
	measureCommand(b, "fair", bigCatalog(b, 30, 60), "--from", "2027-03-29", "--quiet", "-o", filepath.Join(b.TempDir(), "out.xlsx"))
}

// measureCommand runs the real program; exit status 3 (something could not be
// made) is a plan like any other.
func measureCommand(b *testing.B, args ...string) {
	b.Helper()
	program := filepath.Join(b.TempDir(), "batchwright")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	var most int64
	for b.Loop() {
		cmd := exec.Command(program, args...)
		out, err := cmd.CombinedOutput()
		if err != nil && cmd.ProcessState.ExitCode() != exitIncomplete {
			b.Fatalf("%v\n%s", err, out)
		}
		most = max(most, peakMemory(cmd.ProcessState))
	}
	if most > 0 {
		b.ReportMetric(float64(most)/(1<<20), "peak-MB")
	}
	b.ReportMetric(float64(runtime.NumCPU()), "cores")
}

// bigOrder writes lines of boxes with a bottom, a lid and two dividers, so that
// each box has eight parts, and a rack of boards with defects.
func bigOrder(b *testing.B, lines, count, boards int) string {
	b.Helper()
	random := rand.New(rand.NewPCG(1, 2))
	book := excelize.NewFile()
	defer book.Close()
	rows := func(sheet string, head []any, n int, row func(i int) []any) {
		if _, err := book.NewSheet(sheet); err != nil {
			b.Fatal(err)
		}
		for i := range n + 1 {
			cells := head
			if i > 0 {
				cells = row(i)
			}
			if err := book.SetSheetRow(sheet, fmt.Sprintf("A%d", i+1), &cells); err != nil {
				b.Fatal(err)
			}
		}
	}
	woods := []string{"walnut", "cherry", "maple"}
	rows("Boxes", []any{"Box", "Count", "Length", "Width", "Height", "Measured", "Thickness", "Wood", "Finger", "Bottom", "Lid", "Dividers"}, lines, func(i int) []any {
		length := 8 + random.IntN(8)
		return []any{fmt.Sprintf("Box %d", i), count, length, 5 + random.IntN(length-6), []string{"2-1/4", "3", "3-3/8", "4-1/2"}[random.IntN(4)],
			"outside", []string{"3/8", "1/2"}[random.IntN(2)], woods[random.IntN(3)], "1/4", "groove 1/4 birch plywood", "lift-off 1/4 birch plywood", "2 x 2"}
	})
	rows("Rack", []any{"Board", "Count", "Wood", "Class", "Length", "Width", "Cost", "Defects"}, boards, func(i int) []any {
		length := 60 + random.IntN(60)
		at := 10 + random.IntN(length-20)
		return []any{fmt.Sprintf("R%d", i), 1, woods[i%3], "4/4", length, 5 + random.IntN(6), 10 + random.IntN(40), fmt.Sprintf("%d to %d across 0 to 2", at, at+2)}
	})
	rows("Yard", []any{"Board", "Wood", "Class", "Thickness", "Length", "Width", "Price"}, 4, func(i int) []any {
		if i == 4 {
			return []any{"sheet", "birch plywood", "", "1/4", 96, 48, 38}
		}
		return []any{"yard " + woods[i-1], woods[i-1], "4/4", "", 96, 8, 42}
	})
	if err := book.DeleteSheet("Sheet1"); err != nil {
		b.Fatal(err)
	}
	path := filepath.Join(b.TempDir(), "big.xlsx")
	if err := book.SaveAs(path); err != nil {
		b.Fatal(err)
	}
	return path
}

// bigCatalog writes boxes of all sizes with what they may sell for and how
// often, and a rack.
func bigCatalog(b *testing.B, boxes, boards int) string {
	b.Helper()
	random := rand.New(rand.NewPCG(3, 4))
	f := excelize.NewFile()
	defer f.Close()
	sheet := func(name string, rows [][]any) {
		if _, err := f.NewSheet(name); err != nil {
			b.Fatal(err)
		}
		for r := range rows {
			if err := f.SetSheetRow(name, fmt.Sprintf("A%d", r+1), &rows[r]); err != nil {
				b.Fatal(err)
			}
		}
	}
	woods := []string{"cherry", "maple", "walnut"}
	catalog := [][]any{{"Box", "Length", "Width", "Height", "Measured", "Thickness", "Wood", "Woods", "Finger", "Bottom", "Finish", "Price", "Sells low", "Sells likely", "Sells high", "Made"}}
	for i := range boxes {
		length, width, likely := 7+random.IntN(8), 4+random.IntN(3), 2+random.IntN(5)
		both := ""
		if i%2 == 0 {
			both = woods[i%3] + "; " + woods[(i+1)%3]
		}
		catalog = append(catalog, []any{fmt.Sprintf("Box %d", i+1), length, width, 2 + random.IntN(3), "outside", "1/2", woods[i%3], both, "1/4",
			"groove 1/4 birch plywood", "oil", 20 + 3*length + random.IntN(30), random.IntN(2), likely, likely + 1 + random.IntN(7), random.IntN(2)})
	}
	sheet("Catalog", catalog)
	rack := [][]any{{"Board", "Count", "Wood", "Class", "Thickness", "Length", "Width", "Cost"}}
	for i := range boards {
		if i%5 == 4 {
			rack = append(rack, []any{fmt.Sprintf("P%d", i), 1, "birch plywood", "", "1/4", 48, 24, 19})
			continue
		}
		rack = append(rack, []any{fmt.Sprintf("R%d", i), 1, woods[i%3], "4/4", "", 60 + random.IntN(60), 5 + random.IntN(5), 20 + random.IntN(40)})
	}
	sheet("Rack", rack)
	sheet("Shop", [][]any{{"Setting", "Value"}, {"Blade kerf", 0.0955}, {"Fair date", "2027-04-17"}, {"Booth fee", 120}, {"Booth holds", 90}, {"Vehicle holds", 900}, {"Labor rate", 30}, {"Clamps", 32}, {"Unsold worth", 50}})
	if err := f.DeleteSheet("Sheet1"); err != nil {
		b.Fatal(err)
	}
	path := filepath.Join(b.TempDir(), "catalog.xlsx")
	if err := f.SaveAs(path); err != nil {
		b.Fatal(err)
	}
	return path
}
