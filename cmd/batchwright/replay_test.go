package main

import (
	"encoding/json"
	"fmt"
	"math/big"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"batchwright/jigplan/document"
	"batchwright/jigplan/plan"
	"batchwright/nesting"
	"batchwright/orders/intake"
	"batchwright/orders/settings"
)

// A plan's JSON is followed at the saw by a reader who knows nothing but the
// page: every cut is set to set_mm from its reference, one after another, on
// wood that is as large as the cuts before have left it. Every part must come
// out at its cut size to one division of the rule, and no cut may break the
// rules of the saw that the settings state. It shares no code with the program.

type pagePlan struct {
	Units    string
	Settings map[string]any
	Parts    []struct {
		ID       string
		CutLong  json.Number `json:"cut_length_mm"`
		CutWide  json.Number `json:"cut_width_mm"`
		Material string      `json:"wood"`
	}
	Boards  []pageBoard
	Milling []struct {
		Kind    string
		Parts   []string
		Minutes float64
	}
	Time struct{ Elements map[string]float64 }
}

type pageBoard struct {
	ID, Wood     string
	Length       json.Number `json:"length_mm"`
	Width        json.Number `json:"width_mm"`
	Pieces, Cuts []pageItem
}

// pageItem is a piece or a cut.
type pageItem struct {
	Part                   string
	X                      json.Number `json:"x_mm"`
	Y                      json.Number `json:"y_mm"`
	Length                 json.Number `json:"length_mm"`
	Width                  json.Number `json:"width_mm"`
	Turned                 bool
	N                      int
	Kind, Guide, Reference string
	At                     json.Number `json:"at_mm"`
	From                   json.Number `json:"from_mm"`
	To                     json.Number `json:"to_mm"`
	Kerf                   json.Number `json:"kerf_mm"`
	Set                    json.Number `json:"set_mm"`
}

// onBench is a piece of wood: where the plan has it, and what it measures; by
// axis, along the board and across it.
type onBench struct {
	plan, real [2][2]*big.Rat
	cut        [2]bool // its low side was cut
}

func num(n any) *big.Rat {
	r, ok := new(big.Rat).SetString(fmt.Sprint(n))
	if !ok {
		return new(big.Rat)
	}
	return r
}

func plus(a, b *big.Rat) *big.Rat  { return new(big.Rat).Add(a, b) }
func minus(a, b *big.Rat) *big.Rat { return new(big.Rat).Sub(a, b) }

// followPage lists what goes wrong at the saw.
func followPage(p *pagePlan) (faults []string, cuts int) {
	size := map[string][2]*big.Rat{}
	for _, part := range p.Parts {
		size[part.ID] = [2]*big.Rat{num(part.CutLong), num(part.CutWide)}
	}
	for _, b := range p.Boards {
		f := &follower{plan: p, board: b, step: big.NewRat(127, 320), size: size} // 1/64 in
		if p.Units == "mm" {
			f.step = big.NewRat(1, 2)
		}
		f.run()
		faults = append(faults, f.faults...)
		cuts += len(b.Cuts)
	}
	return faults, cuts
}

type follower struct {
	plan   *pagePlan
	board  pageBoard
	step   *big.Rat
	size   map[string][2]*big.Rat
	bench  []onBench
	faults []string
}

func (f *follower) fault(format string, args ...any) {
	f.faults = append(f.faults, f.board.ID+": "+fmt.Sprintf(format, args...))
}

func (f *follower) run() {
	span := func(n json.Number) [2]*big.Rat { return [2]*big.Rat{new(big.Rat), num(n)} }
	whole := [2][2]*big.Rat{span(f.board.Length), span(f.board.Width)}
	f.bench = []onBench{{plan: whole, real: whole}}
	for _, c := range f.board.Cuts {
		f.cut(c)
	}
	for _, p := range f.board.Pieces {
		f.measure(p)
	}
}

