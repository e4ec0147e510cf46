package reports

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// Start is the first page: all that is needed to begin.
type Start struct {
	Title, About string
	Shop         string
	Figures      [4]Figure
	Cannot       Table // what cannot be made; no rows: everything can
	Checks       []Check
	Boxes        []StartBox
	Loose        []string // loose parts, a line each
	Rack         []Place  // boards to take down, by place
	Work         []WorkStep
}

// Figure is a number in large type and what it is.
type Figure struct {
	Large string
	Small []string
}

// Check is one thing to do before the first cut.
type Check struct{ Do, Why string }

// StartBox is one line of the order as it is made.
type StartBox struct {
	Build                  *orders.Build // nil: nothing was built of it
	Name, With             string
	Count                  int
	Size, Wood, Finger     string
	FingerNote             string // why the finger cut is not the one asked for
	Due, Customer, Remarks string
}

// Place is where boards are, and which of them this batch takes.
type Place struct{ Where, Boards string }

// WorkStep is one stage of the work, how long it takes, and its sheets.
type WorkStep struct{ What, Hours, Sheet string }

// StartOf is the first page of a plan.
func StartOf(p *jigplan.Plan) Start {
	s := Start{
		Title: strings.TrimSuffix(filepath.Base(p.Order.File), filepath.Ext(p.Order.File)),
		About: aboutBatch(p), Shop: p.Order.Settings.Rates.ShopName,
		Cannot: Cannot(p), Rack: rackPlaces(p), Work: workSteps(p),
	}
	s.Figures = [4]Figure{boardsFigure(p), costFigure(p), hoursFigure(p), dueFigure(p)}
	for _, r := range CheckFirst(p).Rows {
		if r[1] != buyTheBoards && r[1] != giveACost {
			s.Checks = append(s.Checks, Check{r[1], r[2]})
		}
	}
	if buy := buyFirst(p); buy.Do != "" {
		s.Checks = append(s.Checks, buy)
	}
	s.Boxes, s.Loose = startBoxes(p), looseLines(p)
	return s
}

func aboutBatch(p *jigplan.Plan) string {
	customers := map[string]bool{}
	for i := range p.Order.Boxes {
		if name := p.Order.Boxes[i].Customer; name != "" {
			customers[name] = true
		}
	}
	text := made(p)
	if len(customers) > 1 {
		text += fmt.Sprintf(", for %d customers", len(customers))
	}
	return text
}

func boardsFigure(p *jigplan.Plan) Figure {
	boards, resawn := p.Layout.Count()
	f := Figure{Large: Counted(boards, "board", "boards")}
	used := p.Layout.AreaUsed.SquareMillimetres()
	if used > 0 {
		f.Small = append(f.Small, solid(p)+", yield "+p.Order.Settings.Units.Percent(100*p.Layout.AreaParts.SquareMillimetres()/used, 0))
	}
	if resawn > 0 {
		f.Small = append(f.Small, Counted(resawn, "board is resawn", "boards are resawn"))
	}
	if kept := keptOffcuts(p); kept > 0 {
		f.Small = append(f.Small, Counted(kept, "offcut goes", "offcuts go")+" back to the rack")
	}
	return f
}

func keptOffcuts(p *jigplan.Plan) (kept int) {
	for i := range p.Layout.Boards {
		for _, o := range p.Layout.Boards[i].Offcuts {
			if o.Keep {
				kept++
			}
		}
	}
	return kept
}

// Money is an amount as the shop writes it: "$712.50", "712,50 EUR".
func Money(s *settings.Shop, m measure.Money) string {
	switch {
	case s.Currency == "" && !s.Units.Metric(), s.Currency == "$":
		if m < 0 {
			return "-$" + (-m).In(s.Units)
		}
		return "$" + m.In(s.Units)
	}
	return joined(" ", m.In(s.Units), s.Currency)
}

func costFigure(p *jigplan.Plan) Figure {
	if !p.Layout.CostKnown {
		return Figure{Large: "no prices", Small: []string{"the boards have no cost; layouts are compared by area"}}
	}
	return Figure{Large: Money(&p.Order.Settings, p.Layout.Cost), Small: []string{"wood", boundWords(&p.Layout, p.Order.Settings.Units)}}
}

func boundWords(l *nesting.Layout, unit measure.Unit) string {
	switch {
	case l.Proven:
		return "best possible (proven)"
	case l.CostBound > 0:
		return "within " + unit.Percent(100*(float64(l.Cost)/float64(l.CostBound)-1), 1) + " of the best possible"
	}
	return ""
}

