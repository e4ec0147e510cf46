package intake

import (
	"slices"
	"strings"
	"unicode"

	"batchwright/orders/measure"
)

// column is one column of a sheet in the order workbook: its name, whether the
// sheet is nothing without it, and the other headings people give it.
type column struct {
	name   string
	needed bool
	others string // parted by "|"
}

// layout is one kind of sheet.
type layout struct {
	name    string
	others  string // other sheet names, parted by "|"
	columns []column

	exact, plural map[string]string // heading, folded, to column
}

func newLayout(name, others string, columns []column) layout {
	l := layout{name: name, others: others, columns: columns, exact: map[string]string{}, plural: map[string]string{}}
	for _, c := range columns {
		for _, n := range c.names() {
			if l.exact[n] == "" {
				l.exact[n] = c.name
			}
			if one := strings.TrimSuffix(n, "s"); len(n) > 3 && l.plural[one] == "" {
				l.plural[one] = c.name
			}
		}
	}
	return l
}

var boxColumns = []column{
	{"Box", false, "name|box name|what|item|item name|product|description|model|code|sku|ref|reference|id|part no|item no|box no|box number|box id|box type|article|title"},
	{"Count", true, "qty|quantity|number of boxes|no of boxes|pieces|pcs|how many|amount|number required|no required|number off|no off|off|units|ordered|order qty|order quantity|boxes|req|required|qty required|quantity required|qty ordered|count boxes|quantity ordered|number needed|needed|ea|how many boxes|total qty|pcs required|nos"},
	{"Length", true, "l|len|lgth|long|box length|overall length|length overall|side length|front|lg"},
	{"Width", true, "w|wd|wid|wide|breadth|box width|overall width|end length|b"},
	{"Height", true, "h|ht|hgt|high|tall|box height|overall height|height overall|hi"},
	{"Measured", false, "inside outside|inside or outside|in out|in or out|inside/outside|measure|measurement|measured as|dims are|dimensions are|internal external|internal or external|sizes are|size is|measured inside outside|measured inside or outside|outside inside|outside or inside|out in|outside/inside|inner outer|int ext|id od|inside outside dims"},
	{"Thickness", true, "t|thk|thick|side thickness|wall|wall thickness|wood thickness|stock thickness|material thickness|timber thickness|lumber thickness|thickness of wood|thickness of timber|sides thickness|board thickness|walls|thickness of sides|finished thickness|thickness sides"},
	{"End thickness", false, "ends thickness|thickness of ends|thickness ends|end thk|end thick|ends thk"},
	{"Wood", true, "species|timber|material|wood species|wood type|lumber|type of wood|wood kind|kind of wood|box wood"},
	{"Finger", false, "finger size|finger width|fingers|joint|finger joint|joint size|pin|pin width|box joint|nominal finger|joint finger|joint width"},
	{"Height may vary", false, "height tolerance|height may vary by|height plus or minus|height play|height varies|height variation|height +/-|height ±|height can vary|height leeway"},
	{"Bottom", false, "base|bottom type|bottom panel|floor|bottom construction"},
	{"Lid", false, "top|cover|lid type|top type|lid style"},
	{"Dividers", false, "divider|compartments|partitions|grid|inserts|cells|divisions"},
	{"Grain", false, "grain match|grain matched|grain matching|matched grain|grain direction|match grain"},
	{"Finish", false, "coating|surface finish|finishing|oil|surface"},
	{"Customer", false, "client|for|sold to|buyer|customer name|ordered by|ship to"},
	{"Due", false, "due date|date due|deadline|needed by|wanted by|delivery|delivery date|by|required by|ready by|date required|ship date|deliver by|ship by"},
	{"Price", false, "unit price|price each|sale price|selling price|price per box|price ea|each price|retail|retail price|price/box"},
	{"Quantities", false, "quantity breaks|price breaks|quote quantities|qty breaks|quote for|breaks|quote qty"},
	{"Notes", false, "note|remarks|remark|comments|comment|instructions|special instructions|memo|details|special|observations"},
}

var partColumns = []column{
	{"Part", false, "name|part name|what|item|item name|description|component|piece|label|id|ref|reference|part no|part number|code|title"},
	{"Count", true, "qty|quantity|pieces|pcs|how many|amount|number off|no off|off|number required|no required|units|req|required|nos|number of parts|no of parts|ea|qty required|quantity required|number of pieces|needed"},
	{"Length", true, "l|len|lgth|long|part length|finished length|lg"},
	{"Width", true, "w|wd|wid|wide|breadth|part width|finished width|b"},
	{"Thickness", true, "t|thk|thick|part thickness|finished thickness|material thickness|th"},
	{"Wood", true, "species|timber|material|wood species|wood type|lumber|type of wood|kind of wood"},
	{"Grain", false, "grain direction|grain along"},
	{"Notes", false, "note|remarks|remark|comments|comment|instructions|memo|details|special"},
}

