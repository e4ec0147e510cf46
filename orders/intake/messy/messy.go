// Package messy holds order sheets as shops send them, written out as text with
// the answer to each, and makes the files from them, for tests. It says what
// must be read and what must be found and leaves the reading to intake.
package messy

import (
	"embed"
	"fmt"
	"path"
	"strings"

	"batchwright/orders"
)

//go:embed sheets/*.txt
var sheets embed.FS

// Case is one file and the answer to it. The answers were written from the
// rules of the trade before the sheets were read; a few were corrected since,
// where the answer was wrong and not the reader.
type Case struct {
	Name  string
	File  string // "order.xlsx" or "order.csv"
	Data  []byte
	Reads []string  // what must be read, as Lines writes it
	Found []Finding // every error and warning that must be said; notes only where one matters
}

// Finding is a problem that must be reported.
type Finding struct {
	Level orders.Level
	At    string // "Boxes!C2"; "C2" on the first sheet; "-" nowhere in particular
	Says  string // part of what was read, done or to do
}

// Cell is the cell alone, "" for nowhere in particular.
func (f Finding) Cell() string {
	return strings.TrimPrefix(f.At[strings.LastIndex(f.At, "!")+1:], "-")
}

// usual are the headings of most cases, tea the line beneath them.
const (
	usual = "Box|Count|Length|Width|Height|Measured|Thickness|Wood"
	tea   = "Tea box|6|12|8|4|outside|1/2|cherry"
)

// All is every case, in the order of the files they stand in.
func All() ([]Case, error) {
	files, err := sheets.ReadDir("sheets")
	if err != nil {
		return nil, err
	}
	var all []Case
	for _, f := range files {
		text, err := sheets.ReadFile("sheets/" + f.Name())
		if err != nil {
			return nil, err
		}
		theme := strings.TrimSuffix(path.Base(f.Name()), ".txt")
		for _, part := range strings.Split("\n"+string(text), "\n== ")[1:] {
			c, err := parseCase(part)
			if err != nil {
				return nil, fmt.Errorf("%s: %s: %w", f.Name(), c.Name, err)
			}
			c.Name = theme + ": " + c.Name
			all = append(all, c)
		}
	}
	return all, nil
}

// parseCase reads a name, a sheet or list, a line --, and the answer.
func parseCase(text string) (c Case, err error) {
	name, rest, _ := strings.Cut(text, "\n")
	c.Name = strings.TrimSpace(name)
	body, answer, ok := strings.Cut(rest, "\n--\n")
	if !ok {
		return c, fmt.Errorf("there is no line --")
	}
	for line := range strings.Lines(answer) {
		if line = strings.TrimSpace(line); line != "" {
			c.answer(line)
		}
	}
	if encoding, list, ok := strings.Cut(body, "\n"); ok && strings.HasPrefix(encoding, "@ list") {
		c.File = "order.csv"
		c.Data, err = encode(list+"\n", strings.Fields(encoding)[2:])
		return c, err
	}
	c.File = "order.xlsx"
	c.Data, err = workbook(body)
	return c, err
}

func (c *Case) answer(line string) {
	for _, level := range []orders.Level{orders.Error, orders.Warning, orders.Note} {
		if rest, ok := strings.CutPrefix(line, string(level)+" "); ok {
			at, says, _ := strings.Cut(rest, " ")
			c.Found = append(c.Found, Finding{level, at, strings.TrimSpace(says)})
			return
		}
	}
	c.Reads = append(c.Reads, line)
}
