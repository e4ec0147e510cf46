package check

import (
	"fmt"
	"maps"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// Boxes goes over what the plan makes: every box ordered has two sides, two
// ends and the panels that the others of its line have, and no box is made that
// nobody ordered. A plan of parts cut again has parts of boxes only.
func Boxes(p *jigplan.Plan) (found []error) {
	if p.Recut {
		return nil
	}
	type box struct{ line, unit int }
	made := map[box]map[orders.Role]int{}
	count := func(line, unit int, role orders.Role) {
		if b := (box{line, unit}); made[b] == nil {
			made[b] = map[orders.Role]int{role: 1}
		} else {
			made[b][role]++
		}
	}
	for i := range p.Parts {
		if part := &p.Parts[i]; part.Role != orders.Strip && part.Role != orders.Loose {
			count(part.Line, part.Unit, part.Role)
		}
	}
	for _, g := range p.Panels {
		if g.Role != orders.Loose {
			count(g.Line, g.Unit, g.Role)
		}
	}
	boxes := 0
	for _, build := range p.Builds {
		first := made[box{build.Line, 1}]
		for unit := 1; unit <= p.Order.Boxes[build.Line].Count; unit++ {
			boxes++
			if is := made[box{build.Line, unit}]; is[orders.Side] != 2 || is[orders.End] != 2 || !maps.Equal(is, first) {
				found = append(found, fmt.Errorf("boxes: box %d of %s is made of %v, and the first of %v", unit, build.Box, is, first))
			}
		}
	}
	if boxes != len(made) {
		found = append(found, fmt.Errorf("boxes: %d are ordered, and there are parts for %d", boxes, len(made)))
	}
	return found
}

// Buying compares the buying list with the boards: what the plan cuts and
// nobody has, each board once, at its cost.
func Buying(p *jigplan.Plan) (found []error) {
	type wood struct {
		boards int
		cost   measure.Money
	}
	lacks, bought := map[string]wood{}, map[string]wood{}
	seen := map[string]bool{}
	for i := range p.Layout.Boards {
		b := &p.Layout.Boards[i]
		if b.Stock.Origin == orders.FromRack || b.Stock.Origin == orders.FromOffcut {
			continue
		}
		w := lacks[b.Stock.ID]
		w.cost += b.Cost
		if whole := wholeOf(b); !seen[whole] {
			seen[whole] = true
			w.boards++
		}
		lacks[b.Stock.ID] = w
	}
	for i := range p.Buy {
		if b := &p.Buy[i]; b.Kind == "wood" {
			w := bought[b.Board.ID]
			bought[b.Board.ID] = wood{w.boards + b.Count, w.cost + b.Cost}
		}
	}
	if !maps.Equal(lacks, bought) {
		found = append(found, fmt.Errorf("buying list: it has %v, and the boards lack %v (boards, cost)", bought, lacks))
	}
	return found
}

func wholeOf(b *nesting.CutBoard) string {
	if b.Leaf.Count > 0 {
		return b.Leaf.Of
	}
	return b.ID
}

// Minutes compares the tasks of a job, before any is done, with the hours of
// its plan: each task is rounded up to a whole minute, and no work is lost. Loose
// parts and parts that are cut again have tasks for the saw alone.
func Minutes(tasks []jigplan.Task, p *jigplan.Plan) error {
	sum := 0
	for _, t := range tasks {
		sum += t.Minutes
	}
	boxes := len(p.Builds) > 0 && !p.Recut
	if most := p.Time.Minutes + float64(len(tasks)) + 1e-6; boxes && float64(sum) < p.Time.Minutes-1e-6 || float64(sum) > most {
		return fmt.Errorf("week: the tasks take %d minutes, and the plan %.3f", sum, p.Time.Minutes)
	}
	return nil
}
