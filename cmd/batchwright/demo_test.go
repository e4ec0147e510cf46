package main

import (
	"bytes"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
)

// The orders in testdata/orders are written here, so that what they hold can be
// read and changed as text: go test ./cmd/batchwright -run Orders -update-orders
var updateOrders = flag.Bool("update-orders", false, "write the workbooks of testdata/orders anew")

const ordersFolder = "../../testdata/orders"

// orderBook is a workbook as somebody might have made it.
type orderBook struct {
	file    string
	sheets  []orderSheet
	foreign bool // saved by LibreOffice, so that it is another program's file
}

type orderSheet struct {
	name   string
	rows   [][]any // nil: an empty cell
	merged []string
	hidden []int
	widths map[string]float64
}

// demo is the spring order book of the Larkbeck Box Shop, an invented shop: 40
// boxes of nine sizes in three woods, a rack of 25 boards, a yard, and what
// people do to such lists: a title above the headings, ditto marks, a dozen, a
// pair, a spare, a misspelt wood, a hidden row, mixed spellings of lengths, and
// a total.
func demo() orderBook {
	return orderBook{file: "demo.xlsx", sheets: []orderSheet{demoBoxes(), demoParts(), demoRack(), demoYard(), demoShop()}}
}

func demoBoxes() orderSheet {
	walnutDue, schoolDue, marketDue := dueOn(2027, 3, 12), dueOn(2027, 3, 19), dueOn(2027, 4, 2)
	return orderSheet{
		name:   "Boxes",
		merged: []string{"A1:S1"},
		hidden: []int{12},
		widths: map[string]float64{"A": 16, "K": 24, "L": 24, "P": 22, "S": 34},
		rows: [][]any{
			{"Larkbeck Box Shop - spring order book"},
			{"all sizes in inches unless it says otherwise"},
			{},
			{"Item", "Qty", "L", "W", "H", "In/Out", "Thick", "End thick", "Species", "Finger", "Base", "Lid", "Dividers", "Grain match", "Finish", "Client", "Due date", "Price each", "Remarks"},
			{"Tea box", 6, 12, 8, "3-1/2", "outside", "1/2", nil, "walnut", "1/4", "groove 1/4 birch plywood", "sliding 1/4 birch plywood", "3 x 2", "matched", "oil", "Harrow Lane Teas", walnutDue, 64, "best faces out"},
			{"Keepsake", 2, 10, 7, "4 1/2", "outside", "1/2", "3/4", `"`, "1/4", "groove 1/4 birch plywood", "lift-off 1/2", nil, "any", "oil", `"`, `"`, 88, nil},
			{"Recipe box", "5+1 spare", "6½", "4 3/4", 4.5, "outside", "1/2", nil, "Cherry", "1/4", "nailed 1/4 birch plywood", "hinged 1/2", nil, "matched", "shellac", "Orchard House Press", schoolDue, 46, "brass hinges are here"},
			{"Pencil box", "1 doz", `9"`, 4, "2-1/4", "out", "3/8", nil, "ditto", "1/8", "groove 1/4 birch plywood", "sliding 1/4 birch plywood", nil, "any", "wax", "Brook End School", schoolDue, 24, "names are engraved later"},
			{"Card file", 4, "8 3/8", "5-1/4", "3 1/2 in", "inside", "1/2", nil, "mapple", "1/4", "groove 1/4 birch plywood", "none", nil, "any", "oil", "Town library", schoolDue, 38, "must take 8 x 5 cards"},
			{"Spice chest", 3, `1' 2"`, 10, 6, "outside", "1/2", nil, "maple", "1/2", "rabbet 1/4 birch plywood", "sawn-off 1/4 birch plywood", "4 x 3", "any", "oil", "spring fair", marketDue, 115, nil},
			{"Watch tray", "2 pr", 11, 9, "1 11/16", "outside", "3/8", nil, "cherry", "1/8", "nailed 1/4 birch plywood", "none", "4 x 3", "any", "wax", `"`, `"`, 52, nil},
			{"Sample", 1, 6, "4 1/4", 3, "outside", "1/2", nil, "walnut", "1/4", "none", "none", nil, "any", nil, "our own shelf", nil, nil, "show corner for the stand"},
			{"Desk box", 2, "300 mm", "200 mm", "90 mm", "outside", "1/2", nil, "maple", "1/4", "groove 1/4 birch plywood", "none", "2 x 1", "any", "oil", "spring fair", marketDue, 49, nil},
			{},
			{"TOTAL", 40},
		},
	}
}

