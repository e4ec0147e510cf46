package cutting

import (
	"testing"

	"batchwright/nesting"
	layout "batchwright/nesting/check"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// A board of an order that mixes millimeters with an inch rule: on the left strip
// 0.05 mm and 0.22 mm are to be trimmed beside the part of 92.175 mm. Each trim
// takes a whole 1/64 in when it is set on the rule, so that both together make
// the part too narrow, unless the rip before them leaves more.
func TestTwoTrimsThinnerThanTheRule(t *testing.T) {
	const um = measure.Micrometre
	s := settings.Default()
	s.CutFirst = "best"
	job := Job{Settings: s, Rack: []orders.Board{{ID: "M1", Origin: orders.FromRack, Count: 1, Wood: "maple",
		Class: "4/4", Length: 2413 * measure.Millimetre, Width: 209550 * um, Cost: 3800, CostKnown: true}}}
	part := func(id string, length, width measure.Length) {
		job.Parts = append(job.Parts, orders.Part{ID: id, Role: orders.Loose, Wood: "maple", Grain: orders.AlongLength,
			Length: length, Width: width, CutLength: length, CutWidth: width, Thickness: measure.Inch / 2})
	}
	part("A", 727868*um, 104775*um)
	part("B", 727869*um, 92175*um)
	part("C", 607937*um, 92175*um)
	part("D", 607938*um, 104775*um)
	p := newProblem(job)
	item := map[string]int{}
	for i := range p.items {
		item[job.Parts[p.items[i].units[0][0]].ID] = i
	}
	u := used{times: 1, fill: fill{places: []place{
		{item: item["A"], x: 25400 * um, y: 3175 * um},
		{item: item["B"], x: 25400 * um, y: 111178 * um},
		{item: item["C"], x: 756444 * um, y: 3175 * um},
		{item: item["D"], x: 756444 * um, y: 98796 * um},
	}}}
	u.cuts, _ = p.saws(&p.stocks[0], u.fill)
	if u.cuts == nil {
		t.Fatal("no cuts free the parts")
	}
	nearest := u.cuts[0].emitted(false)
	if nearest.fits() || u.cuts[0].emitted(true).fits() {
		t.Fatal("the nearest divisions do as they are: this board shows nothing")
	}
	l := nesting.Layout{Boards: p.board(u, 1, make([]int, len(p.items)))}
	p.account(&l)
	for _, f := range layout.Layout(l, layout.Given{Parts: job.Parts, Rack: job.Rack, Settings: s}) {
		if f.Rule == "setting" || f.Rule == "safety" {
			t.Error(f)
		}
	}
}