var boardColumns = []column{
	{"Board", false, "name|id|label|tag|board id|board no|board number|piece|item|ref|reference|code|mark|plank|no of board|description"},
	{"Count", false, "qty|quantity|pieces|pcs|how many|number of boards|no of boards|amount|boards|on hand|in stock|available|stock|units|nos|ea"},
	{"Wood", true, "species|timber|material|wood species|wood type|lumber|type of wood|kind of wood"},
	{"Class", false, "thickness class|nominal|nominal thickness|quarters|quarter|rough thickness|rough|quarter size|lumber class|sawn thickness|nom thickness|trade thickness"},
	{"Thickness", false, "t|thk|thick|true thickness|actual thickness|measured thickness|real thickness|planed thickness|actual|th"},
	{"Length", true, "l|len|lgth|long|board length|lg"},
	{"Width", true, "w|wd|wid|wide|breadth|board width|width at the narrow end|width narrow end|narrow width|width at narrow end|narrowest width|width min|min width|least width|b"},
	{"Cost", false, "cost each|unit cost|board cost|cost per board|paid|price paid|purchase price|cost/board|value"},
	{"Defects", false, "defect|knots|flaws|faults|defect list|knots and splits|blemishes"},
	{"Place", false, "rack place|location|shelf|bin|where|position|stored|bay|slot|rack"},
}

var yardColumns = append(boardColumns[:len(boardColumns):len(boardColumns)],
	column{"Price", false, "price each|unit price|price per board|each price|price ea|price/board|list price"},
	column{"Arrives", false, "arrival|arrives on|arrival date|eta|delivery|delivered|delivery date|lead time|available from|due|expected|here on|available on"})

var shopColumns = []column{
	{"Setting", true, "name|parameter|option|key|item|settings|property|variable"},
	{"Value", true, "values|setting value|is|amount|set to|figure"},
	{"Unit", false, "units|uom|unit of measure|measured in"},
}

var catalogColumns = append([]column{
	{"Sells low", false, "low|sales low|demand low|low demand|sell low|pessimistic|least sales|minimum sales|worst|sells at least|low sales"},
	{"Sells likely", false, "likely|sells|sales likely|demand|demand likely|likely demand|expected sales|sell likely|most likely|forecast|likely sales|expected demand"},
	{"Sells high", false, "high|sales high|demand high|high demand|sell high|optimistic|most sales|maximum sales|best|sells at most|high sales"},
	{"Sells mean", false, "mean|average|mean sales|average sales|sales mean|mean demand|average demand|demand mean|sells on average|sold on average"},
	{"Sells spread", false, "spread|standard deviation|std dev|sd|deviation|sales spread|demand spread|demand sd|sales sd|spread of sales|standard deviation of sales"},
	{"Woods", false, "possible woods|wood choices|woods possible|species choices|in woods|wood options"},
	{"Made", false, "finished|already made|in stock|boxes made|made already|ready|finished boxes"},
	{"Half made", false, "half finished|half-made|glued|glued up|unfinished|half made boxes|in progress"},
}, without("Count", boxColumns)...)

// without is the columns with one of them no longer needed.
func without(need string, columns []column) []column {
	out := slices.Clone(columns)
	for i := range out {
		out[i].needed = out[i].needed && out[i].name != need
	}
	return out
}

// The kinds of sheet, in the order they are read: settings before sizes.
var (
	shopLayout    = newLayout("Shop", "settings|setup|shop settings|my shop|workshop", shopColumns)
	rackLayout    = newLayout("Rack", "boards|stock|on hand|inventory|boards on hand|lumber rack", boardColumns)
	yardLayout    = newLayout("Yard", "lumber yard|buy|to buy|merchant|supplier", yardColumns)
	boxesLayout   = newLayout("Boxes", "box|box list|order|orders", boxColumns)
	partsLayout   = newLayout("Parts", "part|loose parts|cut list|cutlist|parts list", partColumns)
	catalogLayout = newLayout("Catalog", "catalogue|fair|candidates", catalogColumns)
	layouts       = []*layout{&shopLayout, &rackLayout, &yardLayout, &boxesLayout, &partsLayout, &catalogLayout}
)

// heading is a heading cell as it was understood.
type heading struct {
	col     int
	row     int
	text    string
	name    string // of the column; empty: not known
	maybe   []string
	unit    measure.Unit
	inside  string // "inside" or "outside" when the heading says so
	basis   basis  // what a price is for
	lines   bool   // it holds 1, 2, 3 and so on: numbers of lines, not counts
	guessed bool   // a spelling mistake was read over, or an order of sizes taken as usual

	sizes         []string // of a column that holds several, in their order
	piece, pieces int      // which of them this heading stands for; pieces 0: the cell is one value
	unordered     bool     // it holds several, and does not say in which order
}

