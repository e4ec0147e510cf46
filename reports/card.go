package reports

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// Card is a program as it is followed at the saw.
type Card struct {
	Program *jigplan.Program
	Setups  []*jigplan.Setup // that run it, in the plan's order
	Stacks  []*jigplan.Stack // that it cuts
	Rows    []CardRow
	Ends    []CardHeight

	Boxes  string // whose ends it cuts; empty: the card stands alone
	Spacer string // its spacer's name, width and tolerance; empty: none

	names  Names
	corner bool // the running order cuts a test corner before it

	mate *jigplan.Program // that cuts the other row; nil: this one cuts both, or it is not known
	shop *settings.Shop
	w    Words
}

// CardRow is one slot: what is done and what must be read when it is done.
type CardRow struct {
	Slot    int
	From    measure.Ratio // turns from home at its first cut
	Cuts    int
	Between []measure.Ratio // turns between its cuts
	Total   measure.Ratio   // turns from home at its last cut
	Clock   string          // where the handle stands then
	Travel  measure.Ratio   // of the carriage from home
	Then    measure.Ratio   // turns past the pin to the next slot
	Last    bool
}

// CardHeight is what one board height looks like when it is cut. The row that
// this program does not cut is its mate's work; nil where the mate is unknown.
type CardHeight struct {
	*jigplan.Height
	A, B *EndView
}

// EndView is one finished end: its comb, how many fingers it has, and what
// stands at the marked edge and at the other.
type EndView struct {
	EndProfile
	Count     int
	Low, High jigplan.Edge
}

// Cards are the count cards of a plan, one a program, in the plan's order.
func Cards(p *jigplan.Plan) []Card {
	stacks := map[string][]*jigplan.Stack{}
	for i := range p.Stacks {
		stacks[p.Stacks[i].Setup] = append(stacks[p.Stacks[i].Setup], &p.Stacks[i])
	}
	corner := map[string]bool{}
	for _, change := range p.Sequence.Changes {
		corner[change.Setup] = slices.Contains(change.Elements, "Test corner")
	}
	cards, names, spacers := make([]Card, len(p.Programs)), NamesOf(p), spacerNames(p)
	for i := range p.Programs {
		cards[i] = CardOf(&p.Programs[i], mateOf(p, &p.Programs[i]), &p.Order.Settings)
		for _, setup := range Running(p) {
			if setup.Program == p.Programs[i].ID {
				cards[i].Setups = append(cards[i].Setups, setup)
				cards[i].Stacks = append(cards[i].Stacks, stacks[setup.ID]...)
				cards[i].corner = cards[i].corner || corner[setup.ID]
				if setup.Spacer.Sign() > 0 {
					cards[i].Spacer = spacers[setup.Spacer] + ", " + cards[i].spacerWidth()
				}
			}
		}
		cards[i].names, cards[i].Boxes = names, boxesIn(cards[i].Stacks, names)
	}
	return cards
}

func (c Card) spacerWidth() string {
	return c.w.Both(c.Program.Spacer) + " " + within(c.Program.Fit.Abs(), c.w)
}

// Fingers is the finger that is cut, and the one asked for where it differs.
func (c Card) Fingers() string {
	p, w := c.Program, c.w
	if !p.Regular {
		return joined(" ", "pattern", p.Pattern)
	}
	text := "fingers " + w.Fine(p.Finger)
	var asked []string
	for _, f := range p.OffAsked() {
		asked = append(asked, w.Bare(f))
	}
	if len(asked) > 0 {
		text += " (" + strings.Join(asked, ", ") + " asked)"
	}
	return text
}

// Even reports whether every slot is cut with the same turns between its cuts
// and after it, and which they are.
func (c Card) Even() (between, then measure.Ratio, even bool) {
	first := true
	for _, r := range c.Rows {
		for _, t := range r.Between {
			if first {
				between, first = t, false
			} else if t != between {
				return between, then, false
			}
		}
	}
	for i, r := range c.Rows {
		switch {
		case r.Last:
		case i == 0:
			then = r.Then
		case r.Then != then:
			return between, then, false
		}
	}
	return between, then, len(c.Rows) > 1
}

