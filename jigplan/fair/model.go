package fair

import (
	"cmp"
	"slices"

	kernel "batchwright/nesting/solve"
)

// maxPicks bounds how finely a row is split among its woods.
const maxPicks = 600

// build makes the model: an item a line of the catalog, a choice each number
// brought, shared among its woods in each way.
func (f *fairing) build() {
	f.model, f.picks = MixProblem{}, nil
	for _, l := range f.limits {
		f.model.Capacity = append(f.model.Capacity, l.Has)
	}
	for line := range f.lines {
		picks := f.picksOf(line)
		item := Item{}
		for _, p := range picks {
			item.Choices = append(item.Choices, Choice{Value: f.value(line, p), Uses: f.usesOf(line, p)})
		}
		f.picks, f.model.Items = append(f.picks, picks), append(f.model.Items, item)
	}
}

// picksOf are the choices of a line, rising: what is finished goes first, of
// the wood that is worth least at home, then what is half made, then new ones.
func (f *fairing) picksOf(line int) []pick {
	c := &f.Order.Candidates[line]
	ways := f.lines[line]
	out := []pick{{made: make([]int, len(ways)), fresh: make([]int, len(ways))}}
	if f.ways[ways[0]].Why != "" && f.ways[ways[0]].Net == 0 {
		return out
	}
	last := out[0]
	for _, k := range f.cheapest(ways) {
		for range min(f.ways[ways[k]].InHand, maxPicks) {
			last.made = slices.Clone(last.made)
			last.made[k]++
			out = append(out, last)
		}
	}
	for range min(c.HalfMade, maxPicks) {
		last.half++
		out = append(out, last)
	}
	news := f.freshOf(line)
	slices.SortStableFunc(news, func(a, b []int) int { return cmp.Compare(sum(a), sum(b)) })
	there, alone := sum(last.made)+last.half, f.aloneOf(line)
	for _, fresh := range news {
		if there+sum(fresh) <= alone { // one more would not sell often enough to be made
			out = append(out, pick{last.made, last.half, fresh})
		}
	}
	return out
}

// aloneOf is what would be brought of a line if nothing were shared, in the wood
// that pays best.
func (f *fairing) aloneOf(line int) (alone int) {
	for _, at := range f.lines[line] {
		alone = max(alone, f.ways[at].Alone)
	}
	return alone
}

// cheapest are the ways of a line by what a finished one is worth at home.
func (f *fairing) cheapest(ways []int) []int {
	order := make([]int, len(ways))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(f.ways[ways[a]].Keep, f.ways[ways[b]].Keep) })
	return order
}

// freshOf lists the numbers of new ones worth a look: of one wood, or of two.
func (f *fairing) freshOf(line int) (out [][]int) {
	ways := f.lines[line]
	most := func(k int) int {
		w := &f.ways[ways[k]]
		if w.Why != "" {
			return 0
		}
		return min(w.Alone, maxPicks)
	}
	for k := range ways {
		for n := 1; n <= most(k); n++ {
			fresh := make([]int, len(ways))
			fresh[k] = n
			out = append(out, fresh)
		}
	}
	for a := range ways {
		for b := a + 1; b < len(ways); b++ {
			if most(a)*most(b) > maxPicks {
				continue
			}
			for n := 1; n <= most(a); n++ {
				for m := 1; m <= most(b) && n+m <= max(most(a), most(b)); m++ {
					fresh := make([]int, len(ways))
					fresh[a], fresh[b] = n, m
					out = append(out, fresh)
				}
			}
		}
	}
	return out
}

func sum(list []int) (n int) {
	for _, k := range list {
		n += k
	}
	return n
}

// of is how many a pick takes of one way: half-made ones are of the first wood.
func (p *pick) of(way int) (made, half, fresh int) {
	if way == 0 {
		half = p.half
	}
	return p.made[way], half, p.fresh[way]
}

// value is what a pick brings on average, in cents, over leaving at home what
// is there: what is sold, what comes home, less what is spent on it or would
// have been kept.
func (f *fairing) value(line int, p pick) float64 {
	first := &f.ways[f.lines[line][0]]
	brought := sum(p.made) + p.half + sum(p.fresh)
	if brought == 0 {
		return 0
	}
	home, spent := 0.0, 0.0
	for k, at := range f.lines[line] {
		w := &f.ways[at]
		made, half, n := p.of(k)
		home += float64(made+half+n) * float64(w.Home)
		spent += w.spent(made, half, n)
	}
	sold := first.demand.Sold(brought)
	return sold*float64(first.Net) + (float64(brought)-sold)*home/float64(brought) - spent
}

// spent is what bringing boxes costs: wood and supplies of new ones, what is
// finished or half made would have been worth at home, supplies to finish it.
func (w *way) spent(made, half, fresh int) float64 {
	return float64(made)*float64(w.Keep) + float64(half)*float64(max(w.Keep, w.Finishing)) + float64(fresh)*float64(w.Material)
}

func (f *fairing) usesOf(line int, p pick) []float64 {
	uses := make([]float64, len(f.limits))
	for r, l := range f.limits {
		for k, at := range f.lines[line] {
			made, half, fresh := p.of(k)
			if w := &f.ways[at]; w.Area != nil || made+half > 0 {
				uses[r] += l.uses(w, made, half, fresh)
			}
		}
	}
	return uses
}

// solve finds the mix under capacities.
func (f *fairing) solve(capacity []float64) Answer {
	p := f.model
	p.Capacity = capacity
	return Solve(p, kernel.Budget{Work: mixWork, Stop: f.Options.Limits.Stop})
}

// mixWork bounds one search for a mix.
const mixWork = 200_000_000
