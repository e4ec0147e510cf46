package reports

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// SetupView is one state of the saw, in running order, with what it cuts.
type SetupView struct {
	*jigplan.Setup
	N       int
	Program *jigplan.Program
	Boxes   string   // whose ends it cuts
	Change  []string // what is done before it
	Minutes float64  // of that
	Height  string   // of the blade
	Spacer  string   // its name and width; "none"
	Stacks  []StackPair
}

// StackPair is boards clamped together, at one end and then at the other. Where
// a stack's other end is not cut with the same boxes it stands alone.
type StackPair struct {
	N            int
	A, B         string // row A and row B
	OtherA       string // what row A holds at its other end instead
	OtherB       string
	First, Other *jigplan.Stack // Other is nil where there is one end
}

// SetupsOf is the setups of a plan in running order.
func SetupsOf(p *jigplan.Plan) []SetupView {
	w, names := WordsOf(p), NamesOf(p)
	changes, stacks := map[string]*jigplan.Changeover{}, map[string][]*jigplan.Stack{}
	for i := range p.Sequence.Changes {
		changes[p.Sequence.Changes[i].Setup] = &p.Sequence.Changes[i]
	}
	for i := range p.Stacks {
		stacks[p.Stacks[i].Setup] = append(stacks[p.Stacks[i].Setup], &p.Stacks[i])
	}
	programs := map[string]*jigplan.Program{}
	for i := range p.Programs {
		programs[p.Programs[i].ID] = &p.Programs[i]
	}
	spacers := spacerNames(p)
	var out []SetupView
	for i, u := range Running(p) {
		v := SetupView{Setup: u, N: i + 1, Program: programs[u.Program], Height: w.Len(u.BladeHeight), Spacer: "none"}
		if u.Spacer.Sign() > 0 {
			v.Spacer = spacers[u.Spacer] + ", " + w.Fine(u.Spacer)
		}
		if c := changes[u.ID]; c != nil {
			v.Change, v.Minutes = c.What, c.Minutes
		}
		v.Boxes = boxesIn(stacks[u.ID], names)
		v.Stacks = pairs(stacks[u.ID], names, w)
		out = append(out, v)
	}
	return out
}

// boxesIn names the boxes whose ends some stacks hold.
func boxesIn(stacks []*jigplan.Stack, names Names) string {
	var out []string
	for _, k := range stacks {
		for _, b := range k.Boards {
			if box := names.Of(b.Part).Box; !slices.Contains(out, box) {
				out = append(out, box)
			}
		}
	}
	return Listed(out, 5)
}

// pairs joins the stacks of one setup that hold the same boxes at either end.
func pairs(stacks []*jigplan.Stack, names Names, w Words) []StackPair {
	var out []StackPair
	open := map[string][]int{}
	for _, k := range stacks {
		key := boxKey(k, names)
		if at := open[key]; len(at) > 0 && out[at[0]].First.End != k.End {
			pair := &out[at[0]]
			open[key] = at[1:]
			pair.Other = k
			pair.OtherA, pair.OtherB = insteadOf(k, pair.First, orders.RowA, names), insteadOf(k, pair.First, orders.RowB, names)
			continue
		}
		open[key] = append(open[key], len(out))
		out = append(out, StackPair{N: len(out) + 1, First: k,
			A: StackRow(k, orders.RowA, names, w), B: StackRow(k, orders.RowB, names, w)})
	}
	return out
}

// boxKey is equal for stacks of the same boxes.
func boxKey(k *jigplan.Stack, names Names) string {
	var keys []string
	for _, b := range k.Boards {
		n := names.Of(b.Part)
		keys = append(keys, fmt.Sprint(n.line, n.Unit))
	}
	sort.Strings(keys)
	return strings.Join(keys, " ")
}

// insteadOf is which boards a row holds at its other end instead of others;
// empty: the same.
func insteadOf(k, first *jigplan.Stack, row orders.Row, names Names) string {
	now, then := boardsOf(k, row), boardsOf(first, row)
	comes := slices.DeleteFunc(slices.Clone(now), func(code string) bool { return slices.Contains(then, code) })
	goes := slices.DeleteFunc(then, func(code string) bool { return slices.Contains(now, code) })
	if len(comes)+len(goes) == 0 {
		return ""
	}
	return names.Together(comes, true) + " instead of " + names.Together(goes, true)
}

func boardsOf(k *jigplan.Stack, row orders.Row) (out []string) {
	for _, b := range k.Boards {
		if b.Row == row {
			out = append(out, b.Part)
		}
	}
	return out
}

