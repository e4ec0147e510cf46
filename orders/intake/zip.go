package intake

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/htmlindex"
	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"
)

// Bounds of a workbook as it comes out of the zip, whatever its header says.
const (
	maxEntries    = 5_000
	maxUnpacked   = 256 << 20 // all of it
	maxXML        = 96 << 20  // the parts that are decoded
	maxGap        = 1 << 20   // bytes without a tag: no cell holds that much
	maxIdle       = 500_000   // elements beyond those of filled cells and texts
	maxRatio      = 60        // times its packed size, from fewest bytes on
	fewest        = 4 << 20
	maxDepth      = 64        // elements inside each other
	maxRowTags    = 150_000   // row elements of one sheet, empty ones included
	maxCells      = 1_000_000 // filled ones
	maxTexts      = 600_000   // shared strings
	damagedFix    = "get a fresh copy of the order, or open it, repair it and save it as .xlsx"
	tooLargeFix   = "keep only the order's own sheets and rows, and save it again"
	truncatedWhat = "damaged or cut short: its end is missing"
)

// pack is an open workbook container.
type pack struct {
	file     string
	parts    map[string]*zip.File // by lower-case name
	names    []string             // in the zip's order
	unpacked int64
	decoded  int64
	idle     int // elements read, less those that filled cells and texts account for
}

func openZip(file string, data []byte) (*book, error) {
	if bytes.Count(data, []byte("PK\x01\x02")) > maxEntries {
		return nil, &Refusal{file, fmt.Sprintf("a zip file of more than %d entries, not an order", maxEntries), tooLargeFix}
	}
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, &Refusal{file, truncatedWhat, damagedFix}
	}
	p := &pack{file: file, parts: map[string]*zip.File{}}
	for _, f := range z.File {
		key := partName(f.Name)
		if p.parts[key] != nil {
			return nil, p.damaged("two parts are called " + f.Name)
		}
		if f.Flags&1 != 0 {
			return nil, &Refusal{file, "a password-protected zip file", "unpack it and save the workbook without a password"}
		}
		p.parts[key], p.names = f, append(p.names, key)
	}
	if what := p.foreign(); what != "" {
		return nil, &Refusal{file, what, saveAs}
	}
	return p.workbook(data)
}

func partName(name string) string {
	return strings.ToLower(strings.TrimPrefix(path.Clean("/"+strings.ReplaceAll(name, `\`, "/")), "/"))
}

// foreign names a zip file that is no .xlsx workbook.
func (p *pack) foreign() string {
	has := func(name string) bool { return p.parts[name] != nil }
	switch {
	case has("mimetype") && has("content.xml"):
		return "an .ods spreadsheet or another open document"
	case has("xl/workbook.bin"):
		return "an .xlsb (binary) workbook"
	case has("word/document.xml"):
		return "a text document, not a spreadsheet"
	case has("ppt/presentation.xml"):
		return "a presentation, not a spreadsheet"
	case has("index/document.iwa"):
		return "a spreadsheet of another program"
	case !has("[content_types].xml"):
		return "a zip file, not a workbook"
	}
	return ""
}

func (p *pack) damaged(how string) *Refusal {
	return &Refusal{p.file, "a damaged workbook (" + how + ")", damagedFix}
}

func (p *pack) tooLarge(how string) *Refusal {
	return &Refusal{p.file, "too large for an order: " + how, tooLargeFix}
}

// drain reads a part that is no XML to its end, for its size and checksum.
func (p *pack) drain(name string) error {
	r, err := p.parts[name].Open()
	if err != nil {
		return p.damaged(name + " cannot be unpacked")
	}
	defer r.Close()
	g := &guard{r: r, pack: p, gap: maxUnpacked}
	if _, err := io.Copy(io.Discard, g); err != nil {
		return p.explain(name, err)
	}
	return nil
}

// decode reads an XML part to its end and shows each token to visit. Anything
// not well formed, any DTD and any nesting out of reason is a refusal.
func (p *pack) decode(name string, visit func(xml.Token) error) error {
	f := p.parts[name]
	if f == nil {
		return p.damaged(name + " is missing")
	}
	r, err := f.Open()
	if err != nil {
		return p.damaged(name + " cannot be unpacked")
	}
	defer r.Close()
	g := &guard{r: r, pack: p, xml: true, gap: maxGap, packed: int64(min(f.CompressedSize64, maxUnpacked))}
	d := xml.NewDecoder(transform.NewReader(g, unicode.BOMOverride(encoding.Nop.NewDecoder())))
	d.CharsetReader = charset
	if err := p.walk(d, visit); err != nil {
		return p.explain(name, err)
	}
	// The decoder stops at the last tag; the checksum stands behind it.
	if _, err := io.Copy(io.Discard, g); err != nil {
		return p.explain(name, err)
	}
	return nil
}

func (p *pack) walk(d *xml.Decoder, visit func(xml.Token) error) error {
	depth, roots := 0, 0
	for {
		t, err := d.Token()
		switch {
		case err == io.EOF && roots == 0:
			return errors.New("it is empty")
		case err == io.EOF:
			return nil
		case err != nil:
			return err
		}
		switch t.(type) {
		case xml.StartElement:
			if depth++; depth > maxDepth {
				return errors.New("its elements are nested too deep")
			}
			if depth == 1 {
				roots++
			}
			if p.idle++; p.idle > maxIdle {
				return p.tooLarge("it has hundreds of thousands of empty elements (a zip bomb)")
			}
		case xml.EndElement:
			depth--
		case xml.Directive:
			return errors.New("it holds a document type definition")
		}
		if err := visit(t); err != nil {
			return err
		}
	}
}

func charset(label string, r io.Reader) (io.Reader, error) {
	if l := strings.ToLower(label); l == "utf-8" || strings.HasPrefix(l, "utf-16") {
		return r, nil // already turned into UTF-8 by its byte order mark
	}
	enc, err := htmlindex.Get(label)
	if err != nil {
		return nil, fmt.Errorf("its encoding %q is not known", label)
	}
	return enc.NewDecoder().Reader(r), nil
}

// explain turns whatever stopped the reading of a part into a Refusal.
func (p *pack) explain(name string, err error) error {
	var refusal *Refusal
	if errors.As(err, &refusal) {
		return refusal
	}
	return p.damaged(fmt.Sprintf("%s: %v", name, err))
}

// guard counts bytes as they come out of the zip and stops a flood early.
type guard struct {
	r    io.Reader
	pack *pack
	xml  bool
	gap  int // most bytes without a tag
	run  int

	packed int64 // size in the zip
	total  int64 // bytes come out
}

func (g *guard) Read(buf []byte) (int, error) {
	n, err := g.r.Read(buf)
	g.pack.unpacked += int64(n)
	g.total += int64(n)
	if g.xml {
		g.pack.decoded += int64(n)
	}
	if last := bytes.LastIndexByte(buf[:n], '<'); last >= 0 {
		g.run = n - last
	} else {
		g.run += n
	}
	switch {
	case g.pack.unpacked > maxUnpacked || g.pack.decoded > maxXML:
		return 0, g.pack.tooLarge("it unpacks to more than an order needs (a zip bomb, or very many rows)")
	case g.xml && g.total > fewest && g.total > maxRatio*g.packed:
		return 0, g.pack.tooLarge("a part of it unpacks to hundreds of times its size (a zip bomb)")
	case g.xml && g.run > g.gap:
		return 0, g.pack.tooLarge("one text in it is longer than 1 MB (a zip bomb)")
	}
	return n, err
}
