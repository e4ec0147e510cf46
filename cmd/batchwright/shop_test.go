package main

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"batchwright/jigplan/shop"
	"batchwright/orders"
	"batchwright/orders/intake"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/orders/woods"
)

// Whatever a shop holds, its workbook reads back to the same: importing it
// changes nothing.
func TestShopWorkbookRoundTrip(t *testing.T) {
	ctx := context.Background()
	s, err := shop.Open(ctx, filepath.Join(t.TempDir(), "shop.db"), shop.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	tries := 0
	rapid.Check(t, func(t *rapid.T) {
		if tries++; tries > 100/slow {
			return // under the race detector a few have to do
		}
		if err := s.Try(ctx, func(tx *shop.Tx) (string, error) { return "fill", outAndIn(t, tx) }); err != nil {
			t.Fatal(err)
		}
	})
}

// outAndIn fills a shop, writes its workbook, and imports it.
func outAndIn(t *rapid.T, tx *shop.Tx) error {
	var state shopState
	if err := errors.Join(fill(t, tx), state.read(tx)); err != nil {
		return err
	}
	data, err := state.book()
	if err != nil {
		return err
	}
	book, err := intake.ReadShopBook("shop.xlsx", data, settings.Default())
	if err != nil || book.Order.HasErrors() {
		t.Fatalf("%v %+v", err, book.Order.Findings)
	}
	if len(book.Order.Rack) != len(state.boards) {
		t.Fatalf("%d boards came back of %d", len(book.Order.Rack), len(state.boards))
	}
	c := &common{quiet: true}
	changes, err := c.replaceShop(tx, book)
	if len(changes) > 0 {
		t.Fatalf("importing what was exported changes %q", changes)
	}
	return err
}

// fill puts awkward things into a shop file.
func fill(t *rapid.T, tx *shop.Tx) error {
	length := func(name string) measure.Length {
		return measure.Length(rapid.Int64Range(1, int64(measure.Foot*20)).Draw(t, name))
	}
	words := rapid.SampledFrom([]string{"", "A1", "=1+1", "3/8", "2026-01-02", "+5", "north wall; low", "0017", "\"", "Größe <5>"})
	var boards []orders.Board
	for range rapid.IntRange(1, 4).Draw(t, "boards") {
		b := orders.Board{ID: "B" + rapid.StringMatching(`[A-Za-z0-9#./ -]{0,6}[A-Za-z0-9]`).Draw(t, "id"), Count: 1, Wood: rapid.SampledFrom([]string{"walnut", "birch ply", "my own elm"}).Draw(t, "wood"),
			Length: length("length"), Width: length("width"), Place: words.Draw(t, "place"), GrainTag: words.Draw(t, "grain"), Moisture: float64(rapid.IntRange(0, 300).Draw(t, "moisture")) / 16,
			CostKnown: rapid.Bool().Draw(t, "costed")}
		if strings.Trim(b.Place, `"`) == "" {
			b.Place = "" // a ditto mark is no place
		}
		if strings.Trim(b.GrainTag, `"`) == "" {
			b.GrainTag = ""
		}
		b.Sheet = woods.IsSheet(b.Wood)
		if b.Class = rapid.SampledFrom([]string{"", "4/4", "8/4"}).Draw(t, "class"); b.Class == "" || rapid.Bool().Draw(t, "true") {
			b.Thickness = measure.Length(rapid.Int64Range(1, int64(2*measure.Inch)).Draw(t, "thickness"))
		}
		if b.CostKnown {
			b.Cost = measure.Money(rapid.Int64Range(0, 1e7).Draw(t, "cost"))
		}
		if rapid.Bool().Draw(t, "tapered") {
			b.WideEnd = b.Width + measure.Length(rapid.Int64Range(0, 1e7).Draw(t, "more"))
		}
		if b.Length > 1000 && rapid.Bool().Draw(t, "knot") {
			b.Defects = []orders.Defect{{X: b.Length / 3, Length: b.Length / 5, Y: b.Width / 7, Width: b.Width - b.Width/7}}
		}
		if !slices.ContainsFunc(boards, func(o orders.Board) bool { return o.ID == b.ID }) {
			boards = append(boards, b)
		}
	}
	if _, refused, err := shop.PutBoards(tx, boards, measure.Inches); err != nil || len(refused) > 0 {
		t.Fatalf("%v %+v", err, refused)
	}
	settings := []shop.Setting{{Name: "Edge origin 1/2", Value: "-1"}, {Name: "Cost of walnut", Value: "9.50 per board foot"}, {Name: "Rod", Value: "M8x1.25"},
		{Name: "Blade kerf", Value: "3/32"}, {Name: "Keep offcuts from", Value: "300 mm x 50 mm"}, {Name: "Holidays", Value: "2027-01-01"}, {Name: "End trim", Value: "0"}, {Name: "Units", Value: "mm"}}
	for _, row := range settings {
		if rapid.Bool().Draw(t, row.Name) {
			if _, err := shop.SetSetting(tx, row, "test"); err != nil {
				return err
			}
		}
	}
	_, err := shop.LogKerf(tx, shop.KerfLog{Blade: "thin one", Kerf: 1 + measure.Inch/11, After: "new"}, shop.ExactLength(1+measure.Inch/11, measure.Inches), "")
	return err
}

// The manual's month is the script that looks at what each line prints.
func TestManualMonthIsTheScript(t *testing.T) {
	script, err := os.ReadFile("testdata/script/shop.txtar")
	if err != nil {
		t.Fatal(err)
	}
	month, _ := topic("shop")
	var pasted, run []string
	for line := range strings.Lines(month) {
		if command, ok := strings.CutPrefix(strings.TrimSpace(line), "$ "); ok {
			pasted = append(pasted, strings.ReplaceAll(command, `"`, "'"))
		}
	}
	for line := range strings.Lines(string(script)) {
		if command, ok := strings.CutPrefix(line, "exec "); ok {
			run = append(run, strings.TrimSpace(command))
		}
	}
	if !slices.Equal(pasted, run) {
		t.Errorf("the manual has\n%s\nand the script runs\n%s", strings.Join(pasted, "\n"), strings.Join(run, "\n"))
	}
}