// WholeTurns reports whether the handle ends every cut where it began.
func (c Card) WholeTurns() bool {
	for _, r := range c.Rows {
		if !r.Total.IsWhole() || r.Clock != "12" {
			return false
		}
	}
	return true
}

func mateOf(p *jigplan.Plan, of *jigplan.Program) *jigplan.Program {
	for i := range p.Programs {
		if of.Mate != "" && p.Programs[i].ID == of.Mate {
			return &p.Programs[i]
		}
	}
	return nil
}

// CardOf is the card of one program with no stacks; mate is the program of the
// other row, or nil.
func CardOf(p, mate *jigplan.Program, s *settings.Shop) Card {
	c := Card{Program: p, mate: mate, shop: s, w: Words{s.Units}, Rows: cardRows(p)}
	for i := range p.Heights {
		h := &p.Heights[i]
		c.Ends = append(c.Ends, CardHeight{h, endView(p, mate, h, orders.RowA), endView(p, mate, h, orders.RowB)})
	}
	return c
}

// endView is one row's end, cut by the program or by its mate.
func endView(p, mate *jigplan.Program, h *jigplan.Height, row orders.Row) *EndView {
	other := row == orders.RowA && p.Rows == jigplan.OnlyB || row == orders.RowB && p.Rows == jigplan.OnlyA
	if other {
		if h = heightIn(mate, h.Height); h == nil {
			return nil
		}
		p = mate
	}
	comb := EndOf(p, h, row)
	view := EndView{comb, comb.Fingers(p.Fit.Abs()), h.ALow, h.AHigh}
	if row == orders.RowB {
		view.Low, view.High = h.BLow, h.BHigh
	}
	return &view
}

func heightIn(p *jigplan.Program, height measure.Length) *jigplan.Height {
	if p == nil {
		return nil
	}
	for i := range p.Heights {
		if p.Heights[i].Height == height {
			return &p.Heights[i]
		}
	}
	return nil
}

func cardRows(p *jigplan.Program) []CardRow {
	var rows []CardRow
	for i := range p.Steps {
		s := &p.Steps[i]
		last := len(rows) - 1
		if last < 0 || rows[last].Slot != s.Slot {
			if last >= 0 {
				rows[last].Then = s.Turns
			}
			rows = append(rows, CardRow{Slot: s.Slot, From: s.TotalTurns})
			last++
		} else {
			rows[last].Between = append(rows[last].Between, s.Turns)
		}
		r := &rows[last]
		r.Cuts, r.Total, r.Clock, r.Travel = r.Cuts+1, s.TotalTurns, s.Clock, s.Travel
	}
	if len(rows) > 0 {
		rows[len(rows)-1].Last = true
	}
	return rows
}

// BetweenText is "1" where every step is one turn, "1, ½" where they differ,
// and a dash for a single cut.
func (r CardRow) BetweenText() string {
	if len(r.Between) == 0 {
		return "–"
	}
	var all []string
	same := true
	for _, t := range r.Between {
		all = append(all, Turns(t))
		same = same && t.Cmp(r.Between[0]) == 0
	}
	if same {
		return all[0]
	}
	return strings.Join(all, ", ")
}

// Running is the setups in the order to run them; setups the sequence does not
// name follow at the end.
func Running(p *jigplan.Plan) []*jigplan.Setup {
	byID := map[string]*jigplan.Setup{}
	for i := range p.Setups {
		byID[p.Setups[i].ID] = &p.Setups[i]
	}
	var out []*jigplan.Setup
	for _, id := range p.Sequence.Setups {
		if s := byID[id]; s != nil {
			out = append(out, s)
			delete(byID, id)
		}
	}
	for i := range p.Setups {
		if byID[p.Setups[i].ID] != nil {
			out = append(out, &p.Setups[i])
		}
	}
	return out
}

// Pair is one line of a card's head: what it is about and what to do.
type Pair struct{ Name, Text string }

