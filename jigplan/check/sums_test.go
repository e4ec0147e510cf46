package check

import (
	"testing"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
)

// twoBoxes is two boxes with bottoms, the second's glued up, of which one board
// is bought and resawn.
func twoBoxes() *jigplan.Plan {
	p := &jigplan.Plan{Order: &orders.Order{Boxes: []orders.Box{{Name: "Tea", Count: 2}}}, Builds: []orders.Build{{Box: "Tea"}}}
	for unit := 1; unit <= 2; unit++ {
		for _, role := range []orders.Role{orders.Side, orders.Side, orders.End, orders.End} {
			p.Parts = append(p.Parts, orders.Part{Unit: unit, Role: role})
		}
	}
	p.Parts = append(p.Parts, orders.Part{Unit: 1, Role: orders.BottomP}, orders.Part{Unit: 2, Role: orders.Strip}, orders.Part{Unit: 1, Role: orders.Loose})
	p.Panels = []orders.GluedPanel{{Unit: 2, Role: orders.BottomP}}
	yard := orders.Board{ID: "walnut 8/4", Origin: orders.FromYard}
	p.Layout.Boards = []nesting.CutBoard{
		{ID: "R1", Stock: orders.Board{ID: "R1", Origin: orders.FromRack}, Cost: 900},
		{ID: "w#1/1", Stock: yard, Leaf: nesting.Leaf{Of: "w#1", N: 1, Count: 2}, Cost: 2000},
		{ID: "w#1/2", Stock: yard, Leaf: nesting.Leaf{Of: "w#1", N: 2, Count: 2}, Cost: 2000},
	}
	p.Buy = []jigplan.Purchase{{Kind: "wood", Board: yard, Count: 1, Cost: 4000}, {Kind: "glue", Cost: 300}}
	p.Time.Minutes = 90.5
	return p
}

func TestSumsFindPlantedFaults(t *testing.T) {
	tasks := []jigplan.Task{{Minutes: 60}, {Minutes: 31}}
	faults := func(p *jigplan.Plan) int {
		n := len(Boxes(p)) + len(Buying(p))
		if Minutes(tasks, p) != nil {
			n++
		}
		return n
	}
	if n := faults(twoBoxes()); n != 0 {
		t.Fatalf("%d faults in a right plan: %v %v %v", n, Boxes(twoBoxes()), Buying(twoBoxes()), Minutes(tasks, twoBoxes()))
	}
	for name, plant := range map[string]func(*jigplan.Plan){
		"a side is missing":      func(p *jigplan.Plan) { p.Parts = p.Parts[1:] },
		"a bottom is missing":    func(p *jigplan.Plan) { p.Panels = nil },
		"a box is missing":       func(p *jigplan.Plan) { p.Order.Boxes[0].Count = 3 },
		"a box nobody ordered":   func(p *jigplan.Plan) { p.Order.Boxes[0].Count = 1 },
		"a board is not bought":  func(p *jigplan.Plan) { p.Buy = p.Buy[1:] },
		"a leaf bought apart":    func(p *jigplan.Plan) { p.Buy[0].Count = 2 },
		"bought at another cost": func(p *jigplan.Plan) { p.Buy[0].Cost-- },
		"another board":          func(p *jigplan.Plan) { p.Buy[0].Board.ID = "walnut 4/4" },
		"bought though on hand":  func(p *jigplan.Plan) { p.Layout.Boards[1].Stock.Origin = orders.FromRack },
		"work the week lost":     func(p *jigplan.Plan) { p.Time.Minutes = 91.5 },
		"work the plan lost":     func(p *jigplan.Plan) { p.Time.Minutes = 88.9 },
	} {
		p := twoBoxes()
		plant(p)
		if faults(p) == 0 {
			t.Errorf("%s: not found", name)
		}
	}
	recut := twoBoxes()
	if recut.Recut, recut.Parts = true, recut.Parts[:1]; len(Boxes(recut)) != 0 {
		t.Error("parts that are cut again are taken for boxes")
	}
}
