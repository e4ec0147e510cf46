package plan

import (
	"time"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/nesting/cutting"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/orders/woods"
)

// maxFreeThink bounds the work of the layout that matched grain is compared with.
const maxFreeThink = time.Second

// priceMatching lays the woods that have runs of matched grain once more with
// the grain free, and says what that would save. The plan itself is such a
// layout too, its runs are only one way to lie: so nothing saved is the least.
func priceMatching(p *jigplan.Plan, opt Options) {
	woods, runs := matchedWoods(p)
	if len(runs) == 0 {
		return
	}
	m := jigplan.Matching{Runs: len(runs)}
	free := cutting.Nest(freeJob(p, woods), freeLimits(opt))
	asked := usedOf(&p.Layout, woods, &p.Order.Settings)
	if len(free.Short) == 0 && free.Stop != nesting.StopTime && free.Stop != nesting.StopInterrupted {
		m.Compared = true
		m.InMoney = asked.CostKnown && free.CostKnown
		m.Saves = max(0, asked.Cost-free.Cost)
		m.MostSaves = max(m.Saves, asked.Cost-free.CostBound)
		m.Area = areaOver(asked.AreaUsed, free.AreaUsed)
		m.MostArea = areaOver(asked.AreaUsed, free.AreaBound)
	}
	p.Matching = m
}

// matchedWoods are the woods of the runs that were laid, and those runs.
func matchedWoods(p *jigplan.Plan) (kinds, runs map[string]bool) {
	kinds, runs = map[string]bool{}, map[string]bool{}
	for _, part := range without(p.Parts, shortOf(p)) {
		if part.Run != "" {
			kinds[woods.Key(part.Wood)], runs[part.Run] = true, true
		}
	}
	return kinds, runs
}

// freeJob is what was laid of some woods, every part on its own.
func freeJob(p *jigplan.Plan, kinds map[string]bool) cutting.Job {
	job := jobOf(p.Order)
	for _, part := range without(p.Parts, shortOf(p)) {
		if kinds[woods.Key(part.Wood)] {
			part.Run, part.Place, part.Book = "", 0, ""
			job.Parts = append(job.Parts, part)
		}
	}
	return job
}

// freeLimits is no more time to think than the plan had, in half of the time kept for
// what follows the nesting.
func freeLimits(opt Options) nesting.Limits {
	lim := opt.Limits
	if lim.Think <= 0 || lim.Think > maxFreeThink {
		lim.Think = maxFreeThink
	}
	if !lim.Deadline.IsZero() && opt.Finish.After(lim.Deadline) {
		lim.Deadline = lim.Deadline.Add(opt.Finish.Sub(lim.Deadline) / 2)
	}
	return lim
}

// usedOf adds up the boards of some woods: cost, and area without the offcuts
// kept.
func usedOf(l *nesting.Layout, kinds map[string]bool, set *settings.Shop) nesting.Layout {
	sum := nesting.Layout{CostKnown: true}
	for i := range l.Boards {
		b := &l.Boards[i]
		if !kinds[woods.Key(b.Stock.Wood)] {
			continue
		}
		_, known := b.Stock.Worth(set)
		sum.CostKnown = sum.CostKnown && known
		sum.Cost += b.Cost
		sum.AreaUsed = sum.AreaUsed.Add(b.Length.Times(b.Width))
		for _, o := range b.Offcuts {
			if o.Keep {
				sum.AreaUsed = sum.AreaUsed.Sub(o.Length.Times(o.Width))
			}
		}
	}
	return sum
}

// areaOver is how far a lies above b, nothing if it does not.
func areaOver(a, b measure.Area) measure.Area {
	if a.Cmp(b) <= 0 {
		return measure.Area{}
	}
	return a.Sub(b)
}