// Head is what is set before the first cut, beside blade height and spacer.
// Each line is a figure to set or a thing to check.
func (c Card) Head() []Pair {
	p, w := c.Program, c.w
	rod := fmt.Sprintf("%s: one turn moves the carriage %s", p.Rod, w.Fine(p.Lead))
	if p.StopsPerTurn > 1 {
		rod += fmt.Sprintf("; the wheel stops at %d places a turn", p.StopsPerTurn)
	}
	out := []Pair{{"Rod", rod}, {"Blade", c.blade()}}
	if mate := p.MateThickness; mate > 0 && len(c.Setups) == 0 { // else each setup has its own
		out = append(out, Pair{"Blade height", fmt.Sprintf("%s: the mates' %s and %s to stand proud", w.Len(mate+c.shop.Proud), w.Len(mate), w.Len(c.shop.Proud))})
	}
	out = append(out, Pair{"Rows", c.rows()}, Pair{"Home", c.home()})
	if short := c.onCarriers(); len(short) > 0 {
		out = append(out, Pair{"Short boards", fmt.Sprintf("too short to clamp: %s. Fix each to a carrier of its own height, %s thick and at least %s long (double-sided tape, or screws in waste), flush at the end that is cut; the carrier is behind it in the opening and is cut with it",
			strings.Join(short, "; "), c.w.Len(c.shop.Carrier), c.w.Len(c.shop.ShortestClamp))})
	}
	if c.shop.Backing > 0 {
		out = append(out, Pair{"Backing", w.Len(c.shop.Backing) + " board behind the stack, where the blade comes out"})
	}
	return append(out, Pair{"Joint", c.Joint()})
}

// onCarriers lists the boards of this card that do not reach the clamp.
func (c Card) onCarriers() []string {
	var codes []string
	for _, k := range c.Stacks {
		for _, b := range k.Boards {
			if b.Carrier > 0 && !slices.Contains(codes, b.Part) {
				codes = append(codes, b.Part)
			}
		}
	}
	if len(codes) == 0 {
		return nil
	}
	return strings.Split(c.names.Together(codes, false), "; ")
}

func (c Card) blade() string {
	kerf := c.w.Both(c.Program.Kerf.Ratio()) + " kerf"
	if c.Program.KerfMeasured {
		return kerf + ", as measured; flat-top teeth"
	}
	return kerf + ", NOT MEASURED; flat-top teeth"
}

// Turned reports whether boards cut with this card are their own mates: row B
// stands with its other edge at the stop.
func (c Card) Turned() bool { return c.Program.Rows == jigplan.OnlyA && c.Program.Mate == "" }

// AtTheStop is which edge of the boards goes to the stop.
func (c Card) AtTheStop() string {
	if c.Turned() {
		return "A's marked, B's other edge to the stop"
	}
	return "marked edge to the stop"
}

func (c Card) rows() string {
	p := c.Program
	switch {
	case c.Turned():
		return "all boards alike, no spacer: row A with the marked edge at the stop, row B with its other edge"
	case p.Rows == jigplan.OnlyA:
		return fmt.Sprintf("row A alone, at the stop, no spacer; card %s cuts its mates", p.Mate)
	case p.Rows == jigplan.OnlyB && p.Spacer.Sign() == 0:
		return fmt.Sprintf("row B alone, at the stop, no spacer; card %s cuts its mates", p.Mate)
	case p.Rows == jigplan.OnlyB:
		return fmt.Sprintf("row B alone, behind the spacer of %s; card %s cuts its mates", c.w.Both(p.Spacer), p.Mate)
	}
	text := "A at the stop, B behind the spacer, all in one stack"
	if c.Spacer == "" {
		text = fmt.Sprintf("A at the stop, B behind the spacer of %s, all in one stack", c.w.Both(p.Spacer))
	}
	if c.dialled() {
		text += fmt.Sprintf(" (without a block: cut A, then B alone with every count %s turns higher and the last slot left out)", Turns(p.DialTurns))
	}
	return text
}