// take removes the piece of wood that a cut runs through.
func (f *follower) take(c pageItem, a int) (onBench, bool) {
	at, end := num(c.At), plus(num(c.At), num(c.Kerf))
	for i, w := range f.bench {
		across := w.plan[1-a]
		if across[0].Cmp(num(c.From)) == 0 && across[1].Cmp(num(c.To)) == 0 && end.Cmp(w.plan[a][0]) >= 0 && at.Cmp(w.plan[a][1]) < 0 {
			f.bench = append(f.bench[:i:i], f.bench[i+1:]...)
			return w, true
		}
	}
	f.fault("cut %d runs through nothing", c.N)
	return onBench{}, false
}

func (f *follower) cut(c pageItem) {
	a := 0
	if c.Kind == "rip" {
		a = 1
	}
	w, ok := f.take(c, a)
	if !ok {
		return
	}
	f.rules(c, a, w)
	kerf, set := num(c.Kerf), num(c.Set)
	at := plus(w.real[a][0], set)
	if strings.HasPrefix(c.Reference, "far ") {
		at = minus(minus(w.real[a][1], set), kerf)
	}
	low, high := w, w
	low.plan[a][1], low.real[a][1] = num(c.At), at
	high.plan[a][0], high.real[a][0] = plus(num(c.At), kerf), plus(at, kerf)
	high.cut[a] = true
	for _, side := range []onBench{low, high} {
		if side.plan[a][0].Cmp(side.plan[a][1]) < 0 {
			f.bench = append(f.bench, side)
		}
	}
}

func (f *follower) limit(name string) *big.Rat {
	l := num(f.plan.Settings[name])
	if l.Sign() == 0 {
		return big.NewRat(1_000_000, 1)
	}
	return plus(l, f.step)
}

// rules are those of the saw: what is set from where, and what is not safe.
func (f *follower) rules(c pageItem, a int, w onBench) {
	sheet := strings.Contains(f.board.Wood, "ply")
	set, along := num(c.Set), minus(w.real[1-a][1], w.real[1-a][0])
	ends := []string{"end", "edge"}
	low := "marked " + ends[a]
	if w.cut[a] {
		low = "fresh " + ends[a]
	}
	if c.Reference != low && c.Reference != "far "+ends[a] {
		f.fault("cut %d is set from the %s", c.N, c.Reference)
	}
	shortest := num(f.plan.Settings["Shortest rip"])
	switch {
	case c.Guide != "fence" && c.Guide != "stop" && c.Guide != "straightedge":
		f.fault("cut %d has no guide", c.N)
	case !sheet && (a == 1) != (c.Guide == "fence") && c.Guide != "straightedge", !sheet && a == 1 && c.Guide == "straightedge":
		f.fault("cut %d, a %s of solid wood, is guided by the %s", c.N, c.Kind, c.Guide)
	case c.Guide == "fence" && (plus(along, f.step).Cmp(shortest) < 0 || shortest.Sign() > 0 && plus(along, f.step).Cmp(set) < 0):
		f.fault("cut %d has %s mm along the fence, set to %s", c.N, along.FloatString(1), set.FloatString(1))
	case c.Guide == "fence" && set.Cmp(f.limit("Fence reaches")) > 0:
		f.fault("cut %d sets the fence to %s", c.N, set.FloatString(1))
	case c.Guide == "stop" && along.Cmp(f.limit("Sled takes")) > 0:
		f.fault("cut %d has %s mm on the sled", c.N, along.FloatString(1))
	}
}

// measure finds a part on the bench and compares it with its cut size.
func (f *follower) measure(p pageItem) {
	want := f.size[p.Part]
	if p.Turned {
		want[0], want[1] = want[1], want[0]
	}
	for _, w := range f.bench {
		x, y := num(p.X), num(p.Y)
		if w.plan[0][0].Cmp(x) != 0 || w.plan[1][0].Cmp(y) != 0 || w.plan[0][1].Cmp(plus(x, num(p.Length))) != 0 ||
			w.plan[1][1].Cmp(plus(y, num(p.Width))) != 0 {
			continue
		}
		for a := range want {
			off := minus(minus(w.real[a][1], w.real[a][0]), want[a])
			if off.Abs(off).Cmp(f.step) > 0 {
				f.fault("%s comes out %s mm off", p.Part, off.FloatString(3))
			}
		}
		return
	}
	f.fault("%s is not set free", p.Part)
}