// basis is what a price or a cost is for.
type basis int

const (
	perBoard basis = iota
	perBoardFoot
	perSquareMetre
	perCubicMetre
	perSquareFoot
)

func (b basis) String() string {
	return [...]string{"a board", "a board foot", "a square meter", "a cubic meter", "a square foot"}[b]
}

// names lists the column's headings, its own first, folded.
func (c column) names() []string {
	names := []string{foldHeading(c.name)}
	for n := range strings.SplitSeq(c.others, "|") {
		names = append(names, foldHeading(n))
	}
	return names
}

// unclear are headings that may mean several columns: they are settled only
// when exactly one of those is still free.
var unclear = map[string][]string{
	"depth": {"Width", "Height"}, "d": {"Width", "Height"}, "deep": {"Width", "Height"}, "dp": {"Width", "Height"},
	"no": {"Count", "Box", "Part", "Board"}, "number": {"Count", "Box", "Part", "Board"}, "nr": {"Count", "Box", "Part", "Board"}, "num": {"Count", "Box", "Part", "Board"},
	"th":    {"Thickness", "Height"},
	"stock": {"Thickness", "Wood"},
	"date":  {"Due", "Arrives"},
}

// read understands one heading cell for this kind of sheet: as it stands, then
// without its unit, then without what is in brackets.
func (l *layout) read(col int, text string) heading {
	h := heading{col: col, text: text}
	plain := h.takeBasis(l.priced(foldHeading(text), text))
	if h.name = l.named(plain); h.name != "" {
		if strings.ContainsAny(text, "\"″") {
			h.unit = measure.Inches
		}
		return h
	}
	for _, try := range []string{text, withoutBrackets(text)} {
		plain = h.takeBasis(h.takeInside(foldHeading(h.takeUnit(try))))
		if h.name = l.named(plain); h.name != "" || plain == "" {
			return h
		}
		if l.takeSizes(&h, plain); h.sizes != nil || h.unordered {
			return h
		}
	}
	for _, name := range unclear[plain] {
		if l.has(name) {
			h.maybe = append(h.maybe, name)
		}
	}
	if len(h.maybe) == 1 && plain != "date" { // which may be the day of the order
		h.name, h.maybe = h.maybe[0], nil
	} else if len(h.maybe) == 0 {
		h.name = l.nearest(plain)
		h.guessed = h.name != ""
	}
	return h
}

// priced puts the word before a heading that is only a currency and a measure,
// such as $/bf.
func (l *layout) priced(plain, text string) string {
	if !strings.ContainsAny(text, "$€£") {
		return plain
	}
	for _, b := range bases {
		if plain == b.words && l.has("Price") {
			return "price " + plain
		}
		if plain == b.words {
			return "cost " + plain
		}
	}
	return plain
}

func withoutBrackets(text string) string {
	open := strings.IndexAny(text, "([{")
	if open <= 0 {
		return text
	}
	end := strings.LastIndexAny(text, ")]}")
	if end < open {
		return text[:open]
	}
	return text[:open] + text[end+1:]
}

func (l *layout) has(name string) bool {
	for _, c := range l.columns {
		if c.name == name {
			return true
		}
	}
	return false
}

// named is the column that goes by this heading: exactly, else as its plural
// or singular.
func (l *layout) named(plain string) string {
	if name := l.exact[plain]; name != "" {
		return name
	}
	return l.plural[strings.TrimSuffix(plain, "s")]
}

// nearest reads over one wrong, missing, added or swapped letter, never the
// first, in a heading of five or more; two columns equally near are none.
func (l *layout) nearest(plain string) string {
	found := ""
	for n, name := range l.exact {
		if len(n) < 5 || len(plain) < 5 || n[0] != plain[0] || !oneSlip(plain, n) {
			continue
		}
		if found != "" && found != name {
			return ""
		}
		found = name
	}
	return found
}

// oneSlip reports whether a and b differ by one letter changed, added,
// dropped, or swapped with its neighbour.
func oneSlip(a, b string) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	switch len(b) - len(a) {
	case 0:
		return i == len(a) || a[i+1:] == b[i+1:] ||
			i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
	case 1:
		return a[i:] == b[i+1:]
	}
	return false
}