// StackRow names the boards of one row of a stack; boards that stand off the
// stop are gathered by how much.
func StackRow(k *jigplan.Stack, row orders.Row, names Names, w Words) string {
	type setting struct {
		shim    measure.Ratio
		carrier bool
	}
	var kinds []setting
	codes := map[setting][]string{}
	for _, b := range k.Boards {
		if b.Row != row {
			continue
		}
		kind := setting{b.Shim, b.Carrier > 0}
		if codes[kind] == nil {
			kinds = append(kinds, kind)
		}
		codes[kind] = append(codes[kind], b.Part)
	}
	var out []string
	for _, kind := range kinds {
		text := names.Together(codes[kind], false)
		if kind.carrier {
			text += " (each on a carrier)"
		}
		if kind.shim.Sign() != 0 {
			text += " (with a shim of " + w.Fine(kind.shim) + " at the stop)"
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}

// SpacerView is one spacer of the batch.
type SpacerView struct {
	Name   string // "S1"
	Width  string
	Within string // "± 0.0017 in"
	Cards  string
	Boxes  string
}

// Spacers are those the setups need, narrow ones first.
func Spacers(p *jigplan.Plan) (out []SpacerView) {
	w, names := WordsOf(p), spacerNames(p)
	for _, width := range spacerWidths(p) {
		v := SpacerView{Name: names[width], Width: w.Both(width)}
		var cards, boxes []string
		var fit measure.Ratio
		for _, u := range SetupsOf(p) {
			if u.Setup.Spacer != width || u.Program == nil {
				continue
			}
			cards, boxes = append(cards, u.Program.ID), append(boxes, u.Boxes)
			if fit.Sign() == 0 || u.Program.Fit.Abs().Cmp(fit) < 0 {
				fit = u.Program.Fit.Abs()
			}
		}
		v.Cards, v.Boxes = strings.Join(cards, ", "), strings.Join(boxes, ", ")
		v.Within = within(fit, w)
		out = append(out, v)
	}
	return out
}

// SpacerStock says where spacers come from.
func SpacerStock(p *jigplan.Plan) string {
	w := WordsOf(p)
	return "Take a spacer from the drawer, or plane a piece of hardwood, " + w.Size(p.Order.Settings.Opening, 2*spacerTall(w)) +
		", to the thickness given, and keep it for the next batch."
}

func spacerTall(w Words) measure.Length {
	if w.Unit.Metric() {
		return 25 * measure.Millimetre
	}
	return measure.Inch
}

// within is half the fit: the edges of the corner stay flush with a spacer that
// is no further off.
func within(fit measure.Ratio, w Words) string {
	half := fit.Over(2)
	least := measure.Frac(int64(measure.Inch), 2000) // nobody planes closer
	if half.Cmp(least) < 0 {
		half = least
	}
	return "± " + w.Caliper(half)
}

func spacerWidths(p *jigplan.Plan) (out []measure.Ratio) {
	for i := range p.Setups {
		if s := p.Setups[i].Spacer; s.Sign() > 0 && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	slices.SortFunc(out, func(a, b measure.Ratio) int { return a.Cmp(b) })
	return out
}

func spacerNames(p *jigplan.Plan) map[measure.Ratio]string {
	names := map[measure.Ratio]string{}
	for i, width := range spacerWidths(p) {
		names[width] = fmt.Sprintf("S%d", i+1)
	}
	return names
}

// BeforeFirstCut is what is looked at once, before the first stack and whenever
// the jig has been off the sled.
var BeforeFirstCut = []string{"wheel nuts tight", "no end play in the rod", "jig square to the fence", "carriage home, wheel at its zero mark"}

// EveryStack is what is done with each stack, in order. The spacer's steps are
// left out where no setup has one.
func EveryStack(p *jigplan.Plan) []string {
	out := []string{"Stop the saw. Backing board in, then the boards in the order listed, show faces out, lower ends flush on the sled."}
	if len(spacerWidths(p)) > 0 {
		out = append(out, "Put the spacer in. Row A against the stop, row B against the spacer, marked edges to the stop.", "Clamp. TAKE THE SPACER OUT before cutting.")
	} else {
		out = append(out, "Marked edges against the stop. Clamp.")
	}
	return append(out, "Wheel at zero. Cut by the card, tick each slot.",
		"Stop the saw, wind back to zero. For the other end flip the boards end for end: the marked edge stays at the stop.")
}

// Ticks is a card's stacks with a box for each end: "stack 1: end 1 ☐ end 2 ☐".
func (c Card) Ticks() (out []string) {
	n := 0
	for _, u := range c.Setups {
		for _, pair := range pairs(stacksOf(c, u), c.names, c.w) {
			n++
			text := fmt.Sprintf("stack\u00a0%d:", n)
			for end := 1; end <= 2; end++ {
				if pair.First.End == end || pair.Other != nil {
					text += fmt.Sprintf("\u00a0end\u00a0%d\u00a0☐", end)
				}
			}
			out = append(out, text)
		}
	}
	return out
}

func stacksOf(c Card, u *jigplan.Setup) (out []*jigplan.Stack) {
	for _, k := range c.Stacks {
		if k.Setup == u.ID {
			out = append(out, k)
		}
	}
	return out
}