// twelve are small orders of every kind.
var twelve = []struct {
	name string
	book orderBook
}{
	{"one box", book(boxesRows(row("Tray", 1, "8", "5", "3", "1/2", "walnut")))},
	{"ply only", book(boxesRows(row("Bin", 10, "9-1/8", "4", "3-5/8", "1/2", "birch ply")))},
	{"three hundred boxes", book(boxesRows(row("Tea", 300, "6", "4", "2-1/2", "3/8", "maple")))},
	{"rack only", book(boxesRows(row("Till", 3, "12", "8", "4", "1/2", "cherry")), rackRows(
		row("R1", 2, "cherry", "4/4", "96", "7", "30", ""), row("R2", 3, "cherry", "4/4", "60", "5-1/2", "14", "")))},
	{"rack and yard", book(boxesRows(row("Till", 6, "12", "8", "4", "1/2", "cherry")), rackRows(row("R1", 1, "cherry", "4/4", "70", "6", "20", "")),
		yardRows(row("Y", "", "cherry", "4/4", "96", "8", "45", "")))},
	{"tapered and with defects", book(boxesRows(row("Till", 2, "12", "8", "4", "1/2", "ash")), rackRows(
		row("R1", 3, "ash", "4/4", "96", "7", "30", "18 to 22; 40 to 43 across 0 to 1 1/2"), row("R2", 2, "ash", "4/4", "80", "6-1/4", "21", "60 to 61")))},
	{"resawn", book(boxesRows(row("Pen", 4, "9", "4", "2", "1/4", "ash")), rackRows(row("R1", 4, "ash", "8/4", "40", "6", "30", "")),
		shopRows(row("Resaw up to", "8", "in")))},
	{"matched grain", book(boxesRows(row("Match", 4, "10", "7", "3", "1/2", "walnut", "matched")))},
	{"small parts under a long shortest rip", book(boxesRows(row("Pill", 12, "3-1/2", "2-1/4", "1-1/2", "3/8", "maple")), shopRows(row("Shortest rip", "20", "in")))},
	{"metric", book(boxesRows(row("Dose", 7, "221", "93", "67", "9", "oak")), shopRows(row("Units", "mm", "")))},
	{"sheets", book(boxesRows(row("Crate", 6, "30", "26", "6", "1/2", "birch ply")))},
	{"no limits", book(boxesRows(row("Cube", 5, "5", "5", "5", "1/2", "walnut")), shopRows(row("Shortest rip", "0", "in"), row("Fence reaches", "0", "in"), row("Sled takes", "0", "in")))},
}

func row(values ...any) []any { return values }

func boxesRows(rows ...[]any) orderSheet {
	head := row("Box", "Count", "Length", "Width", "Height", "Thickness", "Wood", "Grain", "Measured", "Bottom")
	for i, r := range rows {
		rows[i] = append(append(r[:7:7], append(r[7:], "any")[0]), "outside", "groove")
	}
	return orderSheet{name: "Boxes", rows: append([][]any{head}, rows...)}
}

func rackRows(rows ...[]any) orderSheet {
	head := row("Board", "Count", "Wood", "Class", "Length", "Width", "Cost", "Defects")
	return orderSheet{name: "Rack", rows: append([][]any{head}, rows...)}
}

func yardRows(rows ...[]any) orderSheet {
	s := rackRows(rows...)
	s.name, s.rows[0][6] = "Yard", "Price each"
	return s
}

func shopRows(rows ...[]any) orderSheet {
	return orderSheet{name: "Shop", rows: append([][]any{row("Setting", "Value", "Unit")}, rows...)}
}

func book(sheets ...orderSheet) orderBook { return orderBook{sheets: sheets} }

// planOf plans an order and reads the JSON of it.
func planOf(t *testing.T, b orderBook) *pagePlan {
	t.Helper()
	data, err := b.build()
	if err != nil {
		t.Fatal(err)
	}
	o, err := intake.Read("order.xlsx", data, settings.Default())
	if err != nil {
		t.Fatal(err)
	}
	made, err := plan.Plan(o, plan.Options{Limits: nesting.Limits{Seed: 1, Think: 20 * time.Millisecond}})
	if err != nil {
		t.Fatal(err)
	}
	text, err := document.Marshal(made)
	if err != nil {
		t.Fatal(err)
	}
	var p pagePlan
	if err := json.Unmarshal(text, &p); err != nil {
		t.Fatal(err)
	}
	if len(p.Boards) == 0 {
		t.Fatalf("no boards: %v", made.Findings)
	}
	return &p
}

