package workbook_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

var (
	columnMin = regexp.MustCompile(`<col min="(\d+)" max="(\d+)"`)
	rowNumber = regexp.MustCompile(`<row r="(\d+)"`)
	mergeRef  = regexp.MustCompile(`<mergeCell ref="([A-Z]+\d+):([A-Z]+\d+)"`)
	hdrFtr    = regexp.MustCompile(`<odd(?:Header|Footer)>([^<]*)<`)
)

// Spreadsheet programs ask to repair a file whose columns or rows are out of
// order, whose merges overlap, whose header is over 255 characters, or whose
// XML is broken (ECMA-376 part 1, 18.3.1). Each part of each workbook is held
// to that.
func TestFileKeepsTheRules(t *testing.T) {
	problems := wicked(t)
	for name, data := range map[string][]byte{"shop": written(t, once(t, shopPlan), "shop.xlsx"), "wicked": written(t, problems, "wicked.xlsx"), "hand": written(t, handPlan(), "hand.xlsx")} {
		r := unpacked(t, data)
		if r.File[0].Name != "[Content_Types].xml" {
			t.Errorf("%s: the list of content types stands not first", name)
		}
		for _, part := range r.File {
			content := contentOf(t, part)
			if strings.HasSuffix(part.Name, ".xml") || strings.HasSuffix(part.Name, ".rels") {
				wellFormed(t, name+" "+part.Name, content)
			}
			if strings.HasPrefix(part.Name, "xl/worksheets/sheet") {
				sheetRules(t, name+" "+part.Name, string(content))
			}
		}
	}
}

func wellFormed(t *testing.T, name string, content []byte) {
	t.Helper()
	for dec := xml.NewDecoder(bytes.NewReader(content)); ; {
		if _, err := dec.Token(); errors.Is(err, io.EOF) {
			return
		} else if err != nil {
			t.Errorf("%s: %v", name, err)
			return
		}
	}
}

func sheetRules(t *testing.T, name, content string) {
	t.Helper()
	rising(t, name+" columns", columnMin, content)
	rising(t, name+" rows", rowNumber, content)
	taken := map[[2]int]bool{}
	for _, m := range mergeRef.FindAllStringSubmatch(content, -1) {
		c1, r1, err1 := excelize.CellNameToCoordinates(m[1])
		c2, r2, err2 := excelize.CellNameToCoordinates(m[2])
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		for r := r1; r <= r2; r++ {
			for c := c1; c <= c2; c++ {
				if taken[[2]int{c, r}] {
					t.Errorf("%s: merge %s:%s lies over another", name, m[1], m[2])
				}
				taken[[2]int{c, r}] = true
			}
		}
	}
	for _, m := range hdrFtr.FindAllStringSubmatch(content, -1) {
		if len(m[1]) > 255 {
			t.Errorf("%s: a header of %d characters", name, len(m[1]))
		}
	}
}

func rising(t *testing.T, name string, pattern *regexp.Regexp, content string) {
	t.Helper()
	last := 0
	for _, m := range pattern.FindAllStringSubmatch(content, -1) {
		n, _ := strconv.Atoi(m[1])
		if n <= last {
			t.Errorf("%s: %d stands after %d", name, n, last)
		}
		last = n
	}
	if last == 0 && strings.HasSuffix(name, "columns") {
		t.Errorf("%s: none found", name)
	}
}
