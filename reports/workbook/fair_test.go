package workbook_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"batchwright/jigplan"
	"batchwright/reports/workbook"
)

// mixCell is a cell of the mix: a box in a wood, and a heading.
func mixCell(t *testing.T, f *excelize.File, box, wood, heading string) string {
	t.Helper()
	rows, err := f.GetRows("Mix", excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	col := -1
	for r, row := range rows {
		for c, text := range row {
			if text == heading && len(row) > 1 && row[0] == "Box" {
				col = c
			}
		}
		if col >= 0 && len(row) > 1 && row[0] == box && row[1] == wood {
			at, _ := excelize.CoordinatesToCellName(col+1, r+1)
			return at
		}
	}
	t.Fatalf("the mix has no %q of %s, %s", heading, box, wood)
	return ""
}

// profitOf tells the profit of a fair's mix anew, in whole units of money, from
// its prices, counts and chances: for every box each number of customers with
// its probability. Unsold ones of two woods are taken in proportion.
func profitOf(f *jigplan.Fair) (profit, revenue float64) {
	byLine := map[int][]*jigplan.Stall{}
	for i := range f.Stalls {
		s := &f.Stalls[i]
		byLine[s.Line] = append(byLine[s.Line], s)
	}
	fee := 1 - f.Order.Settings.Rates.CardFee/100
	for line, stalls := range byLine {
		brought, home := 0, 0.0
		for _, s := range stalls {
			brought += s.Brought()
			home += float64(s.Brought()) * float64(s.Home) / 100
			profit -= (float64(s.New)*float64(s.Material) + float64(s.Half)*math.Max(float64(s.Keep), float64(s.Finishing)) + float64(s.Made)*float64(s.Keep)) / 100
		}
		if brought == 0 {
			continue
		}
		chances := append([]float64{1}, f.Demand[line]...)
		for asked, reaches := range chances {
			exactly := reaches
			if asked+1 < len(chances) {
				exactly -= chances[asked+1]
			}
			sold := float64(min(asked, brought))
			for _, s := range stalls {
				price, share := float64(s.Price)/100, float64(s.Brought())/float64(brought)
				net := math.Round(price*fee*100) / 100
				profit += exactly * sold * share * net
				revenue += exactly * sold * share * price
			}
			profit += exactly * (float64(brought) - sold) * home / float64(brought)
		}
	}
	r := &f.Order.Settings.Rates
	return profit + float64(f.Together)/100 - float64(r.StallCost+r.TravelCost)/100 - r.StandHours*float64(r.Labour)/100, revenue
}

// copyOf is a fair whose prices, counts and rates may be changed.
func copyOf(f *jigplan.Fair) *jigplan.Fair {
	fair, order := *f, *f.Order
	order.Settings = order.Settings.Clone()
	fair.Order, fair.Stalls = &order, slices.Clone(f.Stalls)
	return &fair
}

// The profit in the workbook is that of the chances told anew; and when a
// price, a count and the stall's cost are changed in it, its totals are those
// of the same changes told anew, by the library's own reckoning and by
// LibreOffice's.
func TestAChangedMixGivesItsProfit(t *testing.T) {
	f := copyOf(once(t, springFair))
	book := opened(t, bytesOf(t, "fair-changed.xlsx")(workbook.Fair(f)))
	compare := func(when string, value func(cell string) float64) {
		t.Helper()
		profit, revenue := profitOf(f)
		for name, want := range map[string]float64{"Expected profit": profit, "For": revenue} {
			cell := cellUnder(t, book, "Mix", name, "O")
			if name == "For" { // a heading too: the total stands under it
				cell = cellUnder(t, book, "Mix", "Sold on average", "O")
				row, _ := strconv.Atoi(strings.TrimLeft(cell, "O"))
				cell = fmt.Sprintf("O%d", row+1)
			}
			if got := value(cell); math.Abs(got-want) > 0.011 {
				t.Errorf("%s, %s: the workbook has %.4f, told anew %.4f", when, name, got, want)
			}
		}
	}
	calculated := func(cell string) float64 { return calc(t, book, "Mix!"+cell) }
	compare("as printed", calculated)
	if profit, _ := profitOf(f); math.Abs(profit-float64(f.Expected-f.Fixed)/100) > 0.011 {
		t.Errorf("printed on the first page %s, told anew %.4f", f.Expected-f.Fixed, profit)
	}

	set := func(cell string, value any) {
		t.Helper()
		if err := book.SetCellValue("Mix", cell, value); err != nil {
			t.Fatal(err)
		}
	}
	for i := range f.Stalls {
		s := &f.Stalls[i]
		switch {
		case s.Name == "Tea box":
			s.Price, s.New = 80_40, s.New+2
			set(mixCell(t, book, s.Name, s.Wood, "Price"), 80.40)
			set(mixCell(t, book, s.Name, s.Wood, "Make"), s.New)
		case s.Name == "Card box" && s.Made > 0:
			s.Made--
			set(mixCell(t, book, s.Name, s.Wood, "From stock"), s.Made)
		case s.Name == "Keepsake":
			s.New = 0
			set(mixCell(t, book, s.Name, s.Wood, "Make"), 0)
		}
	}
	f.Order.Settings.Rates.StallCost = 155_50
	set(cellUnder(t, book, "Mix", "Stall", "O"), 155.50)
	compare("changed", calculated)

	again := recalculated(t, map[string][]byte{"fair": saved(t, book)})["fair"]
	compare("changed, by LibreOffice", func(cell string) float64 { return storedIn(t, again, "Mix!"+cell) })
}
