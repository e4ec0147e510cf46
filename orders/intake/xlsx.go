package intake

import (
	"encoding/xml"
	"path"
	"slices"
	"strings"
)

// workbook reads every part to its end, and the sheets, strings and styles
// into a book.
func (p *pack) workbook(data []byte) (*book, error) {
	x := &xlsx{pack: p, book: &book{}, rels: map[string]rel{}}
	main, err := x.mainPart()
	if err != nil {
		return nil, err
	}
	for _, step := range []func(string) error{x.readRels, x.readWorkbook, x.readStrings, x.readStyles, x.readSheets, x.readRest} {
		if err := step(main); err != nil {
			return nil, err
		}
	}
	x.compute(data)
	return x.book, nil
}

// xlsx is a workbook while it is read.
type xlsx struct {
	*pack
	book     *book
	rels     map[string]rel
	listed   []listedSheet
	date1904 bool
	strings  []string
	dates    []bool // by style: shown as a date or time
	cells    int
	formulas formulaCount
	done     map[string]bool // parts decoded
}

type rel struct{ kind, target string }

type listedSheet struct {
	name, relID string
	hidden      bool
}

func (x *xlsx) read(name string, visit func(xml.Token) error) error {
	if x.done == nil {
		x.done = map[string]bool{}
	}
	x.done[name] = true
	return x.decode(name, visit)
}

func (x *xlsx) mainPart() (string, error) {
	main := "xl/workbook.xml"
	if x.parts["_rels/.rels"] != nil {
		err := x.read("_rels/.rels", func(t xml.Token) error {
			if e, ok := t.(xml.StartElement); ok && e.Name.Local == "Relationship" && strings.HasSuffix(attr(e, "Type"), "/officeDocument") {
				main = partName(attr(e, "Target"))
			}
			return nil
		})
		if err != nil {
			return "", err
		}
	}
	if x.parts[main] == nil {
		return "", x.damaged("its workbook part is missing")
	}
	return main, nil
}

func (x *xlsx) readRels(main string) error {
	name := path.Join(path.Dir(main), "_rels", path.Base(main)+".rels")
	return x.read(name, func(t xml.Token) error {
		e, ok := t.(xml.StartElement)
		if !ok || e.Name.Local != "Relationship" {
			return nil
		}
		target := attr(e, "Target")
		if !strings.HasPrefix(target, "/") {
			target = path.Join(path.Dir(main), target)
		}
		x.rels[attr(e, "Id")] = rel{path.Base(attr(e, "Type")), partName(target)}
		return nil
	})
}

func (x *xlsx) readWorkbook(main string) error {
	err := x.read(main, func(t xml.Token) error {
		e, ok := t.(xml.StartElement)
		if !ok {
			return nil
		}
		switch e.Name.Local {
		case "workbookPr":
			x.date1904 = truth(attr(e, "date1904"))
		case "sheet":
			state := attr(e, "state")
			x.listed = append(x.listed, listedSheet{attr(e, "name"), attr(e, "id"), state == "hidden" || state == "veryHidden"})
		}
		return nil
	})
	if err == nil && len(x.listed) == 0 {
		return x.damaged("it lists no sheet")
	}
	return err
}

// relOf finds the one part of a kind, such as the shared strings.
func (x *xlsx) relOf(kind string) string {
	for _, r := range x.rels {
		if r.kind == kind {
			return r.target
		}
	}
	return ""
}

func (x *xlsx) readStrings(string) error {
	name := x.relOf("sharedStrings")
	if name == "" {
		return nil
	}
	var text strings.Builder
	inText, phonetic := false, false
	return x.read(name, func(t xml.Token) error {
		switch e := t.(type) {
		case xml.StartElement:
			switch e.Name.Local {
			case "si":
				text.Reset()
			case "rPh":
				phonetic = true
			case "t":
				inText = !phonetic
			}
		case xml.CharData:
			if inText {
				text.Write(e)
			}
		case xml.EndElement:
			switch e.Name.Local {
			case "rPh":
				phonetic = false
			case "t":
				inText = false
			case "si":
				x.strings = append(x.strings, unescape(text.String()))
				x.idle -= 2
				if len(x.strings) > maxTexts {
					return x.tooLarge("it has more texts than an order needs")
				}
			}
		}
		return nil
	})
}

// readSheets reads the listed worksheets in their order.
func (x *xlsx) readSheets(string) error {
	for _, l := range x.listed {
		r, ok := x.rels[l.relID]
		switch {
		case !ok || x.parts[r.target] == nil:
			return x.damaged("the sheet " + l.name + " is listed but missing")
		case r.kind != "worksheet":
			x.book.notes = append(x.book.notes, "the sheet "+l.name+" is a chart or dialog; skipped")
			continue
		case x.done[r.target]:
			return x.damaged("two sheets share one part")
		}
		s := &sheet{name: l.name, hidden: l.hidden}
		w := &sheetReader{xlsx: x, sheet: s}
		if err := x.read(r.target, w.token); err != nil {
			return err
		}
		if w.fault != "" {
			return x.damaged(w.fault)
		}
		x.book.sheets = append(x.book.sheets, s)
	}
	return nil
}

// readRest reads what is not needed, so that a part that is cut short or never
// ends is found before any cell is believed.
func (x *xlsx) readRest(string) error {
	for _, name := range x.names {
		var err error
		switch ext := path.Ext(name); {
		case x.done[name] || strings.HasSuffix(name, "/") || x.parts[name].FileInfo().IsDir():
		case ext == ".xml" || ext == ".rels":
			err = x.read(name, func(xml.Token) error { return nil })
		default:
			err = x.drain(name)
		}
		if err != nil {
			return err
		}
	}
	if slices.ContainsFunc(x.names, func(n string) bool { return path.Base(n) == "vbaproject.bin" }) {
		x.book.notes = append(x.book.notes, "the workbook holds macros; they were not run")
	}
	return nil
}

func attr(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func truth(s string) bool { return s == "1" || s == "true" || s == "on" }
