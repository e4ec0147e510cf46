package workbook_test

import (
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"batchwright/jigplan"
)

var paperSize = regexp.MustCompile(`paperSize="\d+"`)

// paper rewrites a workbook for another paper size: 1 is Letter, 9 is A4.
func paper(t *testing.T, data []byte, size int) []byte {
	t.Helper()
	return rewritten(t, data, func(sheet []byte) []byte {
		return paperSize.ReplaceAll(sheet, []byte(`paperSize="`+strconv.Itoa(size)+`"`))
	})
}

// needsPrinter skips a test that no second reader can carry out here.
func needsPrinter(t *testing.T) {
	t.Helper()
	needsLibreOffice(t)
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("skipped: pdftotext is not installed, so no second reader can print the workbook")
	}
}

// printout is one workbook on paper.
type printout struct {
	name  string   // which workbook, paper and font
	pages []string // the words of each page with their places
	file  string
}

// onPaper has LibreOffice print workbooks on Letter and on A4, each in both
// families of fonts.
func onPaper(t *testing.T, books map[string][]byte, check func(*testing.T, printout)) {
	t.Helper()
	needsPrinter(t)
	sized := map[string][]byte{}
	for name, data := range books {
		sized[name+" on Letter"], sized[name+" on A4"] = paper(t, data, 1), paper(t, data, 9)
	}
	folder, files := laidDown(t, sized)
	for _, family := range fontFamilies {
		t.Run(family, func(t *testing.T) {
			to := convertedIn(t, family, folder, "pdf", files...)
			for name := range sized {
				file := filepath.Join(to, name+".pdf")
				boxes, err := exec.Command("pdftotext", "-bbox", file, "-").Output()
				if err != nil {
					t.Fatal(err)
				}
				pages := strings.Split(string(boxes), "<page ")[1:]
				t.Run(name, func(t *testing.T) { check(t, printout{name, pages, file}) })
			}
		})
	}
}

var (
	wordBox  = regexp.MustCompile(`<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">([^<]*)</word>`)
	pageSize = regexp.MustCompile(`width="([\d.]+)" height="([\d.]+)"`)
)

func number(text string) float64 {
	f, _ := strconv.ParseFloat(text, 64)
	return f
}

// TestPrintsOnLetterAndA4 prints the same workbook on both papers: nothing may
// stand outside the area that common printers reach, no page may be empty, no
// number may be shown as ###, and the figures of a count card are 13 mm high.
func TestPrintsOnLetterAndA4(t *testing.T) {
	books := map[string][]byte{}
	for name, p := range map[string]*jigplan.Plan{"inches": once(t, shopPlan), "metric": once(t, metricPlan)} {
		books[name] = written(t, p, name+".xlsx")
	}
	onPaper(t, books, func(t *testing.T, p printout) { checkPages(t, p.pages) })
}

func checkPages(t *testing.T, pages []string) {
	t.Helper()
	// pdftotext gives a word's line height, 1.16 of the size in the stand-in
	// font; a digit is 0.73 of the size high.
	const lineHeight, digit = 1.30, 0.70
	if mm := checkEdges(t, pages) / lineHeight * digit / 72 * 25.4; mm < 12.5 {
		t.Errorf("the largest figures are %.1f mm high, want 13", mm)
	}
}

// checkEdges looks for words beyond a printer's reach, empty pages and numbers
// shown as ###, and gives the height of the tallest word.
func checkEdges(t *testing.T, pages []string) (tallest float64) {
	t.Helper()
	const edge = 5 * 72 / 25.4 // 5 mm: what a printer cannot reach
	for i, page := range pages {
		size := pageSize.FindStringSubmatch(page)
		wide, tall := number(size[1]), number(size[2])
		words := wordBox.FindAllStringSubmatch(page, -1)
		if len(words) < 12 { // header and footer alone have fewer
			t.Errorf("page %d holds only %d words", i+1, len(words))
		}
		for _, w := range words {
			if number(w[1]) < edge || number(w[2]) < edge || number(w[3]) > wide-edge || number(w[4]) > tall-edge {
				t.Errorf("page %d: %q stands at %s..%s, %s..%s of %.0f x %.0f points", i+1, w[5], w[1], w[3], w[2], w[4], wide, tall)
			}
			if strings.Contains(w[5], "###") {
				t.Errorf("page %d shows ### for a number", i+1)
			}
			tallest = max(tallest, number(w[4])-number(w[2]))
		}
	}
	return tallest
}
