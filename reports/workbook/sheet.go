package workbook

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"github.com/xuri/excelize/v2"

	"batchwright/reports/draw"
)

// Sheets are laid out for what A4 and Letter both print: 190 x 259 mm, less
// header and footer. Widths are characters of the default font, and so narrow
// that a stand-in font that is wider still fits.
const (
	portraitWide  = 76.0
	portraitTall  = 253.0 // mm
	landscapeWide = 104.0
	landscapeTall = 184.0 // mm
	pointsPerMM   = 72 / 25.4
	tallestRow    = 409.0 // points, the most a sheet allows
	lineOfSize    = 1.24  // row height of a line, times its size
	indentWide    = 1.5   // characters an indent takes
)

// sheet gathers rows; nothing is written before emit.
type sheet struct {
	name      string
	landscape bool
	bare      bool    // a picture wider than some programs think its cells: no print area
	fit       bool    // made smaller until one page wide; breaks are left to the program
	smaller   bool    // made smaller until one page wide; breaks are ours
	least     float64 // how small it may be printed to save a page, 0.9; 0: it may not
	snug      float64 // how small it is printed for that; 0: full size
	edge      float64 // margin all round in mm, no header and footer; 0: the usual ones
	screen    bool    // some rows are not printed
	widths    []float64
	rows      []row
	repeat    int // rows printed on top of every page: repeat..repeatTo, from 1; 0: none
	repeatTo  int
	frozen    int     // rows that stay in sight
	size      float64 // of the text in its tables; 0: bodySize
	group     int     // the block that is being written; 0: none
	blocks    int     // how many there are
}

type row struct {
	height  float64 // points
	breaks  bool    // a new page starts here
	holds   bool    // on one page with the row that follows
	group   int     // rows of one block stay on one page where a page can hold it; 0: none
	heads   []row   // the headings of its table, repeated where a page begins with it; nil: none
	cells   []cell
	picture *pic
	off     bool // not printed
}

type cell struct {
	col, span int // from 0
	value     any // nil, string, int, float64, formula or rich
	style     style
}

type pic struct {
	draw.Picture
	alt string
}

func (s *sheet) tall() float64 {
	if s.landscape {
		return landscapeTall
	}
	return portraitTall
}

// width of the columns from col on, in characters.
func (s *sheet) width(col, span int) float64 {
	sum := 0.0
	for _, w := range s.widths[col : col+span] {
		sum += w
	}
	return sum
}

// add appends a row as high as its texts need.
func (s *sheet) add(cells ...cell) {
	height := 0.0
	for _, c := range cells {
		height = max(height, s.needs(c))
	}
	s.addTall(height, cells...)
}

// addTall appends a row of a given height in points.
func (s *sheet) addTall(height float64, cells ...cell) {
	s.rows = append(s.rows, row{height: min(math.Ceil(height), tallestRow), group: s.group, cells: cells})
}

// needs is the height of a cell's text in points.
func (s *sheet) needs(c cell) float64 {
	size := c.style.size
	if size == 0 {
		size = bodySize
	}
	n, wide := 1, s.width(c.col, c.span)
	if c.style.indent {
		wide -= indentWide
	}
	if v, ok := c.value.(rich); ok {
		return v.tall(wide)
	}
	text, _ := c.value.(string)
	if !c.style.single && !c.style.shrink {
		n = lines(text, wide, size, c.style.bold)
	}
	return float64(n)*size*lineOfSize + 2.5
}

// gap leaves room between blocks.
func (s *sheet) gap(mm float64) {
	if len(s.rows) > 0 {
		s.addTall(mm * pointsPerMM)
		s.hold()
	}
}

// hold keeps the last row on one page with the next.
func (s *sheet) hold() { s.rows[len(s.rows)-1].holds = true }

// together writes a block that stays on one page where a page can hold it.
func (s *sheet) together(block func()) {
	s.blocks++
	s.group = s.blocks
	block()
	s.group = 0
}

// picture takes a row of its own.
func (s *sheet) picture(p draw.Picture, alt string) {
	s.addTall((p.Height + 1) * pointsPerMM)
	s.rows[len(s.rows)-1].picture = &pic{p, alt}
}

