package workbook_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"batchwright/jigplan"
	"batchwright/jigplan/document"
	"batchwright/jigplan/fair"
	"batchwright/jigplan/plan"
	"batchwright/jigplan/quote"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/intake"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/reports/workbook"
)

// spring is the first day of the quotes and fairs below, a Monday.
var spring = time.Date(2027, 3, 8, 0, 0, 0, 0, time.UTC)

func ordered(t testing.TB, name string) *orders.Order {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("../../testdata/orders", name))
	if err != nil {
		t.Fatal(err)
	}
	o, err := intake.Read(name, data, settings.Default())
	if err != nil {
		t.Fatal(err)
	}
	return o
}

func quoted(t testing.TB, o *orders.Order, before *jigplan.QuoteBefore) *jigplan.Quote {
	t.Helper()
	customer := ""
	if names := quote.Customers(o); len(names) > 0 {
		customer = names[0]
	}
	q, err := quote.Make(quote.Request{Order: o, Number: "Q 7", Customer: customer, From: spring, Before: before, Latest: latestOf(before),
		Options: plan.Options{Limits: nesting.Limits{Seed: 1, Think: 50 * time.Millisecond}}})
	if err != nil {
		t.Fatal(err)
	}
	return q
}

func latestOf(before *jigplan.QuoteBefore) int {
	if before == nil {
		return 0
	}
	return before.Revision
}

func reckonFair() (*jigplan.Fair, error) {
	data, err := os.ReadFile("../../testdata/orders/catalog.xlsx")
	if err != nil {
		return nil, err
	}
	o, err := intake.Read("catalog.xlsx", data, settings.Default())
	if err != nil {
		return nil, err
	}
	return fair.Make(fair.Request{Order: o, From: time.Date(2027, 4, 5, 0, 0, 0, 0, time.UTC),
		Options: plan.Options{Limits: nesting.Limits{Seed: 1, Think: 100 * time.Millisecond}}})
}

// springFair is shared by the tests; one that changes it takes its own copy.
var springFair = sync.OnceValues(reckonFair)

// bytesOf is a workbook that must come about, kept to look at.
func bytesOf(t testing.TB, name string) func([]byte, error) []byte {
	return func(data []byte, err error) []byte {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		save(t, name, data)
		return data
	}
}

// live is every workbook with formulas, made once.
var liveOnce sync.Once
var liveBooks map[string][]byte

func live(t *testing.T) map[string][]byte {
	t.Helper()
	liveOnce.Do(func() {
		one, forty := quoted(t, ordered(t, "quote-one.xlsx"), nil), quoted(t, ordered(t, "quote-forty.xlsx"), nil)
		doc := document.OfQuote(one)
		before := doc.Before(nil)
		revised := quoted(t, dearer(t), &before)
		later := document.OfQuote(revised)
		taken := invoiced(t, &doc, "Letter box A=1", &later, "Letter box A=1")
		fallen := invoiced(t, &doc, "Letter box B=1", &doc, "Letter box C=1")
		demo := ordered(t, "demo.xlsx")
		liveBooks = map[string][]byte{
			"cost-one":    bytesOf(t, "cost-one.xlsx")(workbook.Cost(one)),
			"cost-forty":  bytesOf(t, "cost-forty.xlsx")(workbook.Cost(forty)),
			"cost-demo":   bytesOf(t, "cost-demo.xlsx")(workbook.Cost(quoted(t, demo, nil))),
			"quote-one":   bytesOf(t, "quote-one.xlsx")(workbook.Quote(one)),
			"quote-forty": bytesOf(t, "quote-forty.xlsx")(workbook.Quote(forty)),
			"quote-later": bytesOf(t, "quote-later.xlsx")(workbook.Quote(revised)),
			"invoices":    bytesOf(t, "invoices.xlsx")(workbook.Invoices(&taken, in0)),
			"credit":      bytesOf(t, "credit.xlsx")(workbook.Invoices(&fallen, in0)),
			"fair":        bytesOf(t, "fair.xlsx")(workbook.Fair(once(t, springFair))),
		}
	})
	if liveBooks == nil {
		t.Fatal("the workbooks could not be made")
	}
	return liveBooks
}

const in0 = 1 // inches

