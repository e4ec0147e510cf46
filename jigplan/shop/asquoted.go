package shop

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/jigplan"
	"batchwright/jigplan/plan"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// FreezeOffer is the plan behind a price as bytes, without the order, which the
// quote keeps by itself; the settings stay, to be compared.
func FreezeOffer(p *jigplan.Plan) ([]byte, error) {
	bare := *p
	bare.Order = &orders.Order{Settings: p.Order.Settings}
	return Freeze(&bare)
}

// AsQuoted makes the plan that was quoted the plan of the order as it was
// taken, on the boards of today. What has moved since is said, and then there is
// no plan: it has to be made anew.
func AsQuoted(quoted *jigplan.Plan, o *orders.Order) (p *jigplan.Plan, moved []string) {
	moved = append(settingsMoved(&quoted.Order.Settings, &o.Settings), boardsMoved(quoted, o)...)
	if len(moved) > 0 {
		return nil, moved
	}
	p = quoted
	p.Order, p.Findings = o, slices.Concat(o.Findings, quoted.Findings)
	p.Layout.PriceWork(o.Settings.Rates.Labour)
	if err := plan.Verify(p); err != nil {
		return nil, []string{"the order's sheets are read differently now than when it was quoted"}
	}
	return p, nil
}

// groupsOutsidePlan are the groups of settings that no plan of a batch hangs on.
var groupsOutsidePlan = []string{"General", "Rates", "Packing", "Week", "Fair"}

// settingsMoved names the settings a plan hangs on that are not what they were.
func settingsMoved(was, is *settings.Shop) (moved []string) {
	before, u := map[string]string{}, is.Units
	for _, s := range was.Used() {
		before[s.Name] = valueText(s.Value, u)
	}
	for _, s := range is.Used() {
		now := valueText(s.Value, u)
		if old := before[s.Name]; old != now && !slices.Contains(groupsOutsidePlan, s.Definition.Group) {
			moved = append(moved, strings.TrimSpace(fmt.Sprintf("%s is %s, was %s", s.Name, now, old)))
		}
		delete(before, s.Name)
	}
	for _, s := range was.Used() {
		if _, gone := before[s.Name]; gone {
			moved = append(moved, s.Name+" is no longer set")
		}
	}
	return moved
}

func valueText(value any, u measure.Unit) string {
	if l, ok := value.(measure.Length); ok {
		return ExactLength(l, u)
	}
	return fmt.Sprint(value)
}

// boardsMoved sets the boards of a plan on today's rack, and names those that
// are not there as they were.
func boardsMoved(p *jigplan.Plan, o *orders.Order) (moved []string) {
	for i := range p.Layout.Boards {
		b := &p.Layout.Boards[i]
		if b.Stock.Origin == orders.FromTypical && len(o.Rack)+len(o.Yard) > 0 {
			return append(moved, "there are boards now, where standard ones were to be bought")
		}
		if !OnRack(b) {
			continue
		}
		id := b.Whole()
		at := slices.IndexFunc(o.Rack, func(r orders.Board) bool { return r.ID == id || r.ID == b.Stock.ID })
		switch {
		case at < 0:
			moved = append(moved, "board "+id+" is not free any more")
		case !SameBoard(b.Stock, o.Rack[at]):
			moved = append(moved, "board "+id+" is not what it was")
		default:
			b.Stock = o.Rack[at]
		}
	}
	return slices.Compact(moved)
}