// takeUnit reads the unit of "Length (mm)", "Length, mm", "Length mm" or
// "Length in inches" and gives back the rest.
func (h *heading) takeUnit(text string) string {
	text = strings.NewReplacer("(", " ( ", ")", " ) ", "[", " ( ", "]", " ) ", "{", " ( ", "}", " ) ", ",", " , ", ":", " : ", "/", " / ", "\"", " \" ", "″", " \" ").Replace(text)
	words := strings.Fields(text)
	kept := words[:0]
	for i, w := range words {
		unit, ok := headingUnits[strings.ToLower(strings.TrimRight(w, "."))]
		switch {
		case !ok || len(kept) == 0 && len(words) > 1 && i == 0:
			kept = append(kept, w)
		case strings.EqualFold(w, "in") && i+1 < len(words) && words[i+1] != ")" && words[i+1] != ",":
			kept = append(kept, w) // "in" as a word: "Length in mm"
		default:
			h.unit = unit
			if n := len(kept); n > 1 && strings.EqualFold(kept[n-1], "in") {
				kept = kept[:n-1]
			}
		}
	}
	return strings.Join(kept, " ")
}

var headingUnits = map[string]measure.Unit{
	"mm": measure.Millimetres, "millimetres": measure.Millimetres, "millimeters": measure.Millimetres, "millimetre": measure.Millimetres, "millimeter": measure.Millimetres,
	"cm": measure.Centimetres, "centimetres": measure.Centimetres, "centimeters": measure.Centimetres,
	"in": measure.Inches, "ins": measure.Inches, "inch": measure.Inches, "inches": measure.Inches, "\"": measure.Inches, "''": measure.Inches,
	"ft": measure.Feet, "feet": measure.Feet, "foot": measure.Feet,
}

// takeInside reads "inside length", "external width" and the like.
func (h *heading) takeInside(plain string) string {
	words := strings.Fields(plain)
	kept := words[:0:0]
	for _, w := range words {
		switch w {
		case "inside", "internal", "inner", "int", "interior":
			h.inside += "inside"
		case "outside", "external", "outer", "ext", "exterior":
			h.inside += "outside"
		default:
			kept = append(kept, w)
		}
	}
	rest := strings.Join(kept, " ")
	if h.inside == "insideoutside" || h.inside == "outsideinside" || rest == "" || rest == "or" {
		h.inside = "" // "inside or outside" is the column itself
		return plain
	}
	return rest
}

var bases = []struct {
	words string
	basis basis
}{
	{"per board foot", perBoardFoot}, {"board foot", perBoardFoot}, {"per bf", perBoardFoot}, {"bf", perBoardFoot}, {"bd ft", perBoardFoot}, {"per bd ft", perBoardFoot}, {"board feet", perBoardFoot}, {"bdft", perBoardFoot}, {"per bdft", perBoardFoot}, {"a board foot", perBoardFoot},
	{"per square meter", perSquareMetre}, {"per square meter", perSquareMetre}, {"square metre", perSquareMetre}, {"square meter", perSquareMetre}, {"per m2", perSquareMetre}, {"m2", perSquareMetre}, {"m²", perSquareMetre}, {"per m²", perSquareMetre}, {"per sqm", perSquareMetre}, {"sqm", perSquareMetre}, {"per sq m", perSquareMetre}, {"sq m", perSquareMetre},
	{"per cubic meter", perCubicMetre}, {"per cubic meter", perCubicMetre}, {"cubic metre", perCubicMetre}, {"cubic meter", perCubicMetre}, {"per m3", perCubicMetre}, {"m3", perCubicMetre}, {"m³", perCubicMetre}, {"per m³", perCubicMetre}, {"per cbm", perCubicMetre}, {"cbm", perCubicMetre}, {"per cu m", perCubicMetre}, {"cu m", perCubicMetre},
	{"per square foot", perSquareFoot}, {"square foot", perSquareFoot}, {"per sq ft", perSquareFoot}, {"sq ft", perSquareFoot}, {"per sqft", perSquareFoot},
}

// takeBasis reads "Price per board foot" and the like as Price for that much.
func (h *heading) takeBasis(plain string) string {
	for _, word := range []string{"price", "cost"} {
		rest, ok := strings.CutPrefix(plain, word+" ")
		if !ok {
			continue
		}
		for _, b := range bases {
			if rest == b.words {
				h.basis = b.basis
				return word
			}
		}
	}
	return plain
}

// foldHeading writes a heading in small letters with single spaces and without
// the marks around it.
func foldHeading(text string) string {
	var out strings.Builder
	for _, r := range strings.ToLower(text) {
		switch {
		case unicode.IsLetter(r) || unicode.IsNumber(r) || r == '±' || r == '+': // ½ is a number, no mark to drop
			out.WriteRune(r)
		case r == '.' || r == '\'' || r == '’':
		default:
			out.WriteByte(' ')
		}
	}
	return strings.Join(strings.Fields(out.String()), " ")
}