// invoiced is the account of what was taken of a quote: given as the first two
// invoices; then, where it was changed to later, with what that adds.
func invoiced(t testing.TB, doc *document.Quote, text string, later *document.Quote, laterText string) jigplan.Account {
	t.Helper()
	day := time.Date(2027, 3, 8, 0, 0, 0, 0, time.UTC)
	takes, err := doc.Take([]string{text})
	if err != nil {
		t.Fatal(err)
	}
	whole := doc.Invoice(takes)
	whole.Date = day
	a := jigplan.Account{Quote: doc.Number, Revision: 1, Payments: []jigplan.Payment{{Day: day, Amount: 10000, Note: "cash"}}}
	a.Invoices = jigplan.ToIssue(whole, document.DepositOf(takes), nil)
	a.Invoices[0].Number, a.Invoices[1].Number, a.Invoices[1].Less[0].Number = 7, 8, 7
	if later == nil {
		return a
	}
	if takes, err = later.Take([]string{laterText}); err != nil {
		t.Fatal(err)
	}
	whole = later.Invoice(takes)
	whole.Date = day
	more := jigplan.ToIssue(whole, document.DepositOf(takes), a.Invoices)
	for i := range more {
		more[i].Number = 9 + i
	}
	a.Invoices = append(a.Invoices, more...)
	return a
}

// dearer is the order of one box with brass corners' worth of another height.
func dearer(t testing.TB) *orders.Order {
	o := ordered(t, "quote-one.xlsx")
	for i := range o.Boxes {
		o.Boxes[i].Height += 2 * in
	}
	return o
}

// figures are the formula cells of a workbook with their stored values.
func figures(t *testing.T, f *excelize.File) map[string]float64 {
	t.Helper()
	out := map[string]float64{}
	for _, sheet := range f.GetSheetList() {
		rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		for r, row := range rows {
			for c := range max(len(row), 16) {
				cell, _ := excelize.CoordinatesToCellName(c+1, r+1)
				if text, _ := f.GetCellFormula(sheet, cell); text == "" {
					continue
				}
				value, err := f.GetCellValue(sheet, cell, excelize.Options{RawCellValue: true})
				if err != nil {
					t.Fatal(err)
				}
				number, err := strconv.ParseFloat(value, 64)
				if err != nil {
					t.Fatalf("%s!%s holds %q", sheet, cell, value)
				}
				out[sheet+"!"+cell] = number
			}
		}
	}
	return out
}

func calc(t *testing.T, f *excelize.File, at string) float64 {
	t.Helper()
	cut := strings.LastIndex(at, "!")
	text, err := f.CalcCellValue(at[:cut], at[cut+1:], excelize.Options{RawCellValue: true})
	if err != nil {
		formula, _ := f.GetCellFormula(at[:cut], at[cut+1:])
		t.Fatalf("%s (%s): %v", at, formula, err)
	}
	number, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatalf("%s is %q", at, text)
	}
	return number
}

// Every formula gives the value stored with it, by the library's own reckoning.
func TestFormulasGiveWhatIsStored(t *testing.T) {
	for name, data := range live(t) {
		f := opened(t, data)
		stored := figures(t, f)
		if len(stored) == 0 {
			t.Errorf("%s has no formula", name)
		}
		for at, want := range stored {
			if got := calc(t, f, at); math.Abs(got-want) > 1e-6*(1+math.Abs(want)) {
				formula, _ := f.GetCellFormula(at[:strings.LastIndex(at, "!")], at[strings.LastIndex(at, "!")+1:])
				t.Errorf("%s, %s: stored %v, reckoned %v: %s", name, at, want, got, formula)
			}
		}
	}
}

// The same by LibreOffice, which shares nothing with the library: the stored
// values are taken out of the file, so that it has to reckon each.
func TestFormulasInASecondProgram(t *testing.T) {
	books := live(t)
	for name, f := range recalculated(t, books) {
		for at, want := range figures(t, opened(t, books[name])) {
			if got := storedIn(t, f, at); math.Abs(got-want) > 1e-6*(1+math.Abs(want)) {
				t.Errorf("%s, %s: stored %v, LibreOffice has %v", name, at, want, got)
			}
		}
	}
}

// storedIn is the value a workbook has stored in a cell.
func storedIn(t *testing.T, f *excelize.File, at string) float64 {
	t.Helper()
	cut := strings.LastIndex(at, "!")
	text, err := f.GetCellValue(at[:cut], at[cut+1:], excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	value, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatalf("%s holds %q", at, text)
	}
	return value
}

// cellUnder finds the row whose cell in column A, or in any, reads a name, and
// gives the cell in another column.
func cellUnder(t *testing.T, f *excelize.File, sheet, name, column string) string {
	t.Helper()
	rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	for r, row := range rows {
		if slices.Contains(row, name) {
			return fmt.Sprintf("%s%d", column, r+1)
		}
	}
	t.Fatalf("%s has no row %q", sheet, name)
	return ""
}

