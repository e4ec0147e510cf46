package quote

import (
	"cmp"
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"

	"batchwright/jigplan"
	"batchwright/jigplan/plan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// CostOf is what a plan costs. Every board, supply and minute of the plan is on
// one line; labour and overhead are charged at the 80 % time, because a price
// made of the median is missed every other time.
func CostOf(p *jigplan.Plan) jigplan.Cost {
	c := &costing{plan: p, set: &p.Order.Settings}
	c.wood()
	c.supplies()
	c.blade()
	c.labour()
	c.overhead()
	slices.SortStableFunc(c.Lines, func(a, b jigplan.CostLine) int { return cmp.Compare(place[a.Kind], place[b.Kind]) })
	for _, l := range c.Lines {
		c.Total += l.Amount
	}
	c.Bought = c.Of(jigplan.BoughtCost)
	return c.Cost
}

// place is where the lines of a kind stand: wood with its offcuts, what is used
// up, then work.
var place = map[jigplan.CostKind]int{jigplan.WoodCost: 0, jigplan.BoughtCost: 0, jigplan.OffcutsKept: 0, jigplan.SupplyCost: 1, jigplan.BladeCost: 2,
	jigplan.SetupCost: 3, jigplan.LabourCost: 4, jigplan.OverheadCost: 5}

type costing struct {
	jigplan.Cost
	plan *jigplan.Plan
	set  *settings.Shop
}

// Amount is a line's money, rounded half to even to the cent.
func Amount(l jigplan.CostLine) measure.Money {
	factor := new(big.Rat).Mul(measure.Exact(l.Quantity), measure.Exact(l.Share))
	return l.Rate.At(factor.Quo(factor, measure.Exact(l.For)))
}

// add takes a line in; one without a quantity is none.
func (c *costing) add(l jigplan.CostLine) {
	if l.Quantity == 0 {
		return
	}
	if l.Missing {
		l.Rate = 0
	}
	l.Amount = Amount(l)
	c.Lines = append(c.Lines, l)
}

// wood is every board whole, and beneath it each offcut it leaves for the rack:
// its share of the board's cost by area, as the rack will carry it.
func (c *costing) wood() {
	for i := range c.plan.Layout.Boards {
		b := &c.plan.Layout.Boards[i]
		kind, from := jigplan.WoodCost, "the rack"
		if b.Stock.Origin == orders.FromYard || b.Stock.Origin == orders.FromTypical {
			kind, from = jigplan.BoughtCost, "Buy"
		}
		_, known := b.Stock.Worth(c.set)
		c.add(jigplan.CostLine{Kind: kind, What: c.boardText(b), Quantity: 1, Unit: "board", Rate: b.Cost, For: 1, Share: 1,
			Missing: !known, From: "Boards, " + b.ID + ", from " + from})
		for _, o := range b.Offcuts {
			if o.Keep && known {
				c.offcut(b, o)
			}
		}
	}
}

// offcut is taken off at what the board cost over its area.
func (c *costing) offcut(b *nesting.CutBoard, o nesting.Offcut) {
	whole, unit := c.area(b.Length, b.Width)
	part, _ := c.area(o.Length, o.Width)
	u := c.set.Units
	c.add(jigplan.CostLine{Kind: jigplan.OffcutsKept, What: "of " + b.ID + ", " + o.Length.Show(u) + " x " + o.Width.ShowUnit(u), Quantity: -part, Unit: unit, Rate: b.Cost, For: whole,
		Share: c.set.Rates.OffcutWorth / 100, Setting: "Offcut worth", From: "Boards, " + b.ID})
}

// area is a rectangle in square inches or square centimetres.
func (c *costing) area(length, width measure.Length) (float64, string) {
	mm2 := length.Times(width).SquareMillimetres()
	if c.set.Units.Metric() {
		return thousandths(mm2 / 100), "cm2"
	}
	return thousandths(mm2 / (25.4 * 25.4)), "sq in"
}

func (c *costing) boardText(b *nesting.CutBoard) string {
	u := c.set.Units
	return fmt.Sprintf("%s, %s x %s x %s", b.Stock.Wood, b.Length.Show(u), b.Width.Show(u), b.Thickness.ShowUnit(u))
}

// laid is the parts that lie on a board: what is short uses nothing up.
func laid(p *jigplan.Plan) (out []orders.Part) {
	on := map[string]bool{}
	for i := range p.Layout.Boards {
		for _, piece := range p.Layout.Boards[i].Pieces {
			on[piece.Part] = true
		}
	}
	for _, part := range p.Parts {
		if on[part.ID] {
			out = append(out, part)
		}
	}
	return out
}

func (c *costing) supplies() {
	for _, u := range plan.Uses(c.plan.Order, laid(c.plan)) {
		unit := u.Unit
		if unit == "" {
			unit = "pieces"
		}
		c.add(jigplan.CostLine{Kind: jigplan.SupplyCost, What: u.What, Quantity: thousandths(u.Amount), Unit: unit, Rate: c.rate(u.Setting), For: u.For, Share: 1,
			Setting: u.Setting, Missing: !c.set.Given(u.Setting), From: u.Why})
	}
}

// rate is the amount of one of the settings that price supplies.
func (c *costing) rate(name string) measure.Money {
	r := &c.set.Rates
	return map[string]measure.Money{"Glue price": r.Glue, "Finish price": r.Finish, "Abrasive price": r.Abrasive, "Nail price": r.Nails,
		"Hinge price": r.Hinge, "Catch price": r.Catch}[name]
}

// blade is the wear of the blade, by the passes it makes.
func (c *costing) blade() {
	r := &c.set.Rates
	for _, e := range c.plan.Time.Elements {
		if e.Name == "Cut pass" {
			set := c.set.Given("Sharpening price") && r.CutsPerSharpening > 0
			c.add(jigplan.CostLine{Kind: jigplan.BladeCost, What: "sharpening", Quantity: e.Count, Unit: "passes", Rate: r.Sharpening, For: max(1, r.CutsPerSharpening), Share: 1,
				Setting: "Sharpening price", Missing: !set, From: "Time, Cut pass"})
		}
	}
}

// settingUp reports whether an element comes once a batch, however many boxes.
func settingUp(element string) bool { return settings.WorkOf(element) == settings.SettingUp }

// atSaw reports whether an element is done at the saw.
func atSaw(element string) bool {
	switch settings.WorkOf(element) {
	case settings.SettingUp, settings.AtJig, settings.Milling, settings.Grooving:
		return true
	}
	return false
}

// Sums adds up the minutes of work, of setting up and at the saw, without the
// allowances on top of them.
func Sums(t *jigplan.Time) (work, setup, saw float64) {
	for _, e := range t.Elements {
		if e.Name == "Allowance" || e.Name == "First of kind allowance" {
			continue
		}
		work += e.Minutes
		if settingUp(e.Name) {
			setup += e.Minutes
		}
		if atSaw(e.Name) {
			saw += e.Minutes
		}
	}
	return work, setup, saw
}

// labour is a line an element, and what the 80 % time has beyond the median.
func (c *costing) labour() {
	t := &c.plan.Time
	work, setup, _ := Sums(t)
	units := c.plan.Order.Settings.Units
	for _, e := range t.Elements {
		name := e.Name
		if d, ok := settings.Find(name); ok {
			name = d.Named(units)
		}
		from := "Time, " + name
		switch {
		case settingUp(e.Name):
			c.hours(jigplan.SetupCost, "", sentence(name), e.Minutes, from)
		case e.Name == "Allowance" && work > 0:
			own := thousandths(e.Minutes * setup / work)
			c.hours(jigplan.SetupCost, "", "Allowance on setting up", own, from)
			c.hours(jigplan.LabourCost, jigplan.AllowanceGroup, "Allowance on the rest", thousandths(e.Minutes-own), from)
		default:
			c.hours(jigplan.LabourCost, laborGroup(e.Name), sentence(name), e.Minutes, from)
		}
	}
	c.hours(jigplan.LabourCost, jigplan.AllowanceGroup, "From the median to the 80% time", thousandths(t.P80Minutes-t.Minutes), "Time")
	for _, l := range c.Lines {
		if l.Kind == jigplan.SetupCost || l.Kind == jigplan.LabourCost {
			c.Minutes += l.Quantity
		}
		if l.Kind == jigplan.SetupCost {
			c.Setup += l.Quantity
		}
	}
	c.Minutes, c.Setup = thousandths(c.Minutes), thousandths(c.Setup)
}

// laborGroup is where the minutes of an element are summed up.
func laborGroup(element string) jigplan.CostGroup {
	switch settings.WorkOf(element) {
	case settings.Milling:
		return jigplan.MillingGroup
	case settings.AtJig, settings.Grooving:
		return jigplan.JigGroup
	case settings.Gluing, settings.AtBench, settings.Finishing:
		return jigplan.BenchGroup
	}
	return jigplan.AllowanceGroup
}

func (c *costing) hours(kind jigplan.CostKind, group jigplan.CostGroup, what string, minutes float64, from string) {
	c.add(jigplan.CostLine{Kind: kind, Labor: group, What: what, Quantity: minutes, Unit: "min", Rate: c.set.Rates.Labour, For: 60, Share: 1,
		Setting: "Labor rate", Missing: !c.set.Given("Labor rate"), From: from})
}

// overhead is charged on the hours the shop says carry it.
func (c *costing) overhead() {
	rate, set := c.set.HourlyOverhead()
	minutes, what := c.Minutes, "all hours"
	if c.set.Rates.OverheadOf == "saw" {
		work, _, saw := Sums(&c.plan.Time)
		minutes, what = thousandths(c.Minutes*saw/math.Max(work, 1e-9)), "hours at the saw, allowances shared out"
	}
	c.add(jigplan.CostLine{Kind: jigplan.OverheadCost, What: "overhead on " + what, Quantity: minutes, Unit: "min", Rate: rate, For: 60, Share: 1,
		Setting: "Overhead rate", Missing: !set, From: "Time"})
}

func thousandths(f float64) float64 { return math.Round(f*1000) / 1000 }

func sentence(text string) string { return strings.ToUpper(text[:1]) + text[1:] }
