package main

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"html"
	"io"
	"math"
	"math/big"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/txtar"

	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// month is one shop's month, run as a shop of inches or of millimetres.
type month struct {
	metric bool
	folder string
	said   []saying
}

// saying is a command line with what it printed, or a file with its texts.
type saying struct {
	by   string
	text string
	exit int
}

// runMonth runs the commands of testdata/month.txtar in a new folder.
func runMonth(t *testing.T, metric bool) *month {
	t.Helper()
	m := &month{metric: metric, folder: t.TempDir()}
	t.Chdir(m.folder)
	archive, err := txtar.ParseFile(filepath.Join(testFolder, "testdata", "month.txtar"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range archive.Files[1:] {
		if err := os.WriteFile(f.Name, []byte(m.dressed(string(f.Data))), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	m.setUp(t)
	for line := range strings.Lines(m.dressed(string(archive.Files[0].Data))) {
		line, cannot := strings.CutSuffix(strings.TrimSpace(line), "# cannot")
		m.run(words(line)...)
		if last := m.said[len(m.said)-1]; (last.exit != 0) != cannot {
			t.Errorf("%s: exit %d\n%s", last.by, last.exit, last.text)
		}
	}
	return m
}

// testFolder is where the tests start.
var testFolder, _ = os.Getwd()

// setUp gives both shops the same settings: the inch shop's own defaults
// wherever the metric ones differ.
func (m *month) setUp(t *testing.T) {
	if m.metric {
		m.run("shop", "set", "Units", "mm")
		m.run("shop", "set", "Decimal mark", ",")
	}
	m.run("shop", "set", "Dates", m.pick("month first", "day first"))
	for _, set := range [][2]string{{"Rod", "M10x1.5"}, {"Stops per turn", "3"}, {"Typical class", "27"}, {"Temperature", "20 C"}} {
		m.run("shop", "set", set[0], set[1])
	}
	for i := range settings.Definitions {
		d := &settings.Definitions[i]
		switch {
		case d.MetricName != "":
			m.run("shop", "set", m.pick(d.Name, d.MetricName), m.pick(strconv.FormatFloat(50*d.Metres, 'f', 9, 64), "50"))
		case d.Metric != "" && d.UnitIn(measure.Millimetres) == "mm":
			m.run("shop", "set", d.Name, m.lengths(d.Default))
		}
	}
	for _, s := range m.said {
		if s.exit != 0 {
			t.Fatalf("%s: exit %d\n%s", s.by, s.exit, s.text)
		}
	}
}

func (m *month) pick(inches, mm string) string {
	if m.metric {
		return mm
	}
	return inches
}

var dress = regexp.MustCompile(`\{([#@]?)([^{}]*)\}`)

// dressed writes the tokens of a text as this shop does.
func (m *month) dressed(text string) string {
	return dress.ReplaceAllStringFunc(text, func(s string) string {
		kind, inside := s[1:2], s[1:len(s)-1]
		inches, mm, either := strings.Cut(inside, "|")
		switch {
		case either:
			return m.pick(inches, mm)
		case kind == "#":
			return m.number(inside[1:])
		case kind == "@":
			day, err := time.Parse(time.DateOnly, inside[1:])
			if err != nil {
				panic(err)
			}
			return day.Format(m.pick("1/2/2006", "2.1.2006"))
		}
		return m.lengths(inside)
	})
}

func (m *month) number(decimal string) string {
	return m.pick(decimal, strings.Replace(decimal, ".", ",", 1))
}

var inchSize = regexp.MustCompile(`\d+-\d+/\d+|\d+/\d+|\d+\.\d+|\d+`)

// lengths writes the inches of a text in this shop's unit.
func (m *month) lengths(text string) string {
	if !m.metric {
		return text
	}
	return inchSize.ReplaceAllStringFunc(text, func(size string) string {
		sum := new(big.Rat)
		for part := range strings.SplitSeq(size, "-") {
			r, _ := new(big.Rat).SetString(part)
			sum.Add(sum, r)
		}
		sum.Mul(sum, big.NewRat(254, 10))
		decimal := sum.FloatString(9)
		return m.number(strings.TrimRight(strings.TrimRight(decimal, "0"), "."))
	})
}

// words parts a command line at its spaces, but not within quotes.
func words(line string) (out []string) {
	for i, part := range strings.Split(strings.TrimSpace(line), `"`) {
		if i%2 == 1 {
			out = append(out, part)
			continue
		}
		out = append(out, strings.Fields(part)...)
	}
	return out
}

// run runs one command on a fixed day and keeps what it says.
func (m *month) run(args ...string) {
	if len(args) == 0 {
		return
	}
	var screen bytes.Buffer
	getenv := func(name string) string {
		if name == "BATCHWRIGHT_SHOP" {
			return filepath.Join(m.folder, "shop.db")
		}
		return ""
	}
	now := func() time.Time { return time.Date(2026, 11, 16, 8, 0, 0, 0, time.UTC) }
	code := run(context.Background(), world{args: args, out: &screen, err: &screen, getenv: getenv, now: now})
	m.said = append(m.said, saying{by: "batchwright " + strings.Join(args, " "), text: screen.String(), exit: code})
}

// everything is what the month printed: screens, and the texts of its files.
func (m *month) everything(t *testing.T) []saying {
	t.Helper()
	out := m.said
	files, err := filepath.Glob(filepath.Join(m.folder, "*"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		switch filepath.Ext(f) {
		case ".html":
			out = append(out, saying{by: filepath.Base(f), text: pageTexts(t, f)})
		case ".xlsx":
			out = append(out, bookTexts(t, f)...)
		}
	}
	return out
}

// pageTexts are the texts of a page, those that its script shows included.
func pageTexts(t *testing.T, file string) string {
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	text := regexp.MustCompile(`(?s)<style>.*?</style>`).ReplaceAllString(string(data), "")
	runs := regexp.MustCompile(`(?m)^\s*const runs = .*$`).FindString(text)
	text = regexp.MustCompile(`(?s)<script>.*?</script>`).ReplaceAllString(text, "")
	text = regexp.MustCompile(`<[^>]+>`).ReplaceAllString(text, "\n")
	for _, said := range regexp.MustCompile(`"((?:[^"\\]|\\.)*)"`).FindAllStringSubmatch(runs, -1) {
		text += "\n" + said[1]
	}
	return html.UnescapeString(text)
}

var cellText = regexp.MustCompile(`(?s)<(t|oddHeader|oddFooter|evenHeader|evenFooter|prompt|promptTitle|error|a:t|c:v)(?: [^>]*)?>(.*?)</`)
var formatCode = regexp.MustCompile(`formatCode="([^"]*)"`)

// bookTexts are the texts of a workbook's parts: cells, headers, footers, hints,
// charts; and its number formats.
func bookTexts(t *testing.T, file string) (out []saying) {
	book, err := zip.OpenReader(file)
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	for _, part := range book.File {
		if filepath.Ext(part.Name) != ".xml" {
			continue
		}
		r, err := part.Open()
		if err != nil {
			t.Fatal(err)
		}
		data, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		var text strings.Builder
		for _, m := range cellText.FindAllSubmatch(data, -1) {
			text.WriteString(html.UnescapeString(string(m[2])) + "\n")
		}
		for _, m := range formatCode.FindAllSubmatch(data, -1) {
			code := html.UnescapeString(string(m[1]))
			text.WriteString(strings.NewReplacer("0.0", "0,0", "?/?", "1/16").Replace(code) + "\n")
		}
		out = append(out, saying{by: filepath.Base(file) + " " + part.Name, text: text.String()})
	}
	return out
}

// inchWord finds inch marks, fractions of an inch and US units.
var inchWord = regexp.MustCompile(`(?i)\d ?(?:"|″|”|'')|\d ?in\b|\binch|\d+-\d+/\d+|\b(?:1|3|5|7|9|11|13|15)/(?:2|4|8|16|32|64)\b` +
	`|\d ?(?:am|pm)\b|°F|\d F\b|\bboard f(?:oot|eet)|\bbf\b|\d ?(?:lb|lbs|ft|oz)\b|\b(?:foot|feet|pounds?|gallons?|quarts?|ounces?)\b|\bft2\b`)

// pointed finds a figure with a decimal point.
var pointedFigure = regexp.MustCompile(`\d+\.\d+`)

// pointAllowed are texts that are no decimals and no inches: dates, threads by
// their standard's designation, names of offcuts, a regulation, coats of boxes
// in a task's name, and "in" that is a word.
var pointAllowed = regexp.MustCompile(`\b\d{1,2}\.\d{1,2}\.\d{4}\b|\b\d{1,2}/\d{1,2}/\d{4}\b|\bM\d+x[\d.]+|\bTr\d+x[\d.]+` +
	`|\b(?:\d+-)?[A-Z]+\d+(?:#\d+)?(?:\.\d+)+\b|[a-z]#\d+(?:\.\d+)+\b|CFR 1910\.\d+|\bcoat (?:\d+\.\d(?:, )?)+|\bin (?:all|a|one|\d+)\b`)

// usFaults lists what no metric shop should read, line by line.
func usFaults(all []saying) (faults []string) {
	seen := map[string]bool{}
	for _, s := range all {
		for line := range strings.Lines(s.text) {
			line = strings.TrimSpace(line)
			plain := pointAllowed.ReplaceAllString(line, "")
			found := inchWord.FindString(plain)
			if found == "" {
				found = pointedFigure.FindString(plain)
			}
			if found != "" && !seen[line] {
				seen[line] = true
				faults = append(faults, fmt.Sprintf("%s: %q in %s", s.by, found, line))
			}
		}
	}
	return faults
}

// A month of a metric shop prints no inch mark, no US unit and no decimal point:
// on no screen, sheet or page. The same text, run as a shop of inches, gives the
// same plans, prices and days.
func TestMonthInBothUnits(t *testing.T) {
	if slow > 1 && testing.Short() {
		t.Skip("skipped: a month takes long under the race detector, and -short was given")
	}
	metric := runMonth(t, true)
	for _, fault := range usFaults(metric.everything(t)) {
		t.Error(fault)
	}
	n := 0
	ours, theirs := metric.documents(t), runMonth(t, false).documents(t)
	for name := range ours {
		n += sameNumbers(t, name, theirs[name], ours[name])
	}
	if n < 3000 {
		t.Errorf("only %d values were compared", n)
	}
}

// The search finds what it searches for: a month of inches is full of it, and so
// is each planted text, alone.
func TestUSUnitsAreFound(t *testing.T) {
	for _, text := range []string{"3-1/2", `12"`, "9 in", "1/16", "0.5 mm", "8:00 AM", "4 pm", "70 F", "12.5 board feet", "3 lb", "Rip a foot", "88.50 €"} {
		if len(usFaults([]saying{{text: "a " + text + " board"}})) != 1 {
			t.Errorf("%q was not found", text)
		}
	}
	for _, text := range []string{"18.12.2026", "K1#2.1", "M10x1.5", "87,5 mm", "6 in all", "in 2 cartons"} {
		if found := usFaults([]saying{{text: text}}); len(found) != 0 {
			t.Error(found)
		}
	}
}

// monthLeftOut are the fields of the month's JSON that name the dress itself:
// units, texts that people read, and cuts set on the shop's own rule: their order
// follows from which settings are equal on it.
var monthLeftOut = map[string]bool{"units": true, "settings": true, "cuts": true, "milling": true, "problems": true, "findings": true, "readings": true, "seconds": true, "sha256": true,
	"say": true, "a_low": true, "a_high": true, "b_low": true, "b_high": true, "why": true, "from": true, "currency": true, "did": true, "fix": true,
	"read": true, "said": true, "blade": true, "text": true, "order": true, "cards": true, "what": true, "note": true,
	"unit": true, "for": true, "quantity": true, "rate": true} // of a cost: its amount is compared

// documents are the month's JSON files.
func (m *month) documents(t *testing.T) map[string]any {
	out := map[string]any{}
	for _, name := range []string{"plan", "quote", "fair", "week", "rack", "jobs", "accept", "review"} {
		data, err := os.ReadFile(filepath.Join(m.folder, name+".json"))
		if err != nil {
			t.Fatal(err)
		}
		var doc any
		if err := json.Unmarshal(data, &doc); err != nil {
			t.Fatal(err)
		}
		out[name] = doc
	}
	return out
}

// withUnit is a text that names a length in the shop's unit.
var withUnit = regexp.MustCompile(`\b(?:in|mm)\b`)

// sameNumbers compares two JSON values field by field and counts them.
func sameNumbers(t *testing.T, at string, a, b any) (n int) {
	switch a := a.(type) {
	case map[string]any:
		other, ok := b.(map[string]any)
		if !ok || len(a) != len(other) {
			t.Errorf("%s: %v in inches, %v in millimetres", at, a, b)
			return 0
		}
		for key, value := range a {
			if !monthLeftOut[key] {
				n += sameNumbers(t, at+"."+key, value, other[key])
			}
		}
		return n
	case []any:
		other, ok := b.([]any)
		if !ok || len(a) != len(other) {
			t.Errorf("%s: %d in inches, %v in millimetres", at, len(a), b)
			return 0
		}
		for i := range a {
			n += sameNumbers(t, fmt.Sprintf("%s[%d]", at, i), a[i], other[i])
		}
		return n
	case float64:
		other, ok := b.(float64)
		if !ok || math.Abs(a-other) > 1e-5*max(1, math.Abs(a)) {
			t.Errorf("%s: %v in inches, %v in millimetres", at, a, b)
		}
		return 1
	}
	x, isText := a.(string)
	y, _ := b.(string)
	if isText && withUnit.MatchString(x) && withUnit.MatchString(y) {
		return 0
	}
	if a != b {
		t.Errorf("%s: %v in inches, %v in millimetres", at, a, b)
	}
	return 1
}