// A margin and a rate changed in the cost workbook give the price that the
// program makes of the same changes.
func TestAChangedMarginGivesTheProgramsPrice(t *testing.T) {
	o := ordered(t, "quote-one.xlsx")
	f := opened(t, live(t)["cost-one"])
	changes := map[string]float64{"Margin": 42.5, "Labor rate": 29.35, "Overhead rate": 11.1, "Glue price": 21, "Offcut worth": 40, "Card fee": 3.1, "Tax": 19}
	for name, value := range changes {
		if err := f.SetCellValue("Rates", cellUnder(t, f, "Rates", name, "B"), value); err != nil {
			t.Fatal(err)
		}
		if err := o.Settings.Set(name, strconv.FormatFloat(value, 'f', -1, 64), settings.Entry{}); err != nil {
			t.Fatal(err)
		}
	}
	q := quoted(t, o, nil)
	for k, option := range q.Articles[0].Options {
		sheet, offer := fmt.Sprintf("Letter box %s 1", option.Letter), &q.Articles[0].Options[k].Offers[0]
		for name, want := range map[string]measure.Money{"Cost of the batch": offer.Cost.Total, "Price of one box": offer.Price.Each, "The customer pays": offer.Price.Total,
			"Card fee": offer.Price.Fee, "Left over": offer.Price.Left, "Deposit": offer.Price.Deposit} {
			if got := calc(t, f, sheet+"!"+cellUnder(t, f, sheet, name, "I")); math.Abs(got-float64(want)/100) > 1e-6 {
				t.Errorf("%s, %s: the workbook says %v, the program %s", sheet, name, got, want)
			}
		}
	}
}

// Rates and a count changed in the cost workbook: LibreOffice gives what the
// program makes of the same rates, and what the library reckons for the count.
func TestChangesInASecondProgram(t *testing.T) {
	changes := map[string]float64{"Margin": 27.5, "Labor rate": 41.15, "Finish price": 55, "Offcut worth": 0, "Card fee": 1.9, "Round prices to": 0.5}
	o := ordered(t, "quote-one.xlsx")
	rates, count := opened(t, live(t)["cost-one"]), opened(t, live(t)["cost-forty"])
	for name, value := range changes {
		if err := errors.Join(rates.SetCellValue("Rates", cellUnder(t, rates, "Rates", name, "B"), value), o.Settings.Set(name, strconv.FormatFloat(value, 'f', -1, 64), settings.Entry{})); err != nil {
			t.Fatal(err)
		}
	}
	const sheet = "Tea caddy A 25"
	if err := count.SetCellValue(sheet, cellUnder(t, count, sheet, "Boxes to sell", "C"), 31); err != nil {
		t.Fatal(err)
	}
	books := recalculated(t, map[string][]byte{"rates": saved(t, rates), "count": saved(t, count)})
	for k, option := range quoted(t, o, nil).Articles[0].Options {
		sheet, offer := fmt.Sprintf("Letter box %s 1", option.Letter), &option.Offers[0]
		for name, want := range map[string]measure.Money{"Cost of the batch": offer.Cost.Total, "Price of one box": offer.Price.Each, "The customer pays": offer.Price.Total, "Left over": offer.Price.Left} {
			if got := storedIn(t, books["rates"], sheet+"!"+cellUnder(t, books["rates"], sheet, name, "I")); math.Abs(got-float64(want)/100) > 1e-6 {
				t.Errorf("option %d, %s: LibreOffice says %v, the program %s", k, name, got, want)
			}
		}
	}
	for at := range figures(t, count) {
		if want, got := calc(t, count, at), storedIn(t, books["count"], at); math.Abs(got-want) > 1e-6*(1+math.Abs(want)) {
			t.Errorf("31 boxes, %s: the library reckons %v, LibreOffice %v", at, want, got)
		}
	}
	each := sheet + "!" + cellUnder(t, count, sheet, "Cost of one box", "I")
	if now, before := calc(t, count, each), storedIn(t, opened(t, live(t)["cost-forty"]), each); now <= 0 || now >= before {
		t.Errorf("31 boxes cost %v each, 25 cost %v: setting up is not spread", now, before)
	}
}