func hoursFigure(p *jigplan.Plan) Figure {
	f := Figure{Large: Hours(p.Time.Minutes), Small: []string{"median; 80%: " + Hours(p.Time.P80Minutes)}}
	if n := len(p.Setups); n > 0 {
		f.Small = append(f.Small, fmt.Sprintf("%s, %s to change", Counted(n, "setup", "setups"), Hours(p.Sequence.ChangeoverMinutes)))
	}
	return f
}

func dueFigure(p *jigplan.Plan) Figure {
	var first, last time.Time
	for i := range p.Order.Boxes {
		due := p.Order.Boxes[i].Due
		if !due.IsZero() && (first.IsZero() || due.Before(first)) {
			first = due
		}
		if due.After(last) {
			last = due
		}
	}
	switch {
	case first.IsZero():
		return Figure{Large: "no date", Small: []string{"no box has a due date"}}
	case last.Equal(first):
		return Figure{Large: first.Format("Mon Jan 2"), Small: []string{"due", first.Format("2006")}}
	}
	return Figure{Large: first.Format("Mon Jan 2"), Small: []string{"first due", "last " + last.Format("Mon Jan 2, 2006")}}
}

// buyFirst is the wood and supplies to buy, in one line.
func buyFirst(p *jigplan.Plan) Check {
	var wood, other []string
	for i := range p.Buy {
		b := &p.Buy[i]
		if b.Count > 0 {
			wood = append(wood, fmt.Sprintf("%s %s, %s", b.Quantity, b.What, b.Size))
		} else {
			other = append(other, b.What)
		}
	}
	switch {
	case len(wood) > 0:
		standard := ""
		if typical(p) {
			standard = "standard sizes; if yours differ, enter them and plan again"
		}
		return Check{"Buy " + Listed(wood, 5), joined("; ", standard, prefixedWith("supplies: ", Listed(other, 8)))}
	case len(other) > 0:
		return Check{"No wood to buy", "supplies: " + Listed(other, 8)}
	}
	return Check{}
}

func prefixedWith(prefix, text string) string {
	if text == "" {
		return ""
	}
	return prefix + text
}

// startBoxes is every line of the order with the finger that is cut.
func startBoxes(p *jigplan.Plan) (out []StartBox) {
	w, units, cut := WordsOf(p), unitsOf(p), programsOfLines(p)
	builds := map[int]*orders.Build{}
	for i := range p.Builds {
		builds[p.Builds[i].Line] = &p.Builds[i]
	}
	for i := range p.Order.Boxes {
		b := &p.Order.Boxes[i]
		if units[i] == 0 {
			continue
		}
		s := StartBox{Build: builds[i], Name: b.Name, With: with(b), Count: units[i], Size: startSize(b, w),
			Wood: joined(" ", b.Wood, wall(b, w)), Customer: b.Customer}
		s.Finger, s.FingerNote = fingerWords(b.Finger, cut[i], w)
		if b.Spare > 0 {
			s.Remarks = Counted(b.Spare, "spare", "spares") + " included"
		}
		if !b.Due.IsZero() {
			s.Due = b.Due.Format("Mon Jan 2")
		}
		out = append(out, s)
	}
	return out
}

// startSize is a box's size; outside, unless it says so.
func startSize(b *orders.Box, w Words) string {
	if b.Inside {
		return boxSize(b, w)
	}
	return w.Sizes(b.Length, b.Width, b.Height)
}

// programsOfLines is a program that cuts each line's boxes; a line whose joint
// is refused has none.
func programsOfLines(p *jigplan.Plan) map[int]*jigplan.Program {
	program, out := ProgramOf(p), map[int]*jigplan.Program{}
	for i := range p.Parts {
		part := &p.Parts[i]
		if prog := program[part.ID]; prog != nil && !part.IsLoose() && out[part.Line] == nil {
			out[part.Line] = prog
		}
	}
	return out
}

// ProgramOf is which program cuts each part's ends.
func ProgramOf(p *jigplan.Plan) map[string]*jigplan.Program {
	programs, cards := map[string]*jigplan.Program{}, map[string]string{}
	for i := range p.Programs {
		programs[p.Programs[i].ID] = &p.Programs[i]
	}
	for i := range p.Setups {
		cards[p.Setups[i].ID] = p.Setups[i].Program
	}
	out := map[string]*jigplan.Program{}
	for i := range p.Stacks {
		for _, b := range p.Stacks[i].Boards {
			out[b.Part] = programs[cards[p.Stacks[i].Setup]]
		}
	}
	return out
}

// fingerWords is the finger asked for and the one cut, where they differ.
func fingerWords(asked measure.Length, p *jigplan.Program, w Words) (text, note string) {
	if p == nil {
		return "none", ""
	}
	if p.Pattern != "" {
		return p.Pattern, w.AskedCut(p)
	}
	is := strings.TrimSuffix(w.Fine(p.Finger), " "+w.UnitName())
	if asked == 0 || asked.Ratio().Cmp(p.Finger) == 0 {
		return is, ""
	}
	return w.Bare(asked) + " → " + is, w.AskedCut(p)
}

