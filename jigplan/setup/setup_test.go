package setup_test

import (
	"fmt"
	"strings"
	"testing"

	"batchwright/jigplan"
	"batchwright/jigplan/check"
	"batchwright/jigplan/setup"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"

	"pgregory.net/rapid"
)

// order is boxes and the programs that cut them, built by hand.
type order struct {
	parts    []orders.Part
	programs []jigplan.Program
	of       map[string]string
	settings settings.Shop
}

func newOrder() *order { return &order{of: map[string]string{}, settings: settings.Default()} }

const inch = measure.Inch

// boxes adds count boxes of one size; equal thicknesses share one program.
func (o *order) boxes(count int, length, width, height, side, end measure.Length) {
	line := len(o.parts)
	for unit := 1; unit <= count; unit++ {
		for i, role := range []orders.Role{orders.Side, orders.End, orders.Side, orders.End} {
			p := orders.Part{Box: fmt.Sprint("L", line), Line: line, Unit: unit, Role: role, Length: length, Width: height, Thickness: side,
				Joint: &orders.Joint{Row: orders.RowA, Height: height, Mate: end, Ends: [2]int{1, 2}}}
			if role == orders.End {
				p.Length, p.Thickness, p.Joint.Row, p.Joint.Mate = width, end, orders.RowB, side
			}
			p.ID = fmt.Sprintf("L%d-%d-%s%d", line, unit, role, i)
			o.of[p.ID] = o.program(p, side == end)
			o.parts = append(o.parts, p)
		}
	}
}

func (o *order) program(p orders.Part, both bool) string {
	want := jigplan.Program{Rows: jigplan.BothRows, MateThickness: p.Joint.Mate, Kerf: inch * 3 / 32,
		Spacer: measure.Frac(int64(inch)*9, 32), Heights: []jigplan.Height{{Height: p.Joint.Height, Shim: measure.Whole(int64(p.Joint.Height % 7))}}}
	if !both {
		want.Rows = jigplan.Rows(p.Joint.Row)
	}
	for i := range o.programs {
		have := &o.programs[i]
		if have.Rows != want.Rows || have.MateThickness != want.MateThickness {
			continue
		}
		for _, h := range have.Heights {
			if h.Height == p.Joint.Height {
				return have.ID
			}
		}
		have.Heights = append(have.Heights, want.Heights[0])
		return have.ID
	}
	want.ID = fmt.Sprint("J", len(o.programs)+1)
	o.programs = append(o.programs, want)
	return want.ID
}

func (o *order) group() setup.Result {
	return setup.Group(setup.Input{Parts: o.parts, Programs: o.programs, ProgramOf: o.of, Settings: &o.settings})
}

func (o *order) plan(r setup.Result) *jigplan.Plan {
	return &jigplan.Plan{Order: &orders.Order{Settings: o.settings}, Parts: o.parts, Programs: o.programs,
		Setups: r.Setups, Stacks: r.Stacks, Refusals: r.Refused}
}

func TestStacksFillTheOpening(t *testing.T) {
	tests := []struct {
		name          string
		count         int
		side, end     measure.Length
		opening       measure.Length
		stacks, setup int
		reason        string
	}{
		{"two boxes, half-inch boards", 2, inch / 2, inch / 2, inch * 9 / 2, 4, 1,
			"3-3/4 in of room holds three corners of 1 in: four corners an end need two stacks"},
		{"two boxes, larger opening", 2, inch / 2, inch / 2, inch * 19 / 4, 2, 1,
			"4 in of room holds all four corners of an end: eight boards, as the trade's own example"},
		{"unequal mates", 2, inch / 2, inch * 3 / 4, inch * 9 / 2, 4, 2,
			"rows apart: four boards of 1/2 in and four of 3/4 in, both within 3-3/4 in, either end"},
		{"one corner a stack", 1, inch * 3 / 2, inch * 3 / 2, inch * 9 / 2, 4, 1,
			"3 in of 3-3/4 in: each of the four corners by itself"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			o := newOrder()
			o.settings.Opening = tt.opening
			o.boxes(tt.count, 12*inch, 8*inch, 4*inch, tt.side, tt.end)
			r := o.group()
			if len(r.Stacks) != tt.stacks || len(r.Setups) != tt.setup || r.StackBound != tt.stacks {
				t.Errorf("%d stacks, %d setups, bound %d; want %d, %d: %s", len(r.Stacks), len(r.Setups), r.StackBound, tt.stacks, tt.setup, tt.reason)
			}
			for _, err := range check.Stacks(o.plan(r)) {
				t.Error(err)
			}
		})
	}
}