// A price changed in the customer's workbook changes its totals.
func TestAChangedPriceGoesIntoTheTotals(t *testing.T) {
	f := opened(t, live(t)["quote-one"])
	row := strings.TrimLeft(cellUnder(t, f, "Quote", "B: cherry", "A"), "A")
	for cell, value := range map[string]float64{"B" + row: 3, "C" + row: 210.05} {
		if err := f.SetCellValue("Quote", cell, value); err != nil {
			t.Fatal(err)
		}
	}
	if net, tax, total := calc(t, f, "Quote!D"+row), calc(t, f, "Quote!E"+row), calc(t, f, "Quote!F"+row); math.Abs(net-630.15) > 1e-9 || math.Abs(tax-50.41) > 1e-9 || math.Abs(total-680.56) > 1e-9 {
		t.Errorf("3 at 210.05 with 8 %% tax: %v, %v, %v", net, tax, total)
	}
}

// The invoices redone from their own lines: count times price, tax half to even;
// half of the total as the deposit, with its share of the tax; the balance is
// the rest of net, tax and total, so that the tax of both is that of the whole. A
// change is invoiced, or credited, as the difference to what was asked for.
func TestInvoicesByHand(t *testing.T) {
	cents := func(f *excelize.File, sheet, name, column string) int64 {
		return int64(math.Round(100 * storedIn(t, f, sheet+"!"+cellUnder(t, f, sheet, name, column))))
	}
	sums := func(f *excelize.File, sheet, name string) (out [3]int64) {
		for i, column := range []string{"D", "E", "F"} {
			out[i] = cents(f, sheet, name, column)
		}
		return out
	}
	whole := func(f *excelize.File, sheet, line string) [3]int64 {
		net := cents(f, sheet, line, "C") * int64(storedIn(t, f, sheet+"!"+cellUnder(t, f, sheet, line, "B")))
		tax := int64(math.RoundToEven(float64(net) * 8 / 100))
		want := [3]int64{net, tax, net + tax}
		if got := sums(f, sheet, line); got != want {
			t.Errorf("%s, %s: %v, by hand %v", sheet, line, got, want)
		}
		return want
	}
	for _, c := range []struct{ book, first, then, sheet, due string }{
		{"invoices", "Letter box, option A", "Letter box, option A", "Invoice 9", "To pay, USD"},
		{"credit", "Letter box, option B", "Letter box, option C", "Credit note 9", "Credited to you, USD"},
	} {
		f := opened(t, live(t)[c.book])
		all := whole(f, "Balance invoice", c.first)
		deposit := sums(f, "Deposit invoice", "Deposit to pay, USD")
		balance := sums(f, "Balance invoice", "Balance to pay, USD")
		half := int64(math.RoundToEven(float64(all[2]) / 2))
		share := int64(math.RoundToEven(float64(all[1]) * float64(half) / float64(all[2])))
		if want := [3]int64{half - share, share, half}; deposit != want {
			t.Errorf("%s: deposit %v, by hand %v", c.book, deposit, want)
		}
		now, due := whole(f, c.sheet, c.then), sums(f, c.sheet, c.due)
		for i := range all {
			if deposit[i]+balance[i] != all[i] || due[i] != now[i]-all[i] {
				t.Errorf("%s: deposit %v and balance %v of %v, then %v: due %v", c.book, deposit, balance, all, now, due)
			}
		}
		if (due[2] < 0) != (c.book == "credit") {
			t.Errorf("%s: %d cents due", c.book, due[2])
		}
		if got := cents(f, "Account", "Still to pay (below zero: owed to you)", "D"); got != now[2]-10000 {
			t.Errorf("%s: open %d, by hand %d less 100.00", c.book, got, now[2])
		}
	}
}

// The same quote and the same fair give the same bytes.
func TestQuotesAndFairsRepeat(t *testing.T) {
	again := quoted(t, ordered(t, "quote-one.xlsx"), nil)
	for name, pair := range map[string][2][]byte{
		"cost":  {live(t)["cost-one"], bytesOf(t, "a.xlsx")(workbook.Cost(again))},
		"quote": {live(t)["quote-one"], bytesOf(t, "b.xlsx")(workbook.Quote(again))},
		"fair":  {live(t)["fair"], bytesOf(t, "c.xlsx")(workbook.Fair(once(t, reckonFair)))},
	} {
		if !bytes.Equal(pair[0], pair[1]) {
			t.Errorf("two %s workbooks of one order differ", name)
		}
	}
}

// Every page prints within what common printers reach, on Letter and on A4.
func TestQuotesAndFairsPrint(t *testing.T) {
	onPaper(t, live(t), func(t *testing.T, p printout) { checkEdges(t, p.pages) })
}