func TestTwelveOrdersAreCutByThePage(t *testing.T) {
	t.Parallel()
	for _, c := range twelve {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			faults, cuts := followPage(planOf(t, c.book))
			for _, f := range faults {
				t.Error(f)
			}
			if cuts == 0 {
				t.Error("nothing is cut")
			}
		})
	}
}

// TestRandomOrdersAreCutByThePage draws orders of sizes that no rule has, sheets
// among them, in inches and millimeters.
func TestRandomOrdersAreCutByThePage(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(16, 1))
	for i := range 12 {
		var rows [][]any
		metric := i%3 == 2
		size := func(from, to float64) string {
			l := from + (to-from)*rng.Float64()
			if metric {
				return fmt.Sprintf("%.1f", 25.4*l)
			}
			return fmt.Sprintf("%.3f", l)
		}
		for k := range 1 + rng.IntN(4) {
			wood := []string{"maple", "walnut", "birch ply"}[rng.IntN(3)]
			thick := []string{"1/2 in", "3/8 in", "1/4 in"}[rng.IntN(3)]
			rows = append(rows, row(fmt.Sprint("B", k), 1+rng.IntN(9), size(4, 20), size(3, 12), size(1.5, 5.5), thick, wood, []string{"any", "matched"}[rng.IntN(2)]))
		}
		shop := shopRows(row("Units", "in", ""))
		if metric {
			shop = shopRows(row("Units", "mm", ""))
		}
		if faults, _ := followPage(planOf(t, book(boxesRows(rows...), shop))); len(faults) > 0 {
			t.Errorf("order %d %v: %v", i, rows, faults)
		}
	}
}

// TestTheReplayCanFail plants faults into a page.
func TestTheReplayCanFail(t *testing.T) {
	t.Parallel()
	for what, plant := range map[string]func(c *pageItem){
		"a setting two divisions off": func(c *pageItem) { c.Set = json.Number(plus(num(c.Set), big.NewRat(127, 160)).FloatString(6)) },
		"another reference":           func(c *pageItem) { c.Reference = "far side" },
		"no guide":                    func(c *pageItem) { c.Guide = "" },
		"another guide":               func(c *pageItem) { c.Guide = map[string]string{"fence": "stop", "stop": "fence"}[c.Guide] },
		"another place":               func(c *pageItem) { c.From = "1" },
	} {
		p := planOf(t, twelve[0].book)
		plant(&p.Boards[0].Cuts[len(p.Boards[0].Cuts)-1])
		if faults, _ := followPage(p); len(faults) == 0 {
			t.Errorf("%s is not found", what)
		}
	}
}

// TestMillingTakesTheMinutesOfTheTime: what the steps between the cuts take is
// what the elements of the time say, and every solid part is planed once, to its
// own thickness.
func TestMillingTakesTheMinutesOfTheTime(t *testing.T) {
	t.Parallel()
	for _, c := range twelve[:5] {
		p := planOf(t, c.book)
		planed, sums := map[string]int{}, map[string]float64{}
		for _, m := range p.Milling {
			sums[m.Kind] += m.Minutes
			for _, id := range m.Parts {
				if m.Kind == "plane" {
					planed[id]++
				}
			}
		}
		off := func(what string, got, want float64) {
			if got-want > 0.1 || want-got > 0.1 {
				t.Errorf("%s: %s takes %.3f min, the time says %.3f", c.name, what, got, want)
			}
		}
		off("jointing", sums["joint face"]+sums["joint edge"], p.Time.Elements["Mill face and edge"])
		off("planing", sums["plane"], p.Time.Elements["Thickness pass"])
		for _, b := range p.Boards {
			for _, piece := range b.Pieces {
				if sheet := strings.Contains(b.Wood, "ply"); (planed[piece.Part] == 1) == sheet {
					t.Errorf("%s: %s is planed %d times", c.name, piece.Part, planed[piece.Part])
				}
			}
		}
	}
}
