package intake

import (
	"bytes"
	"io"
	"path/filepath"
	"strings"

	"github.com/richardlehane/mscfb"
)

const saveAs = "open it in its own program and save it as .xlsx"

// open tells what a file is by its first bytes and reads it to its end.
func open(file string, data []byte) (*book, error) {
	if len(bytes.TrimSpace(data)) == 0 {
		return nil, &Refusal{file, "empty", "save the order again, or start from batchwright new"}
	}
	switch {
	case bytes.HasPrefix(data, []byte("PK\x03\x04")), bytes.HasPrefix(data, []byte("PK\x05\x06")):
		return openZip(file, data)
	case bytes.HasPrefix(data, []byte("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1")):
		return nil, &Refusal{file, oleKind(data), "open it, then save it as .xlsx without a password"}
	}
	if what := foreign(data); what != "" {
		return nil, &Refusal{file, what, saveAs}
	}
	if ext := strings.ToLower(filepath.Ext(file)); (ext == ".xlsx" || ext == ".xlsm") && !looksLikeText(data) {
		return nil, &Refusal{file, "not a workbook, or damaged", "get a fresh copy of the order"}
	}
	return openCSV(file, data)
}

// oleKind names a file in the container of the older formats.
func oleKind(data []byte) (what string) {
	const unclear = "damaged or not a spreadsheet (an older office file)"
	defer func() {
		if recover() != nil {
			what = unclear
		}
	}()
	doc, err := mscfb.New(bytes.NewReader(data))
	if err != nil {
		return unclear
	}
	for n := 0; n < 1000; n++ {
		entry, err := doc.Next()
		if err == io.EOF {
			break
		}
		if err != nil {
			return unclear
		}
		switch entry.Name {
		case "EncryptedPackage", "EncryptionInfo":
			return "a password-protected workbook"
		case "Workbook", "Book":
			return "an old .xls workbook"
		case "WordDocument":
			return "a text document, not a spreadsheet"
		}
	}
	return unclear
}

var magics = []struct{ start, what string }{
	{"%PDF", "a PDF, not a spreadsheet"},
	{"\x89PNG", "a picture, not a spreadsheet"},
	{"\xFF\xD8\xFF", "a picture, not a spreadsheet"},
	{"GIF8", "a picture, not a spreadsheet"},
	{"{\\rtf", "a text document (RTF), not a spreadsheet"},
	{"\x1F\x8B", "a compressed file (gzip)"},
	{"7z\xBC\xAF", "a compressed file (7z)"},
	{"Rar!", "a compressed file (RAR)"},
	{"SQLite format 3", "a database, perhaps the shop file, not an order"},
	{"\x09\x08", "an old .xls workbook"},
	{"\x7FELF", "a program, not a spreadsheet"},
	{"MZ\x90", "a program, not a spreadsheet"},
}

func foreign(data []byte) string {
	for _, m := range magics {
		if bytes.HasPrefix(data, []byte(m.start)) {
			return m.what
		}
	}
	head := strings.ToLower(string(bytes.TrimLeft(data[:min(len(data), 512)], "\xEF\xBB\xBF \t\r\n")))
	switch {
	case strings.HasPrefix(head, "<?xml") || strings.HasPrefix(head, "<workbook"):
		return "an XML file, not an .xlsx workbook"
	case strings.HasPrefix(head, "<!doctype") || strings.HasPrefix(head, "<html") || strings.HasPrefix(head, "<table") || strings.HasPrefix(head, "<meta"):
		return "a web page, not a workbook"
	case strings.HasPrefix(head, "id;p"):
		return "a .slk file"
	}
	return ""
}
