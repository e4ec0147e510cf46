// Package fair says how many of which boxes to bring to a fair. Make plans and
// prices each kind of box once, chooses the mix that earns most under the
// shop's limits, then plans and schedules the whole mix and corrects it until
// it can be made. It leaves planning, prices and dates to plan, quote and week.
package fair

import (
	"fmt"
	"slices"
	"time"

	"batchwright/jigplan"
	"batchwright/jigplan/plan"
	"batchwright/jigplan/week"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// Request is a catalog, and from when it can be worked on.
type Request struct {
	Order   *orders.Order
	Options plan.Options
	From    time.Time
	Open    []week.Open   // jobs that come first
	Sales   []orders.Sale // of earlier fairs
}

// Make says how many of each box to make and bring. The mix is the newsvendor
// rule under the limits of hours, clamps, drying places, wood, stall and
// vehicle; it is then nested and put on the clock for real, and the limits are
// corrected until what is printed can be made. An order with errors, unless
// Partial, comes back with its problems alone.
func Make(r Request) (*jigplan.Fair, error) {
	f := &fairing{Request: r, set: &r.Order.Settings, fair: &jigplan.Fair{Order: r.Order, From: r.From}}
	f.fair.Findings = append(f.fair.Findings, plan.Findings(r.Order)...)
	if len(r.Order.Candidates) == 0 {
		f.problem(orders.Error, orders.Source{Sheet: "Catalog"}, "", "no box is in the catalog", "fill in a sheet called Catalog: as Boxes, with Price and Sells likely; batchwright new --catalog writes a blank one")
	}
	if orders.HasError(f.fair.Findings) && !r.Options.Partial {
		return f.fair, nil
	}
	r.Order.ListedOnly = len(r.Order.Rack)+len(r.Order.Yard) > 0
	f.calendar()
	if err := f.judge(); err != nil {
		return f.fair, err
	}
	f.capacities()
	if err := f.settle(); err != nil {
		return f.fair, err
	}
	f.worths()
	f.bound()
	f.money()
	return f.fair, nil
}

// fairing is a fair while it is worked out.
type fairing struct {
	Request
	set    *settings.Shop
	fair   *jigplan.Fair
	ways   []way
	lines  [][]int // ways of each line of the catalog
	limits []limit
	model  MixProblem
	picks  [][]pick // what each choice of the model stands for
	best   *made
	has    []float64 // of each limit, before the real plan and week corrected it
}

// way is one box of the catalog in one wood, as it was reckoned.
type way struct {
	jigplan.Stall
	demand     Demand
	net        map[string]float64 // of Area, in its parts
	supplies   measure.Money      // of one box
	reckoned   int                // boxes of the trial it was reckoned from
	sand, coat float64            // minutes
}

// pick is how many of each way of one line.
type pick struct {
	made  []int // by way of the line, as fresh
	half  int   // of its first wood
	fresh []int
}

func (f *fairing) problem(level orders.Level, at orders.Source, read, did, fix string) {
	p := orders.Finding{Level: level, Source: at, Read: read, Did: did, Fix: fix}
	if !slices.Contains(f.fair.Findings, p) {
		f.fair.Findings = append(f.fair.Findings, p)
	}
}

// calendar finds until when things are made: the end of the last open day
// before the packing days.
func (f *fairing) calendar() {
	r := &f.set.Rates
	at := f.set.Source("Fair date")
	switch {
	case r.FairDate.IsZero():
		f.fair.Unjudged = true
		f.problem(orders.Warning, orders.Source{Sheet: "Shop", Cell: "Fair date"}, "", "no Fair date is set: hours, clamps and drying are not limits, and nothing is scheduled", "write Fair date on the Shop sheet, as 2027-05-15")
		return
	case !r.FairDate.After(week.Midnight(f.From)):
		f.fair.Unjudged = true
		f.problem(orders.Warning, at, r.FairDate.Format(time.DateOnly), "the fair is not after "+f.set.Units.Date(f.From)+": nothing more is made for it", "correct Fair date, or plan from an earlier day with --from")
	}
	last := week.OpenDay(r.FairDate, -1-int(r.PackingDays), f.set.Week)
	f.fair.Ready = last.AddDate(0, 0, 1)
}

// dated reports whether the clock limits what is made.
func (f *fairing) dated() bool { return !f.set.Rates.FairDate.IsZero() }

// judge reckons every row in every wood it may be made of.
func (f *fairing) judge() error {
	f.lines = make([][]int, len(f.Order.Candidates))
	for line := range f.Order.Candidates {
		c := &f.Order.Candidates[line]
		guess := guessOf(c)
		demand := f.learn(line, guess)
		f.fair.Demand = append(f.fair.Demand, nil)
		why := f.unjudged(c)
		for _, wood := range woodsOf(c) {
			w := way{Stall: jigplan.Stall{Line: line, Source: c.Source, Name: c.Name, Wood: wood, Box: c.Box, Price: c.Price, Why: why,
				Mean: demand.Mean, Spread: demand.Spread, Poisson: demand.Poisson, Guess: guess.Mean}, demand: demand}
			w.Box.Wood = wood
			if why == "" {
				if err := f.reckon(&w, c); err != nil {
					return err
				}
			}
			f.lines[line] = append(f.lines[line], len(f.ways))
			f.ways = append(f.ways, w)
		}
		f.inHand(line)
		f.warnOfLine(line)
	}
	f.strays()
	return nil
}

func woodsOf(c *orders.Candidate) []string {
	if len(c.Woods) == 0 {
		return []string{c.Wood}
	}
	return c.Woods
}

func guessOf(c *orders.Candidate) Demand {
	if c.Averaged {
		return DemandAbout(c.Mean, c.Spread)
	}
	return DemandOf(c.Low, c.Likely, c.High)
}

// unjudged says why nothing can be said of a row; empty: something can.
func (f *fairing) unjudged(c *orders.Candidate) string {
	say := func(did, fix string) string {
		f.fair.Unjudged = true
		f.problem(orders.Warning, c.Source, c.Name, "left out: "+did, fix)
		return did
	}
	switch {
	case c.Price <= 0:
		return say("it has no price", "write its Price")
	case !c.Said:
		return say("the number that may be sold is missing", "write Sells likely, better Sells low and Sells high too, or Sells mean and Sells spread")
	case c.Averaged:
	case c.Low > 0 && c.Likely == 0 && c.High == 0:
		return say("only Sells low is given", "write Sells likely too")
	case c.High > 0 && c.Low > c.High, c.Likely > 0 && c.Low > c.Likely, c.High > 0 && c.Likely > c.High:
		return say(fmt.Sprintf("low %d, likely %d and high %d are not in rising order", c.Low, c.Likely, c.High), "write low, likely and high in rising order")
	}
	return ""
}

// warnOfLine says of a row that can be made and is not worth it, or cannot be
// made at all.
func (f *fairing) warnOfLine(line int) {
	c := &f.Order.Candidates[line]
	cannot, dear := 0, 0
	for _, at := range f.lines[line] {
		w := &f.ways[at]
		if w.Alone > maxPicks {
			f.problem(orders.Warning, c.Source, c.Name, fmt.Sprintf("demand alone would allow %d; at most %d new ones are considered", w.Alone, maxPicks), "check that Sells is for one fair")
		}
		switch {
		case w.Area == nil:
			cannot++
		case w.Net <= w.Material:
			dear++
		}
	}
	ways := len(f.lines[line])
	first := f.ways[f.lines[line][0]]
	switch {
	case f.fair.Unjudged && first.Why != "" && first.Net == 0:
	case cannot == ways:
		f.fair.Unjudged = true
		f.problem(orders.Warning, c.Source, c.Name, "no new ones: "+first.Why, "another wood or size, or boards for it")
	case cannot+dear == ways:
		f.problem(orders.Warning, c.Source, c.Price.String(), fmt.Sprintf("no new ones: the price, %s after the card fee, is not above the wood and supplies of one, %s", first.Net, first.Material), "raise the Price, or leave it out")
	}
}