func demoParts() orderSheet {
	return orderSheet{name: "Parts", widths: map[string]float64{"A": 24}, rows: [][]any{
		{"Part", "Count", "Length", "Width", "Thickness", "Wood", "Grain", "Notes"},
		{"Test corner blank", 8, 6, "3 1/2", "1/2", "maple", "length", "from the same boards as the boxes"},
		{"Test corner blank", 4, 6, "3 1/2", "3/8", "cherry", "length", nil},
		{"Display step", 2, 20, 4, "3/4", "walnut", "length", "for the stand"},
	}}
}

func demoRack() orderSheet {
	return orderSheet{name: "Rack", widths: map[string]float64{"I": 40, "J": 18}, rows: [][]any{
		{"Boards on hand, counted 4 January", nil, nil, nil, nil, nil, nil, nil, nil, nil},
		{"Board", "Count", "Wood", "Class", "Thickness", "Length", "Width (narrow end)", "Cost", "Defects", "Place"},
		{"W1", 1, "walnut", "4/4", nil, 96, "7 1/4", 58, "18 to 22", "top left"},
		{"W2", 1, "walnut", "4/4", nil, 84, 6, 42, nil, "top left"},
		{"W3", 1, "walnut", "4/4", nil, 72, "8 1/2", 51, "40 to 43 across 0 to 1 1/2; 0 to 3", "top left"},
		{"W4", 1, "walnut", "4/4", nil, 97.5, 5.5, 45, nil, "top left"},
		{"W5", 1, "walnut", "4/4", nil, 60, "4 3/4", 24, "55 to 60 across 3 to 4 3/4", "top right"},
		{"W6", 1, "walnut", "4/4", nil, `4' 6"`, 9, 41, "10 to 12 across 4 to 6; 31 to 33 1/2 across 0 to 2", "top right"},
		{"W7", 2, "walnut", "4/4", nil, 48, 5, 20, nil, "top right"},
		{"W8", 1, "walnut", nil, "7/8", 40, "6 1/2", 21, nil, "bench"},
		{"C1", 1, "cherry", "4/4", nil, 96, 6, 40, "60 to 64", "middle"},
		{"C2", 1, "cherry", "4/4", nil, 90, "7 1/2", 47, nil, "middle"},
		{"C3", 1, "cherry", "4/4", nil, 72, 5, 25, "0 to 2; 33 to 36 across 0 to 2", "middle"},
		{"C4", 1, "cherry", "4/4", nil, 66, "6 1/4", 29, nil, "middle"},
		{"C5", 1, "cherry", "4/4", nil, 48, 8, 27, "20 to 24 across 5 to 8", "middle"},
		{"C6", 1, "cherry", "4/4", nil, 36, "4 1/4", 11, nil, "bench"},
		{"C7", 1, "cherry", nil, "1/2", 52, 5, 15, nil, "bench"},
		{"M1", 1, "maple", "4/4", nil, 96, "8 1/4", 38, "70 to 75 across 0 to 3", "bottom"},
		{"M2", 1, "maple", "4/4", nil, 96, 7, 33, nil, "bottom"},
		{"M3", 1, "maple", "4/4", nil, 72, "6 1/2", 23, "12 to 13 1/2", "bottom"},
		{"M4", 1, "maple", "4/4", nil, 60, 9, 26, nil, "bottom"},
		{"M5", 1, "maple", "4/4", nil, 44, 5, 11, "0 to 1", "bottom"},
		{"M6", 1, "maple", "5/4", nil, 30, 6, 11, nil, "bench"},
		{"P1", 2, "birch plywood", nil, "1/4", 48, 24, 19, nil, "against the wall"},
		{"P2", 1, "birch plywood", nil, "1/4", 30, 16, 8, "0 to 1 across 0 to 1", "against the wall"},
	}}
}

func demoYard() orderSheet {
	return orderSheet{name: "Yard", widths: map[string]float64{"A": 12}, rows: [][]any{
		{"Board", "Count", "Wood", "Class", "Thickness", "Length", "Width", "Price per board foot", "Arrives"},
		{"walnut 4/4", nil, "walnut", "4/4", nil, 96, 7, 13.5, dueOn(2027, 1, 18)},
		{"walnut wide", 3, "walnut", "4/4", nil, 96, 9, 15.25, dueOn(2027, 1, 18)},
		{"cherry 4/4", nil, "cherry", "4/4", nil, 96, 7, 9.75, nil},
		{"maple 4/4", nil, "maple", "4/4", nil, 120, 7, 8.4, nil},
		{"ply sheet", nil, "birch plywood", nil, "1/4", 60, 60, 2.1, nil},
	}}
}