// emit writes the sheet. Everything but rows must stand before the stream is
// flushed, and the page's fit before it is opened, or it is silently lost.
func (b *book) emit(s *sheet) error {
	name := b.sheetName(s.name)
	if err := b.open(name); err != nil {
		return err
	}
	if s.least > 0 {
		s.tighten()
	}
	if !s.fit {
		s.paginate()
	}
	if err := b.page(name, s); err != nil {
		return err
	}
	w, err := b.file.NewStreamWriter(name)
	if err != nil {
		return err
	}
	for i := len(s.widths); i > 0; i-- { // the last column set is written first
		if err := w.SetColWidth(i, i, s.widths[i-1]); err != nil {
			return err
		}
	}
	if s.frozen > 0 {
		top := fmt.Sprintf("A%d", s.frozen+1)
		if err := w.SetPanes(&excelize.Panes{Freeze: true, YSplit: s.frozen, TopLeftCell: top, ActivePane: "bottomLeft"}); err != nil {
			return err
		}
	}
	for i := range s.rows {
		if err := b.row(w, name, i+1, &s.rows[i]); err != nil {
			return fmt.Errorf("sheet %q, row %d: %w", name, i+1, err)
		}
	}
	return w.Flush()
}

func (b *book) open(name string) error {
	if b.first {
		b.first = false
		return b.file.SetSheetName("Sheet1", name)
	}
	_, err := b.file.NewSheet(name)
	return err
}

// page sets paper, margins, header and footer.
func (b *book) page(name string, s *sheet) error {
	const mm = 1 / 25.4
	side, top, bottom, edge := 9.8*mm, 12.5*mm, 12*mm, 6*mm
	header, footer := b.header(), b.footer(name)
	if s.edge > 0 {
		side, top, bottom, edge, header, footer = s.edge*mm, s.edge*mm, s.edge*mm, 0, "", ""
	}
	yes, no, way, wide, tall := true, false, "portrait", 1, 0
	if s.landscape {
		way = "landscape"
	}
	layout := &excelize.PageLayoutOptions{Size: &b.paper, Orientation: &way}
	if percent := uint(s.percent()); percent < 100 {
		layout.AdjustTo = &percent
	}
	if s.fit {
		layout.FitToWidth, layout.FitToHeight = &wide, &tall
		if err := b.file.SetSheetProps(name, &excelize.SheetPropsOptions{FitToPage: &yes}); err != nil {
			return err
		}
	}
	steps := []error{
		b.file.SetPageLayout(name, layout),
		b.file.SetPageMargins(name, &excelize.PageLayoutMarginsOptions{Left: &side, Right: &side, Top: &top, Bottom: &bottom, Header: &edge, Footer: &edge, Horizontally: &yes}),
		b.file.SetHeaderFooter(name, &excelize.HeaderFooterOptions{OddHeader: header, OddFooter: footer}),
		b.file.SetSheetView(name, 0, &excelize.ViewOptions{ShowGridLines: &no}),
	}
	if !s.bare {
		steps = append(steps, b.define(name, "_xlnm.Print_Area", s.printed()))
	}
	if s.repeat > 0 {
		steps = append(steps, b.define(name, "_xlnm.Print_Titles", fmt.Sprintf("$%d:$%d", s.repeat, s.repeatTo)))
	}
	for _, err := range steps {
		if err != nil {
			return err
		}
	}
	return nil
}

// printed is the area of a sheet that goes on paper. Where nothing does, it is
// a single cell that is empty: an empty page is not printed.
func (s *sheet) printed() string {
	last, rows := len(s.widths), len(s.rows)
	if s.screen {
		rows = s.onPaper()
	}
	if s.screen && rows == 0 {
		name, _ := excelize.ColumnNumberToName(last + 2)
		return fmt.Sprintf("$%s$1:$%s$1", name, name)
	}
	name, _ := excelize.ColumnNumberToName(last)
	return fmt.Sprintf("$A$1:$%s$%d", name, max(1, rows))
}

// keepOff keeps the rows from the first on for the screen.
func (s *sheet) keepOff(first int) {
	s.screen = true
	for i := first; i < len(s.rows); i++ {
		s.rows[i].off = true
	}
	if first < len(s.rows) {
		s.rows[first].heads = nil
	}
}

func (s *sheet) onPaper() int {
	for i := range s.rows {
		if s.rows[i].off {
			return i
		}
	}
	return len(s.rows)
}

// define gives a range of a sheet one of the names that printing knows.
func (b *book) define(sheet, name, place string) error {
	quoted := "'" + strings.ReplaceAll(sheet, "'", "''") + "'!"
	return b.file.SetDefinedName(&excelize.DefinedName{Name: name, Scope: sheet, RefersTo: quoted + place})
}

