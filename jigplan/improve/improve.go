// Package improve finds small changes to an order that pay: a height 1/16 in
// lower that saves a setup, one more box out of a board that is bought anyway,
// another wood on the rack. It reads no file and knows no flag; it leaves
// reading the changed order and planning it to functions that it is given.
//
// Its steps: list the changes within the maker's limits (Candidates), plan the
// order with each of them, plan the best ones again with more effort beside the
// unchanged order, and search for the best set of changes that can be made
// together. Every figure is the difference of two checked plans.
package improve

import (
	"cmp"
	"context"
	"runtime"
	"slices"
	"time"

	"golang.org/x/sync/errgroup"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// Request is an order and how to try changes of it.
type Request struct {
	Order  *orders.Order
	Limits Limits
	Kinds  []Kind // which changes are tried; empty: all
	// Read gives the order with edits made; it must be safe for parallel use.
	Read func([]orders.Edit) (*orders.Order, error)
	// Plan plans an order with a nominal search time, and checks the plan.
	Plan func(o *orders.Order, think time.Duration) (*jigplan.Plan, error)
	// Think is the nominal time of the whole search: the number of changes tried
	// is in proportion, so that the clock decides nothing.
	Think time.Duration
	// Progress is told how many plans are done, of how many; nil: nobody asks.
	Progress func(done, of int)
}

// Limits are how far a size may move where the order does not say; 0: not at all.
type Limits struct {
	Height        measure.Length
	Length, Width measure.Length // of boxes measured outside
}

// Value is what a plan comes to.
type Value struct {
	Cost      measure.Money `json:"cost"`
	BoardFeet float64       `json:"board_feet"`
	Minutes   float64       `json:"minutes"`
	Setups    int           `json:"setups"`
	Unmade    int           `json:"unmade_parts"` // parts that cannot be made as asked
}

// less is what v saves beside w.
func (v Value) less(w Value) Value {
	return Value{v.Cost - w.Cost, v.BoardFeet - w.BoardFeet, v.Minutes - w.Minutes, v.Setups - w.Setups, v.Unmade - w.Unmade}
}

// Suggestion is a change that pays, confirmed by planning the order with it.
type Suggestion struct {
	Change
	Saves Value
	Worth measure.Money // cost saved, and minutes at the shop's rate
	// Of a box more or fewer: what it costs, and what a box costs on average.
	Marginal, Average Value
}

// Result is what was found.
type Result struct {
	Base        Value // the order as it is, with the effort of a confirmation
	Proven      bool  // the layout of the unchanged order is the best possible
	Suggestions []Suggestion
	Set         []Change // the best changes that can be made together
	SetSaves    Value
	SetWorth    measure.Money
	Tried       int // changes planned
	Possible    int // changes within the limits
	Stop        nesting.Stop
}

const (
	trialThink   = 100 * time.Millisecond // nominal, of one change
	confirmThink = time.Second            // nominal, of a change that seems to pay
	confirmed    = 10                     // changes that are planned again
)

// trial is one change, planned.
type trial struct {
	change Change
	value  Value
	ok     bool // it could be read and planned
	proven bool
}

type search struct {
	Request
	ctx        context.Context
	done, plan int
	cut        bool // the clock or the maker ended it
}

// Find tries changes of an order. An error means that a plan failed its check.
// When ctx ends, what was found so far is the result.
func Find(ctx context.Context, r Request) (*Result, error) {
	s := &search{Request: r, ctx: ctx}
	all := Candidates(r.Order, r.Limits, r.Kinds)
	few := all[:min(len(all), s.affordable(len(all)))]
	s.plan = len(few) + 1 + confirmed
	base, err := s.tryAll([]Change{{}}, trialThink)
	if err != nil || !base[0].ok {
		return nil, err
	}
	trials, err := s.tryAll(few, trialThink)
	if err != nil {
		return nil, err
	}
	result := &Result{Possible: len(all), Tried: count(trials), Base: base[0].value, Proven: base[0].proven, Stop: nesting.StopBudget}
	if err := s.confirm(result, base[0], trials); err != nil {
		return nil, err
	}
	switch {
	case s.cut:
		result.Stop = nesting.StopTime
	case len(few) == len(all):
		result.Stop = nesting.StopProven
	}
	return result, nil
}

// affordable is how many changes the nominal time allows: an order of many
// parts takes longer to plan.
func (s *search) affordable(possible int) int {
	pieces := 40
	for i := range s.Order.Boxes {
		pieces += 6 * s.Order.Boxes[i].Count
	}
	return min(possible, max(1, int(s.Think.Seconds()*2000)/pieces))
}

func count(trials []trial) (n int) {
	for _, t := range trials {
		if t.ok {
			n++
		}
	}
	return n
}

// tryAll plans the order with each change, on all cores.
func (s *search) tryAll(changes []Change, think time.Duration) ([]trial, error) {
	trials := make([]trial, len(changes))
	group := errgroup.Group{}
	group.SetLimit(runtime.GOMAXPROCS(0))
	finished := make(chan struct{}, len(changes))
	for i, change := range changes {
		group.Go(func() (err error) {
			defer func() { finished <- struct{}{} }()
			if s.ctx.Err() != nil {
				return nil
			}
			trials[i], err = s.try(change, think)
			return err
		})
	}
	for range changes {
		<-finished
		s.done++
		if s.Progress != nil {
			s.Progress(s.done, max(s.done, s.plan))
		}
	}
	s.cut = s.cut || s.ctx.Err() != nil
	return trials, group.Wait()
}

func (s *search) try(change Change, think time.Duration) (trial, error) {
	o, err := s.Read(change.Edits)
	if err != nil || o.HasErrors() || !change.done(s.Order, o) {
		return trial{change: change}, nil // a change that cannot be read is no change
	}
	p, err := s.Plan(o, think)
	if err != nil {
		return trial{change: change}, err
	}
	return trial{change: change, value: valueOf(p), ok: !p.Order.HasErrors() && len(p.Parts) > 0, proven: p.Layout.Proven}, nil
}

func valueOf(p *jigplan.Plan) Value {
	v := Value{Cost: p.Layout.Cost, Minutes: p.Time.Minutes, Setups: len(p.Setups), Unmade: len(p.Layout.Short)}
	if !p.Layout.CostKnown {
		v.Cost = 0
	}
	counted := map[string]bool{}
	for i := range p.Layout.Boards {
		b := &p.Layout.Boards[i]
		if !b.Stock.Sheet && !counted[b.Whole()] { // leaves of one board count once
			counted[b.Whole()] = true
			stock := b.Stock
			stock.Length, stock.Width = b.Length, b.Width
			feet, _ := stock.BoardFeet().Float64()
			v.BoardFeet += feet
		}
	}
	for _, r := range p.Refusals {
		v.Unmade += len(r.Parts)
	}
	return v
}

// confirm plans the promising changes again beside the unchanged order, with
// the same effort, and keeps those that still pay.
func (s *search) confirm(result *Result, base trial, trials []trial) error {
	promising := s.paying(base.value, trials)
	promising = promising[:min(len(promising), confirmed)]
	if len(promising) == 0 {
		return nil
	}
	changes := []Change{{}}
	for _, p := range promising {
		changes = append(changes, p.Change)
	}
	again, err := s.tryAll(changes, confirmThink)
	if err != nil || !again[0].ok {
		return err
	}
	result.Base, result.Proven = again[0].value, again[0].proven
	result.Suggestions = s.paying(again[0].value, again[1:])
	return s.together(result)
}

// paying are the changes that save something worth saying, the best first; of
// those that change the same cell, the best alone.
func (s *search) paying(base Value, trials []trial) (out []Suggestion) {
	for _, t := range trials {
		if !t.ok {
			continue
		}
		if one := s.suggestion(base, t); s.worthSaying(base, &one) {
			out = append(out, one)
		}
	}
	slices.SortStableFunc(out, func(a, b Suggestion) int {
		return cmp.Or(cmp.Compare(b.Saves.Unmade, a.Saves.Unmade), cmp.Compare(b.Worth, a.Worth), cmp.Compare(b.Saves.BoardFeet, a.Saves.BoardFeet),
			cmp.Compare(b.Saves.Minutes, a.Saves.Minutes), cmp.Compare(a.Moves, b.Moves))
	})
	seen := map[string]bool{}
	return slices.DeleteFunc(out, func(g Suggestion) bool {
		key := g.subject()
		twice := seen[key]
		seen[key] = true
		return twice
	})
}

func (s *search) suggestion(base Value, t trial) Suggestion {
	one := Suggestion{Change: t.change, Saves: base.less(t.value)}
	if t.change.Boxes != 0 {
		one.Average = average(s.Order, t.change.Line, base)
		change := t.value.less(base)
		if t.change.Boxes < 0 {
			change = base.less(t.value)
		}
		one.Marginal = change
		one.Saves = one.Average.less(change) // more than its share of the batch
		if t.change.Boxes < 0 {
			one.Saves = change.less(one.Average)
		}
		one.Saves.Unmade, one.Saves.Setups = base.Unmade-t.value.Unmade, 0
	}
	one.Worth = one.Saves.Cost + s.money(one.Saves.Minutes)
	return one
}

// money is what minutes cost at the shop's rates; nothing where none is set.
func (s *search) money(minutes float64) measure.Money {
	r := &s.Order.Settings.Rates
	return measure.Money(minutes / 60 * float64(r.Labour+r.Overhead))
}

// worthSaying leaves out what is within the noise of a search: less than half
// a percent of the batch.
func (s *search) worthSaying(base Value, g *Suggestion) bool {
	all := base.Cost + s.money(base.Minutes)
	switch {
	case g.Saves.Unmade != 0:
		return g.Saves.Unmade > 0
	case g.Boxes != 0:
		return g.Worth*4 >= g.Average.Cost+s.money(g.Average.Minutes) && g.Worth >= 50
	case g.Worth >= max(50, all/200):
		return true
	case base.Cost == 0 && g.Saves.BoardFeet >= max(0.5, base.BoardFeet/100) && g.Saves.Minutes > -5:
		return true // nothing has a price: wood counts by itself
	}
	return g.Worth >= 0 && g.Saves.Cost >= 0 && g.Saves.Minutes >= max(5, base.Minutes/100)
}

// average is what one box of a line costs, by its share of the parts.
func average(o *orders.Order, line int, base Value) Value {
	all, own := 0.0, 0.0
	for i := range o.Boxes {
		b := &o.Boxes[i]
		size := (b.Length.Inches()+b.Width.Inches())*2*b.Height.Inches() + b.Length.Inches()*b.Width.Inches()
		all += size * float64(b.Count)
		if i == line {
			own = size
		}
	}
	for i := range o.Loose {
		l := &o.Loose[i]
		all += l.Length.Inches() * l.Width.Inches() * float64(l.Count)
	}
	share := own / max(all, 1e-9)
	return Value{Cost: measure.Money(share * float64(base.Cost)), BoardFeet: share * base.BoardFeet, Minutes: share * base.Minutes}
}

// together builds the best set of changes: each that still saves beside those
// before it.
func (s *search) together(result *Result) error {
	best := result.Base
	var set []Change
	for _, g := range result.Suggestions {
		if g.Boxes != 0 || s.ctx.Err() != nil { // a box more or fewer is another order
			continue
		}
		joined := Change{Line: -1, Kind: Several, parts: append(slices.Clone(set), g.Change)}
		for _, c := range joined.parts {
			joined.Edits = append(joined.Edits, c.Edits...)
		}
		got, err := s.tryAll([]Change{joined}, confirmThink)
		if err != nil {
			return err
		}
		if !got[0].ok {
			continue
		}
		saved := Suggestion{Saves: best.less(got[0].value)}
		saved.Worth = saved.Saves.Cost + s.money(saved.Saves.Minutes)
		if s.worthSaying(best, &saved) {
			set, best = joined.parts, got[0].value
		}
	}
	result.Set, result.SetSaves = set, result.Base.less(best)
	result.SetWorth = result.SetSaves.Cost + s.money(result.SetSaves.Minutes)
	return nil
}