func demoShop() orderSheet {
	return orderSheet{name: "Shop", widths: map[string]float64{"A": 28, "D": 46}, rows: [][]any{
		{"Setting", "Value", "Unit", "Remark"},
		{"Units", "in", nil, nil},
		{"Rod", "3/8-16", nil, "the one with the new nut"},
		{"Blade kerf", 0.0955, "in", "box joint blade, measured after sharpening"},
		{"Rod travel", 7, "in", nil},
		{"Carriage opening", "4-1/2", "in", nil},
		{"Edge origin 1/2", -1, "turns", "our stop sits one turn back for the half-inch fingers"},
		{"Keep offcuts from", "12 x 2", "in", nil},
		{"Humidity low", 25, nil, "stove on in winter"},
		{"Humidity high", 60, nil, nil},
	}}
}

func dueOn(year int, month time.Month, d int) time.Time {
	return time.Date(year, month, d, 0, 0, 0, 0, time.UTC)
}

// TestOrdersStillSayTheSame holds every committed workbook, cell by cell, to
// what is written in this package.
func TestOrdersStillSayTheSame(t *testing.T) {
	for _, b := range slices.Concat(messyOrders(), weekOrders(), quoteOrders(), []orderBook{demo()}) {
		t.Run(b.file, func(t *testing.T) {
			made, err := b.build()
			if err != nil {
				t.Fatal(err)
			}
			if *updateOrders {
				b.write(t, made)
			}
			committed, err := os.ReadFile(filepath.Join(ordersFolder, b.file))
			if err != nil {
				t.Fatal(err)
			}
			want, got := everythingSaid(t, made), everythingSaid(t, committed)
			for i := range max(len(want), len(got)) {
				switch {
				case i >= len(want):
					t.Fatalf("the file says %q too much", got[i])
				case i >= len(got):
					t.Fatalf("the file does not say %q", want[i])
				case want[i] != got[i]:
					t.Fatalf("the file says %q, want %q", got[i], want[i])
				}
			}
		})
	}
}

// build makes the workbook's bytes.
func (b orderBook) build() ([]byte, error) {
	f := excelize.NewFile()
	for i, s := range b.sheets {
		if i == 0 {
			if err := f.SetSheetName("Sheet1", s.name); err != nil {
				return nil, err
			}
		} else if _, err := f.NewSheet(s.name); err != nil {
			return nil, err
		}
		if err := s.fill(f); err != nil {
			return nil, err
		}
	}
	var out bytes.Buffer
	err := f.Write(&out)
	return out.Bytes(), err
}

func (s orderSheet) fill(f *excelize.File) error {
	for i, row := range s.rows {
		for j, value := range row {
			if value == nil {
				continue
			}
			at, err := excelize.CoordinatesToCellName(j+1, i+1)
			if err == nil {
				err = f.SetCellValue(s.name, at, value)
			}
			if err != nil {
				return err
			}
		}
	}
	for _, area := range s.merged {
		from, to, _ := strings.Cut(area, ":")
		if err := f.MergeCell(s.name, from, to); err != nil {
			return err
		}
	}
	for _, row := range s.hidden {
		if err := f.SetRowVisible(s.name, row, false); err != nil {
			return err
		}
	}
	for col, width := range s.widths {
		if err := f.SetColWidth(s.name, col, col, width); err != nil {
			return err
		}
	}
	return nil
}

// write puts a workbook into testdata, a foreign one as LibreOffice saves it.
func (b orderBook) write(t *testing.T, made []byte) {
	t.Helper()
	to := filepath.Join(ordersFolder, b.file)
	if !b.foreign {
		if err := os.WriteFile(to, made, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	work := t.TempDir()
	from := filepath.Join(work, b.file)
	if err := os.WriteFile(from, made, 0o644); err != nil {
		t.Fatal(err)
	}
	saved := filepath.Join(work, "saved")
	run := exec.Command("soffice", "-env:UserInstallation=file://"+filepath.ToSlash(filepath.Join(work, "profile")),
		"--headless", "--convert-to", "xlsx", "--outdir", saved, from)
	if said, err := run.CombinedOutput(); err != nil {
		t.Fatalf("LibreOffice: %v\n%s", err, said)
	}
	data, err := os.ReadFile(filepath.Join(saved, b.file))
	if err == nil {
		err = os.WriteFile(to, data, 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// everythingSaid lists everything a workbook says: cells, merged areas, hidden rows.
func everythingSaid(t *testing.T, data []byte) []string {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var out []string
	for _, name := range f.GetSheetList() {
		rows, err := f.GetRows(name, excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		for i, row := range rows {
			if visible, err := f.GetRowVisible(name, i+1); err == nil && !visible {
				out = append(out, name+" row hidden: "+strings.Join(row, "|"))
			}
			for j, text := range row {
				if at, err := excelize.CoordinatesToCellName(j+1, i+1); err == nil && text != "" {
					out = append(out, name+"!"+at+" "+text)
				}
			}
		}
		merged, err := f.GetMergeCells(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range merged {
			out = append(out, name+" merged "+m.GetStartAxis()+":"+m.GetEndAxis())
		}
	}
	slices.Sort(out)
	return out
}
