// Package workbook writes reports and drawings as workbooks that print as they
// are, on A4 and Letter. It leaves what is said to reports, and what is drawn
// to draw.
package workbook

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"io/fs"
	"sort"
	"strings"

	"github.com/xuri/excelize/v2"

	"batchwright/orders/measure"
)

// Font is one that every common spreadsheet program has, or has a stand-in for.
const font = "Arial"

// Paper sizes by their number in a workbook.
const (
	letter = 1
	a4     = 9
)

// book is a workbook while it is written.
type book struct {
	file   *excelize.File
	styles map[style]int
	names  map[string]bool // sheet names taken, lower case
	paper  int
	foot   string // stands at the foot of every page
	mark   string // stands at the head of every page and sheet; empty: nothing
	first  bool
}

// newBook is an empty workbook; shops that think in inches print on Letter.
func newBook(unit measure.Unit, foot, mark string) (*book, error) {
	b := &book{file: excelize.NewFile(), styles: map[style]int{}, names: map[string]bool{},
		paper: letter, foot: foot, mark: mark, first: true}
	if unit.Metric() {
		b.paper = a4
	}
	if err := b.file.SetDefaultFont(font); err != nil {
		return nil, err
	}
	// The dates are fixed: the same plan gives the same bytes.
	const day = "2000-01-01T00:00:00Z"
	return b, b.file.SetDocProps(&excelize.DocProperties{Creator: "Batchwright", LastModifiedBy: "Batchwright",
		Title: cut(foot), Created: day, Modified: day})
}

// bytes closes the workbook. Its parts stand in a fixed order.
func (b *book) bytes() ([]byte, error) {
	defer b.file.Close()
	var out bytes.Buffer
	b.file.SetZipWriter(func(w io.Writer) excelize.ZipWriter { return &sortedZip{out: w, parts: map[string]*bytes.Buffer{}} })
	if err := b.file.Write(&out); err != nil {
		return nil, fmt.Errorf("write the workbook: %w", err)
	}
	return out.Bytes(), nil
}

// sortedZip holds a workbook's parts back and writes them sorted, the list of
// content types first, so that bytes do not depend on the order of a map.
type sortedZip struct {
	out   io.Writer
	parts map[string]*bytes.Buffer
}

const contentTypes = "[Content_Types].xml"

func (z *sortedZip) Create(name string) (io.Writer, error) {
	z.parts[name] = new(bytes.Buffer)
	return z.parts[name], nil
}

func (z *sortedZip) AddFS(fs.FS) error { return fmt.Errorf("a workbook has no folders") }

func (z *sortedZip) Close() error {
	names := make([]string, 0, len(z.parts))
	for name := range z.parts {
		names = append(names, name)
	}
	sort.Slice(names, func(i, j int) bool {
		if (names[i] == contentTypes) != (names[j] == contentTypes) {
			return names[i] == contentTypes
		}
		return names[i] < names[j]
	})
	zw := zip.NewWriter(z.out)
	for _, name := range names {
		content := z.parts[name].Bytes()
		if name == contentTypes {
			content = sortTypes(content)
		}
		if err := writePart(zw, name, content); err != nil {
			return err
		}
	}
	return zw.Close()
}

// writePart stores pictures as they are, since a PNG is packed already.
func writePart(zw *zip.Writer, name string, content []byte) error {
	method := zip.Deflate
	if strings.HasSuffix(name, ".png") {
		method = zip.Store
	}
	w, err := zw.CreateHeader(&zip.FileHeader{Name: name, Method: method})
	if err != nil {
		return err
	}
	_, err = w.Write(content)
	return err
}

// sortTypes puts the entries of the content types into one order.
func sortTypes(xml []byte) []byte {
	text := string(xml)
	from, to := strings.Index(text, "<Default"), strings.LastIndex(text, "</Types>")
	if o := strings.Index(text, "<Override"); from < 0 || o >= 0 && o < from {
		from = o
	}
	if from < 0 || to < from {
		return xml
	}
	entries := strings.SplitAfter(text[from:to], ">")
	var kept []string
	for _, e := range entries {
		if e != "" && !strings.HasPrefix(e, "</") {
			kept = append(kept, strings.TrimSuffix(strings.TrimSuffix(e, ">"), "/")+"/>")
		}
	}
	sort.Strings(kept)
	return []byte(text[:from] + strings.Join(kept, "") + text[to:])
}

// sheetName makes a name that is allowed and not taken: at most 31 characters,
// none of []:*?/\, no quote at an end.
func (b *book) sheetName(want string) string {
	clean := strings.Map(func(r rune) rune {
		if strings.ContainsRune(`[]:*?/\`, r) || r < ' ' {
			return '-'
		}
		return r
	}, want)
	clean = strings.Trim(clean, "' ")
	if clean == "" {
		clean = "Sheet"
	}
	name := clip(clean, 31)
	for n := 2; b.names[strings.ToLower(name)]; n++ {
		tail := fmt.Sprintf(" (%d)", n)
		name = clip(clean, 31-len(tail)) + tail
	}
	b.names[strings.ToLower(name)] = true
	return name
}

// clip shortens a text to n UTF-16 units, which is how sheets count.
func clip(text string, n int) string {
	units := 0
	for i, r := range text {
		if r >= 0x10000 {
			units++
		}
		if units++; units > n {
			return text[:i]
		}
	}
	return text
}

// Cells hold 32,767 characters; a longer text says that it is cut.
const maxText = 32_767

func cut(text string) string {
	text = strings.Map(func(r rune) rune {
		if r < ' ' && r != '\n' && r != '\t' || r == 0xFFFE || r == 0xFFFF {
			return -1
		}
		return r
	}, text)
	const tail = " … (cut here: a cell holds no more)"
	if clip(text, maxText) == text {
		return text
	}
	return clip(text, maxText-len(tail)) + tail
}
