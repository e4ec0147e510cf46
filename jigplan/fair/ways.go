package fair

import (
	"math"
	"time"

	"batchwright/jigplan"
	"batchwright/jigplan/plan"
	"batchwright/jigplan/quote"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/orders/woods"
)

// maxMet is the share of fairs at which a demand is met in full where what a box
// costs is not known, and an unsold one would seem to cost nothing.
const maxMet = 0.9

// maxReckoned is how many boxes a trial plan has at most.
const maxReckoned = 12

// reckon plans a batch of a way by itself and takes from it what one box costs
// and needs.
func (f *fairing) reckon(w *way, c *orders.Candidate) error {
	n := min(max(1, int(math.Round(w.demand.Mean))), maxReckoned)
	p, err := f.trial(w, n)
	if err != nil {
		return err
	}
	built := wholeBoxes(p)
	w.Tax, w.Net = f.set.Rates.Takings(c.Price)
	if built == 0 {
		w.Why = plan.WhyNot(p)
		return nil
	}
	known := f.costs(w, p, built)
	f.times(w, p, built)
	f.wood(w, p, built)
	var one []orders.Part
	for _, part := range p.Parts {
		if part.Unit == 1 {
			one = append(one, part)
		}
	}
	w.Kilograms, _ = quote.Weight(one)
	if len(p.Builds) > 0 {
		w.Litres = quote.Packed(p.Builds[0].Overall, w.Kilograms, 1, f.set).Litres
	}
	w.Ratio = CriticalRatio(float64(w.Net-w.Material), float64(w.Material-w.Home))
	if w.Ratio > maxMet && !known {
		w.Ratio = maxMet
		f.problem(orders.Warning, orders.Source{Sheet: c.Source.Sheet}, "", "the cost of some boxes is not known, so an unsold one seems to cost almost nothing: no more are brought than are enough at nine fairs in ten",
			"set the costs that are missing, and choose again")
	}
	w.Alone = w.demand.Best(w.Ratio)
	return nil
}

// wood is the area of each wood in one box, with the waste of its boards and
// without.
func (f *fairing) wood(w *way, p *jigplan.Plan, built int) {
	w.Area, w.net, w.reckoned = map[string]float64{}, map[string]float64{}, built
	one := 1e6 * float64(built)
	for i := range p.Layout.Boards {
		b := &p.Layout.Boards[i]
		key := woods.Key(b.Stock.Wood)
		used := b.Length.Times(b.Width).SquareMillimetres()
		for _, o := range b.Offcuts {
			if o.Keep {
				used -= o.Length.Times(o.Width).SquareMillimetres()
			}
		}
		w.Area[key] += used / one
		for _, piece := range b.Pieces {
			w.net[key] += piece.Length.Times(piece.Width).SquareMillimetres() / one
		}
	}
}

// trial plans so many boxes of a way with the least search.
func (f *fairing) trial(w *way, n int) (*jigplan.Plan, error) {
	sub := *f.Order
	box := w.Box
	box.Count, box.Spare = n, 0
	sub.Boxes, sub.Loose, sub.Candidates, sub.Findings = []orders.Box{box}, nil, nil, nil
	limits := f.Options.Limits
	limits.Think, limits.Deadline = time.Millisecond, time.Time{}
	p, err := plan.Plan(&sub, plan.Options{Partial: true, Limits: limits})
	if err != nil {
		return nil, err
	}
	for _, problem := range p.Findings {
		if problem.Level == orders.Error {
			f.problem(orders.Warning, problem.Source, problem.Read, problem.Did, problem.Fix)
		}
	}
	return p, nil
}

// wholeBoxes counts the boxes all of whose parts can be made.
func wholeBoxes(p *jigplan.Plan) int {
	type box struct{ line, unit int }
	out := map[string]bool{}
	for _, s := range p.Layout.Short {
		out[s.Part] = true
	}
	seen, broken := map[box]bool{}, map[box]bool{}
	for _, part := range p.Parts {
		if part.IsLoose() {
			continue
		}
		b := box{part.Line, part.Unit}
		seen[b] = true
		if out[part.ID] {
			broken[b] = true
		}
	}
	return len(seen) - len(broken)
}

// costs are what the box adds: wood, supplies, the blade; hours are limits, not
// costs, here. It reports whether all of them are known.
func (f *fairing) costs(w *way, p *jigplan.Plan, built int) (known bool) {
	c := quote.CostOf(p)
	r := &f.set.Rates
	w.Material = MaterialOf(p).Per(float64(built))
	w.supplies = c.Of(jigplan.SupplyCost).Per(float64(built))
	var finishing measure.Money
	known = true
	for _, l := range c.Lines {
		if l.Setting == "Finish price" || l.Setting == "Abrasive price" {
			finishing += l.Amount
		}
		if l.Missing && l.Kind != jigplan.LabourCost && l.Kind != jigplan.SetupCost && l.Kind != jigplan.OverheadCost {
			known = known && l.Setting != ""
			what, fix := l.Setting, "set it on the Shop sheet, or with shop set"
			if what == "" {
				what, fix = "the cost of "+l.What, "give the boards a Cost"
			}
			f.problem(orders.Warning, orders.Source{Sheet: "Shop", Cell: what}, "", what+" is not set, so the profit does not include it", fix)
		}
	}
	w.Finishing = finishing.Per(float64(built))
	w.Keep = w.Material.At(measure.Exact(r.UnsoldWorth / 100))
	w.Home = w.Keep - r.CarryHome
	return known
}

// MaterialOf is what a plan spends on wood, supplies and the blade.
func MaterialOf(p *jigplan.Plan) measure.Money {
	c := quote.CostOf(p)
	return c.Of(jigplan.WoodCost, jigplan.BoughtCost, jigplan.OffcutsKept, jigplan.SupplyCost, jigplan.BladeCost)
}

// times are minutes of one box, allowances shared out.
func (f *fairing) times(w *way, p *jigplan.Plan, built int) {
	work, setup, saw := quote.Sums(&p.Time)
	if work <= 0 {
		return
	}
	share, n := p.Time.Minutes/work, float64(built)
	w.Setup = setup * share
	w.Minutes = (p.Time.Minutes - w.Setup) / n
	w.Saw = (saw - setup) * share / n
	for _, e := range p.Time.Elements {
		switch settings.WorkOf(e.Name) {
		case settings.AtBench:
			w.sand += e.Minutes * share / n
		case settings.Finishing:
			w.coat += e.Minutes * share / n
			w.Coats = int(math.Round(f.set.Times.Coats))
		}
	}
	w.Finish = w.sand + w.coat
}
