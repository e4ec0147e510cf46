package cutting

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/orders/woods"
)

// problem is a job with equal parts gathered into items and every board
// reduced to the rectangle inside its raw edges.
type problem struct {
	job    Job
	set    *settings.Shop
	items  []item
	stocks []stock

	resawn map[int][]leaves // what a board of each stock may be sawn into, for bounds alone
}

// item is one size to be cut some number of times: a part, or a matched-grain
// run of parts that lies end to end.
type item struct {
	wood  string
	thick measure.Length // finished; of a run of several, the largest
	mixed bool           // a run of several thicknesses
	l, w  measure.Length // as cut: along and across the grain
	turn  bool           // may lie across the grain
	book  bool           // two runs that lie alike on two leaves of one board
	units [][]int        // indexes into job.Parts, in the order of the run
	value int64          // area in a coarse unit, for comparing fills
}

// area is l times w in a unit coarse enough to add up thousands in 64 bits.
func area(l, w measure.Length) int64 { return int64(l>>10) * int64(w>>10) }

func newProblem(job Job) *problem {
	p := &problem{job: job}
	p.set = &p.job.Settings
	if job.money == nil {
		p.job.money = newMoney(&job)
	}
	p.gather()
	p.stocks = p.openStock()
	return p
}

// gather makes items of the parts: runs whole, equal sizes together, in an
// order that does not depend on the order of the parts.
func (p *problem) gather() {
	runs := map[string][]int{}
	byKey := map[string]*item{}
	var keys []string
	add := func(unit []int) {
		it := p.itemOf(unit)
		key := p.key(it, unit)
		if byKey[key] == nil {
			byKey[key] = &it
			keys = append(keys, key)
		}
		byKey[key].units = append(byKey[key].units, unit)
	}
	var names []string
	for i, part := range p.job.Parts {
		name := cmp.Or(part.Book, part.Run)
		if name == "" {
			add([]int{i})
			continue
		}
		if runs[name] == nil {
			names = append(names, name)
		}
		runs[name] = append(runs[name], i)
	}
	for _, name := range names {
		unit := runs[name]
		slices.SortStableFunc(unit, func(a, b int) int {
			first, second := &p.job.Parts[a], &p.job.Parts[b]
			return cmp.Or(cmp.Compare(first.Run, second.Run), cmp.Compare(first.Place, second.Place))
		})
		add(unit)
	}
	slices.Sort(keys)
	for _, k := range keys {
		p.items = append(p.items, *byKey[k])
	}
}

// itemOf is the size of one part, or of a run with its crosscuts inside; of two
// runs that lie alike, what either takes of its leaf.
func (p *problem) itemOf(unit []int) item {
	first := p.job.Parts[unit[0]]
	it := item{wood: woods.Key(first.Wood), thick: first.Thickness,
		turn: first.Run == "" && first.Grain == orders.EitherWay, book: first.Book != ""}
	for i, u := range it.onLeaf(unit, 0) {
		part := p.job.Parts[u]
		if i > 0 {
			it.l += p.set.CrosscutKerf
		}
		it.l += part.CutLength
		it.w = max(it.w, part.CutWidth)
		it.mixed = it.mixed || part.Thickness != first.Thickness
		it.thick = max(it.thick, part.Thickness)
	}
	it.turn = it.turn && it.l != it.w
	it.value = max(1, area(it.l, it.w)) * it.leaves()
	return it
}

// leaves is how many leaves a unit takes its size from.
func (it *item) leaves() int64 {
	if it.book {
		return 2
	}
	return 1
}

// onLeaf is what of a unit is cut from one leaf.
func (it *item) onLeaf(unit []int, leaf int) []int {
	if !it.book {
		return unit
	}
	half := len(unit) / 2
	if leaf == 0 {
		return unit[:half]
	}
	return unit[half:]
}

// key sorts items by wood, then thick to thin, long to short, wide to narrow.
func (p *problem) key(it item, unit []int) string {
	const top = 1 << 50
	var b strings.Builder
	fmt.Fprintf(&b, "%s|%016d|%016d|%016d|%v%v", it.wood, top-it.thick, top-it.l, top-it.w, it.turn, it.book)
	for _, u := range unit {
		part := p.job.Parts[u]
		if len(unit) > 1 {
			fmt.Fprintf(&b, "|%d,%d,%d", part.CutLength, part.CutWidth, part.Thickness)
		}
	}
	return b.String()
}

// demand is how many units of each item are wanted.
func (p *problem) demand() []int {
	left := make([]int, len(p.items))
	for i := range p.items {
		left[i] = len(p.items[i].units)
	}
	return left
}