func looseLines(p *jigplan.Plan) (out []string) {
	w := WordsOf(p)
	for i := range p.Order.Loose {
		l := &p.Order.Loose[i]
		out = append(out, joined(", ", fmt.Sprintf("%d × %s", l.Count, l.Name), w.Sizes(l.Length, l.Width, l.Thickness)+" "+l.Wood, l.Notes))
	}
	return out
}

// toBuy is the place of boards that are not there yet.
const toBuy = "to buy"

// rackPlaces is the boards to take down, place by place, then those to buy.
func rackPlaces(p *jigplan.Plan) (out []Place) {
	type kind struct{ where, wood string }
	var wheres []string
	kinds, boards := map[string][]string{}, map[kind][]string{}
	seen := map[string]bool{}
	for i := range p.Layout.Boards {
		b := &p.Layout.Boards[i]
		if seen[b.Whole()] {
			continue
		}
		seen[b.Whole()] = true
		k := kind{whereIs(&b.Stock), joined(" ", b.Stock.Wood, b.Stock.Class)}
		if kinds[k.where] == nil {
			wheres = append(wheres, k.where)
		}
		if boards[k] == nil {
			kinds[k.where] = append(kinds[k.where], k.wood)
		}
		boards[k] = append(boards[k], b.Whole())
	}
	slices.SortStableFunc(wheres, func(a, b string) int { return strings.Compare(lastly(a), lastly(b)) })
	for _, where := range wheres {
		var texts []string
		for _, wood := range kinds[where] {
			texts = append(texts, strings.Join(boards[kind{where, wood}], ", ")+" ("+wood+")")
		}
		out = append(out, Place{where, strings.Join(texts, " · ")})
	}
	return out
}

func whereIs(b *orders.Board) string {
	switch {
	case b.Origin == orders.FromYard || b.Origin == orders.FromTypical:
		return toBuy
	case b.Place == "":
		return "on the rack"
	}
	return b.Place
}

// lastly sorts what is to be bought after every place.
func lastly(where string) string {
	if where == toBuy {
		return "1"
	}
	return "0"
}

// phases is which elements of time belong to which stage of the work.
var phases = []struct {
	what, sheet string
	elements    []string
}{
	{"Break down and mill the boards", "Boards, Parts", []string{"Mill face and edge", "Thickness pass", "Crosscut", "Rip", "Rip a foot", "Resaw", "Resaw a foot",
		"Set stop or fence", "Straightedge cut"}},
	{"Cut the joints", "Setups, Jig", []string{"Load stack end", "Cut pass", "Forward turn", "Verify slot", "Return turn", "Change rod",
		"Change blade", "Change height", "Change spacer", "Change card", "Test corner"}},
	{"Grooves, bottoms, lids, glue-up", "Making", nil},
	{"Sand and finish", "Making", []string{"Sanding", "Coat"}},
}

// allowances are elements that belong to all the work.
var allowances = []string{"Allowance", "First of kind allowance"}

// restPhase is where elements go that no other stage names.
const restPhase = 2

// workSteps is the stages of the work with their hours; allowances are spread
// over them in proportion.
func workSteps(p *jigplan.Plan) (out []WorkStep) {
	minutes, spread := make([]float64, len(phases)), 0.0
	for _, e := range p.Time.Elements {
		if slices.Contains(allowances, e.Name) {
			spread += e.Minutes
			continue
		}
		minutes[phaseOf(e.Name)] += e.Minutes
	}
	work := p.Time.Minutes - spread
	for i, m := range minutes {
		if m <= 0 || work <= 0 {
			continue
		}
		what := phases[i].what
		if i == 1 && len(p.Programs) > 0 {
			what += ": cards " + firstToLast(cardsInOrder(p))
		}
		out = append(out, WorkStep{what, Hours(m * p.Time.Minutes / work), phases[i].sheet})
	}
	return out
}

func phaseOf(element string) int {
	for i := range phases {
		if slices.Contains(phases[i].elements, element) {
			return i
		}
	}
	return restPhase
}

// firstToLast names cards that are numbered one after the other.
func firstToLast(cards []string) string {
	if len(cards) <= 2 {
		return strings.Join(cards, ", ")
	}
	return cards[0] + " to " + cards[len(cards)-1]
}

func cardsInOrder(p *jigplan.Plan) (out []string) {
	for _, u := range Running(p) {
		if !slices.Contains(out, u.Program) {
			out = append(out, u.Program)
		}
	}
	return out
}