func TestRefusals(t *testing.T) {
	tests := []struct {
		name   string
		build  func(*order)
		waits  int
		words  string
		reason string
	}{
		{"too short to clamp", func(o *order) {
			o.settings.ShortBoards = "refuse"
			o.boxes(1, 12*inch, 3*inch, 4*inch, inch/2, inch/2)
		}, 4, "too short to clamp; minimum 4 in", "the ends are 3 in, the clamp needs 4"},
		{"short ends on carriers", func(o *order) { o.boxes(1, 12*inch, 3*inch, 4*inch, inch/2, inch/2) }, 0, "", "a carrier reaches the clamp"},
		{"no room for the carriers", func(o *order) {
			o.settings.Opening = 2 * inch
			o.boxes(1, 3*inch, 3*inch, 4*inch, inch/2, inch/2)
		}, 4, "2 in thick together, carriers included", "two boards and two carriers take 2 in of 1-1/4"},
		{"just long enough", func(o *order) { o.boxes(1, 12*inch, 4*inch, 4*inch, inch/2, inch/2) }, 0, "", "4 in is enough"},
		{"too long to stand", func(o *order) { o.boxes(1, 37*inch, 8*inch, 4*inch, inch/2, inch/2) }, 4, "too long to stand", "36 in is the limit"},
		{"thicker than the opening", func(o *order) { o.boxes(1, 12*inch, 8*inch, 4*inch, 4*inch, inch/2) }, 4, "leaves 3-3/4 in", "4 in boards"},
		{"corner thicker than the opening", func(o *order) { o.boxes(1, 12*inch, 8*inch, 4*inch, 2*inch, 2*inch) }, 4, "one stack", "2 in twice"},
		{"the rest goes on", func(o *order) {
			o.settings.ShortBoards = "refuse"
			o.boxes(1, 12*inch, 3*inch, 4*inch, inch/2, inch/2)
			o.boxes(1, 12*inch, 8*inch, 4*inch, inch/2, inch/2)
		}, 4, "too short to clamp", "one box is refused, the other is cut"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			o := newOrder()
			tt.build(o)
			r := o.group()
			waits, why := 0, ""
			for _, refused := range r.Refused {
				waits += len(refused.Parts)
				why += refused.Why
			}
			if waits != tt.waits || !strings.Contains(why, tt.words) {
				t.Errorf("%d boards wait: %q; want %d: %q (%s)", waits, why, tt.waits, tt.words, tt.reason)
			}
			for _, err := range check.Stacks(o.plan(r)) {
				t.Error(err)
			}
		})
	}
}

// Every grouping passes the check, and no stack count is above its bound.
func TestAnyOrderIsCutRight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := newOrder()
		o.settings.Opening = inch * measure.Length(rapid.IntRange(2, 20).Draw(t, "opening quarters")) / 2
		o.settings.ShortBoards = rapid.SampledFrom([]string{"carrier", "refuse"}).Draw(t, "short boards")
		o.settings.Replaceable = rapid.IntRange(0, 9).Draw(t, "replaceable boards")
		size := func(label string, low, high int) measure.Length {
			return inch * measure.Length(rapid.IntRange(low, high).Draw(t, label)) / 4
		}
		for range rapid.IntRange(1, 6).Draw(t, "lines") {
			o.boxes(rapid.IntRange(1, 9).Draw(t, "count"), size("length", 10, 160), size("width", 10, 60), size("height", 6, 20), size("side", 1, 5), size("end", 1, 5))
		}
		r := o.group()
		for _, err := range check.Stacks(o.plan(r)) {
			t.Error(err)
		}
		carried := false // boards of one thickness with and without carriers take unequal room
		for _, s := range r.Stacks {
			carried = carried || s.Room() > s.Thickness
		}
		if len(r.Stacks) < r.StackBound || len(r.Stacks) > r.StackBound && !carried {
			t.Errorf("%d stacks, bound %d", len(r.Stacks), r.StackBound)
		}
	})
}

// An end-2 stack never waits for a board whose end 1 comes later, as long as
// no corner is torn between stacks.
func TestFirstEndsComeFirst(t *testing.T) {
	o := newOrder()
	o.boxes(5, 12*inch, 8*inch, 4*inch, inch/2, inch/2)
	cut := map[string]bool{}
	for _, s := range o.group().Stacks {
		for _, b := range s.Boards {
			if s.End == 2 && !cut[b.Part] {
				t.Errorf("stack %s cuts end 2 of %s before its end 1", s.ID, b.Part)
			}
			cut[b.Part] = cut[b.Part] || s.End == 1
		}
	}
}

func BenchmarkGroup(b *testing.B) {
	o := newOrder()
	for k := range 500 {
		o.boxes(50, 12*inch, 8*inch, 4*inch+inch*measure.Length(k)/64, inch/2, inch/2)
	}
	for b.Loop() {
		if r := o.group(); len(r.Stacks) != r.StackBound {
			b.Fatal(len(r.Stacks))
		}
	}
}

// The check misses a carrier that is left out, and one that is not needed.
func TestCarriersAreChecked(t *testing.T) {
	for _, ends := range []measure.Length{3 * inch, 8 * inch} {
		o := newOrder()
		o.boxes(1, 12*inch, ends, 4*inch, inch/2, inch/2)
		r := o.group()
		for i := range r.Stacks[0].Boards {
			b := &r.Stacks[0].Boards[i]
			b.Carrier = inch/2 - b.Carrier
		}
		if len(check.Stacks(o.plan(r))) == 0 {
			t.Errorf("ends of %v: nothing is said", ends.Inches())
		}
	}
}