// header and footer stay under the 255 characters a sheet allows; an ampersand
// is written twice, and a blank keeps a leading digit from the size before it.
func (b *book) header() string {
	if b.mark == "" {
		return ""
	}
	return "&C&\"" + font + ",Bold\"&10 " + doubled(b.mark, 120)
}

func (b *book) footer(name string) string {
	return "&L&8 " + doubled(b.foot, 80) + "&C&8 " + doubled(name, 31) + "&R&8 page &P of &N"
}

func doubled(text string, most int) string {
	return strings.ReplaceAll(clip(strings.Join(strings.Fields(text), " "), most), "&", "&&")
}

// row writes one row with its merges, break and pictures.
func (b *book) row(w *excelize.StreamWriter, name string, n int, r *row) error {
	at := func(col int) string {
		ref, _ := excelize.CoordinatesToCellName(col+1, n)
		return ref
	}
	values := []any{}
	for _, c := range r.cells {
		id, err := b.styleID(c.style)
		if err != nil {
			return err
		}
		for len(values) < c.col+c.span {
			values = append(values, nil)
		}
		for i := range c.span {
			values[c.col+i] = excelize.Cell{StyleID: id}
		}
		values[c.col] = written(c, id)
		if c.span > 1 {
			if err := w.MergeCell(at(c.col), at(c.col+c.span-1)); err != nil {
				return err
			}
		}
	}
	if r.breaks {
		if err := w.InsertPageBreak(at(0)); err != nil {
			return err
		}
	}
	if r.picture != nil {
		if err := b.place(name, at(0), *r.picture); err != nil {
			return err
		}
	}
	return w.SetRow(at(0), values, excelize.RowOpts{Height: r.height})
}

// rich is a text of several weights; each run begins a line of its own unless
// it goes on.
type rich []run

type run struct {
	text string
	size float64 // points; 0: bodySize
	bold bool
	on   bool // goes on in the line of the run before it
}

func (r run) points() float64 {
	if r.size == 0 {
		return bodySize
	}
	return r.size
}

// A line must not end within a number with a fraction, a size, or between a
// number and its unit.
var (
	mixedNumber = regexp.MustCompile(`(\d)-(\d+/\d)`)
	crossed     = regexp.MustCompile(`(\d) x (~?\d)`)
	withUnit    = regexp.MustCompile(`(\d) (in|mm|h|min)\b`)
)

// unbroken keeps sizes on one line.
func unbroken(text string) string {
	if !strings.ContainsAny(text, "0123456789") {
		return text
	}
	text = mixedNumber.ReplaceAllString(text, "$1\u2011$2")
	text = crossed.ReplaceAllString(text, "$1\u00a0x\u00a0$2")
	return withUnit.ReplaceAllString(text, "$1\u00a0$2")
}

func plain(value any) any {
	switch v := value.(type) {
	case string:
		return cut(unbroken(v))
	case rich:
		return v.runs()
	}
	return value
}

func (v rich) runs() (out []excelize.RichTextRun) {
	for i, r := range v {
		text := cut(unbroken(r.text))
		if i+1 < len(v) && !v[i+1].on {
			text += "\n"
		}
		out = append(out, excelize.RichTextRun{Text: text, Font: &excelize.Font{Family: font, Size: r.points(), Bold: r.bold, Color: "000000"}})
	}
	return out
}

// tall is the height of the text in points, in a column of that width.
func (v rich) tall(chars float64) float64 {
	sum := 0.0
	for i := 0; i < len(v); {
		first, size := i, v[i].points()
		for i++; i < len(v) && v[i].on; i++ {
			size = max(size, v[i].points())
		}
		sum += float64(linesOf(v[first:i], chars)) * size * lineOfSize
	}
	return sum + 2.5
}

// place puts a picture at its size on paper: 300 dots an inch shown as 96.
func (b *book) place(name, at string, p pic) error {
	const scale = 96.0 / 300
	return b.file.AddPictureFromBytes(name, at, &excelize.Picture{Extension: ".png", File: p.PNG,
		Format: &excelize.GraphicOptions{ScaleX: scale, ScaleY: scale, OffsetX: 2, OffsetY: 2, Positioning: "oneCell", AltText: p.alt, LockAspectRatio: true}})
}
