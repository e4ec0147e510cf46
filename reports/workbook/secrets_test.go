package workbook_test

import (
	"encoding/binary"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"batchwright/jigplan"
	"batchwright/jigplan/document"
	"batchwright/orders/measure"
	"batchwright/reports"
	"batchwright/reports/workbook"
)

// What the customer gets holds nothing of the shop's: no cost, rate, margin,
// hour, supplier's or rack's board, no other customer, no hidden sheet, nothing
// linked from outside. The whole file is searched, every part unpacked.
func TestTheCustomersFileKeepsTheShopsSecrets(t *testing.T) {
	o := ordered(t, "quote-one.xlsx")
	o.Boxes = append(o.Boxes, o.Boxes[0])
	other := &o.Boxes[len(o.Boxes)-1]
	other.Name, other.Customer, other.Notes = "Secret casket", "Quillon Marsh", "for the rival"
	q := quoted(t, o, nil)
	before := jigplan.QuoteBefore{Number: "Q 7", Revision: 1, Date: "2027-03-01"}
	revised := quoted(t, o, &before)
	doc := document.OfQuote(q)
	v := invoiced(t, &doc, "Letter box B=1", nil, "")
	secrets := []string{"Quillon", "Secret", "rival", "margin", "markup", "labour", "overhead", "offcut", "supplier", "hour", "sharpening", "hidden", "profit", "spare",
		"W3", "W4", "top left", "middle", "quote-one.xlsx", "cost"}
	offered := map[string]bool{}
	reports.EachOffer(q, func(_ *jigplan.Article, _ *jigplan.Option, f *jigplan.Offer) {
		for _, m := range []measure.Money{f.Price.Each, f.Price.Net, f.Price.Tax, f.Price.Total, f.Price.Deposit, f.Price.Total - f.Price.Deposit} {
			offered[m.String()] = true
		}
	})
	reports.EachOffer(q, func(_ *jigplan.Article, _ *jigplan.Option, f *jigplan.Offer) {
		amounts := []measure.Money{f.Cost.Total, f.Price.Fee, f.Price.Left, f.Cost.Bought}
		for _, l := range f.Cost.Lines {
			amounts = append(amounts, l.Amount, l.Rate)
		}
		for _, m := range amounts {
			if m > 10_00 && !offered[m.String()] { // smaller ones stand in sizes and styles by chance
				secrets = append(secrets, m.String())
			}
		}
	})
	if len(secrets) < 30 {
		t.Fatalf("only %d secrets: the test has lost its costs", len(secrets))
	}
	for name, data := range map[string][]byte{"quote": bytesOf(t, "secret.xlsx")(workbook.Quote(q)), "revision": bytesOf(t, "secret-2.xlsx")(workbook.Quote(revised)), "invoices": bytesOf(t, "secret-3.xlsx")(workbook.Invoices(&v, in0))} {
		searchFor(t, name, data, secrets)
		f := opened(t, data)
		for _, sheet := range f.GetSheetList() {
			if visible, err := f.GetSheetVisible(sheet); err != nil || !visible {
				t.Errorf("%s: the sheet %s is hidden", name, sheet)
			}
		}
	}
	// The shop's own workbook does hold them: the search can find.
	r := &recorder{T: t}
	searchIn(r.note, "cost", bytesOf(t, "secret-cost.xlsx")(workbook.Cost(q)), secrets, t)
	if len(r.found) < 20 {
		t.Errorf("only %d secrets were found in the cost workbook: the search does not look", len(r.found))
	}
}

// customersParts are all the parts that a customer's workbook may have: no
// comments, custom XML, custom properties, macros, links, printer settings or
// calculation chain.
var customersParts = regexp.MustCompile(`^(\[Content_Types\]\.xml|(xl/)?_rels/(workbook\.xml)?\.rels|docProps/(app|core)\.xml|xl/(workbook|styles|sharedStrings|theme/theme1)\.xml|` +
	`xl/(worksheets|drawings)/(_rels/)?(sheet|drawing)\d+\.xml(\.rels)?|xl/media/image\d+\.png)$`)

// textChunks are the parts of a PNG that are no picture: text, time, colour
// profile, camera's notes.
func textChunks(png []byte) (extra []string) {
	for at := 8; at+8 <= len(png); {
		kind := string(png[at+4 : at+8])
		if !slices.Contains([]string{"IHDR", "PLTE", "tRNS", "pHYs", "IDAT", "IEND"}, kind) {
			extra = append(extra, kind)
		}
		at += 12 + int(binary.BigEndian.Uint32(png[at:]))
	}
	return extra
}

// What a customer's workbook calculates shows in no formula where a figure of
// the shop's comes from: formulas take cells of their own sheet or of the sheet
// Quote, and constants that are printed beside them.
func TestTheCustomersFormulasTakeTheirOwnCells(t *testing.T) {
	for _, name := range []string{"quote-one", "quote-forty", "quote-later", "invoices", "credit"} {
		f := opened(t, live(t)[name])
		for at := range figures(t, f) {
			cut := strings.LastIndex(at, "!")
			text, err := f.GetCellFormula(at[:cut], at[cut+1:])
			if err != nil {
				t.Fatal(err)
			}
			if strings.ContainsAny(strings.ReplaceAll(text, "'Quote'!", ""), "![") {
				t.Errorf("%s, %s takes a cell elsewhere: %s", name, at, text)
			}
		}
		for _, d := range f.GetDefinedName() {
			if !strings.HasPrefix(d.Name, "_xlnm.Print_") {
				t.Errorf("%s has a name %q for %s", name, d.Name, d.RefersTo)
			}
		}
		props, err := f.GetDocProps()
		if err != nil {
			t.Fatal(err)
		}
		if props.Creator != "Batchwright" || props.LastModifiedBy != "Batchwright" || props.Description+props.Subject+props.Keywords+props.Category != "" {
			t.Errorf("%s tells more of itself than a title: %+v", name, props)
		}
	}
}

// vocabulary takes out words of the file format itself.
var vocabulary = strings.NewReplacer("pageMargins", "", "markup-compatibility", "", "www.w3.org", "", "W3CDTF", "")

type recorder struct {
	*testing.T
	found []string
}

func (r *recorder) note(what string) { r.found = append(r.found, what) }

func searchFor(t *testing.T, name string, data []byte, secrets []string) {
	t.Helper()
	searchIn(func(what string) { t.Error(what) }, name, data, secrets, t)
}

func searchIn(note func(string), name string, data []byte, secrets []string, t *testing.T) {
	t.Helper()
	r := unpacked(t, data)
	for _, part := range r.File {
		content := strings.ToLower(vocabulary.Replace(string(contentOf(t, part))))
		switch {
		case !customersParts.MatchString(part.Name):
			note(name + ": has a part " + part.Name)
		case strings.HasSuffix(part.Name, ".png"):
			if extra := textChunks(contentOf(t, part)); len(extra) > 0 {
				note(fmt.Sprintf("%s: the picture %s carries %v", name, part.Name, extra))
			}
			continue // the picture itself is drawn from sizes alone
		}
		if len(part.Comment)+len(part.Extra)+len(r.Comment) > 0 {
			note(fmt.Sprintf("%s: the archive says something of %s", name, part.Name))
		}
		numbers := !strings.Contains(part.Name, "theme") && !strings.Contains(part.Name, "styles") // whose sizes and colours are numbers too
		for _, secret := range secrets {
			if (numbers || !strings.ContainsAny(secret, "0123456789")) && strings.Contains(content, strings.ToLower(secret)) {
				note(fmt.Sprintf("%s: %s holds %q", name, part.Name, secret))
			}
		}
	}
}