// dialled reports whether the count itself, so many turns higher, cuts row B
// without the spacer: its first slot must be a whole one, and must leave row B
// nothing at home but a graze.
func (c Card) dialled() bool {
	p := c.Program
	if p.DialTurns.Sign() <= 0 || len(p.Slots) == 0 || p.Slots[0].Cuts != p.CutsPerSlot {
		return false
	}
	graze := p.Fit.Over(2)
	for _, h := range p.Heights {
		end := p.Origin.Add(p.Slot).Sub(p.Spacer).Sub(h.Shim)
		if end.Sign() > 0 && end.Cmp(graze) > 0 {
			return false
		}
	}
	return true
}

func (c Card) home() string {
	edge := "the marked edge of row A"
	if c.Program.Rows == jigplan.OnlyB {
		edge = "the marked edge of row B"
	}
	for _, h := range c.Program.Heights {
		if h.Shim.Sign() > 0 {
			edge += " (boards without a shim)"
			break
		}
	}
	text := "wheel at zero, the first kerf starts "
	switch o := c.Program.Origin; o.Sign() {
	case 0:
		text += "exactly at " + edge
	case -1:
		text += c.w.Fine(o.Abs()) + " outside " + edge
	default:
		text += c.w.Fine(o) + " inside " + edge
	}
	return text + c.fromMate()
}

// fromMate says how row B's home is reached from row A's: by whole stops of
// the wheel and, where they alone do not meet it, a shim.
func (c Card) fromMate() string {
	p := c.Program
	if p.Rows != jigplan.OnlyB || c.mate == nil || p.StopsPerTurn < 1 || p.Lead.Sign() <= 0 {
		return ""
	}
	step := p.Lead.Over(int64(p.StopsPerTurn))
	apart := p.Origin.Add(p.Spacer).Sub(c.mate.Origin) // with the spacer in
	stops := apart.Div(step).Ceil()
	turns := measure.Frac(stops, int64(p.StopsPerTurn))
	text := fmt.Sprintf("; from card %s's home %s turns on", p.Mate, Turns(turns))
	switch turns.Sign() {
	case 0:
		text = fmt.Sprintf("; card %s's home", p.Mate)
	case -1:
		text = fmt.Sprintf("; %s turns before card %s's home", Turns(turns.Abs()), p.Mate)
	}
	if shim := step.Times(stops).Sub(apart); shim.Sign() > 0 {
		text += ", with a shim of " + c.w.Both(shim) + " between stop and boards"
	}
	return text
}

// Joint is what should be measured when it is cut.
func (c Card) Joint() string {
	p, w := c.Program, c.w
	asked := w.AskedCut(p)
	if asked != "" {
		asked += "; "
	}
	if !p.Regular {
		return asked + fmt.Sprintf("pattern: slots as listed; every slot is %s wider than the pin that enters it", w.Fine(p.Fit))
	}
	return asked + fmt.Sprintf("slot %s, pin %s, fit %s (slot minus pin)", w.Caliper(p.Slot), w.Caliper(p.Pin), w.Caliper(p.Fit))
}

// WhyCorner says why the card starts with a test corner; empty: it does not.
func (c Card) WhyCorner() string {
	switch {
	case len(c.Rows) == 0:
		return ""
	case !c.Program.KerfMeasured:
		return "the kerf is not measured"
	case c.corner:
		return "rod, blade or height is new"
	}
	return ""
}

// SecondPass is what follows winding back; empty: nothing.
func (c Card) SecondPass() string {
	if c.Program.Passes() != 2 {
		return ""
	}
	return fmt.Sprintf("Then the second pass: a shim of %s at the stop, and the whole card once more.", c.w.Both(c.Program.SecondPass))
}

// EdgeText is "notch 9/32 in", or "flush" for a graze.
func (w Words) EdgeText(e jigplan.Edge) string {
	kind := "pin"
	if e.Notch {
		kind = "notch"
	}
	return kind + " " + w.Fine(e.Width)
}
