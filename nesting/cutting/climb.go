package cutting

import (
	"math/rand/v2"
	"slices"

	"batchwright/nesting"
)

// climbTries is how many changes of what is resawn are tried.
const climbTries = 40

// climb changes the best of some decisions board by board, each change judged
// by a quick plan, and returns what it comes to. It takes no notice of how long
// the search may think, so that more time to think searches the same boards further.
func (r *resawing) climb(from [][]int, lim nesting.Limits) []int {
	w := newWatch(lim)
	now, plan := from[0], r.trial(from[0], w)
	for _, resawn := range from[1:] {
		if l := r.trial(resawn, w); r.better(&l, &plan) {
			now, plan = resawn, l
		}
	}
	rng := rand.New(rand.NewPCG(uint64(lim.Seed), climbTries))
	for range climbTries {
		if w.over() {
			break
		}
		next := r.change(now, rng)
		if slices.Equal(next, now) {
			continue
		}
		if l := r.trial(next, w); r.better(&l, &plan) {
			now, plan = next, l
		}
	}
	return now
}

// change resaws one board more of a line or one less; where none is left whole,
// one that is sawn into another number of leaves makes room.
func (r *resawing) change(resawn []int, rng *rand.Rand) []int {
	out := slices.Clone(resawn)
	k := rng.IntN(len(r.leaves))
	if out[k] > 0 && rng.IntN(2) == 0 {
		out[k]--
		return out
	}
	out[k]++
	parent := r.leaves[k].parent
	board := r.boards()[parent]
	taken := 0
	for i, l := range r.leaves {
		if l.parent == parent {
			taken += out[i]
		}
	}
	if board.Unlimited || taken <= board.Count {
		return out
	}
	for i, l := range r.leaves {
		if i != k && l.parent == parent && out[i] > 0 {
			out[i]--
			return out
		}
	}
	return resawn
}

// trialWork is what is spent on each chain that improves a wood's first plan.
const trialWork = 1_000_000

// trial is a quick plan of the job with these boards resawn, without a bound.
func (r *resawing) trial(resawn []int, w *watch) nesting.Layout {
	p := newProblem(r.decided(resawn))
	short := p.dropHopeless()
	woodGroups := p.woodGroups()
	searches := make([]*woodSearch, len(woodGroups))
	inParallel(len(woodGroups), func(i int) { searches[i] = p.firstSearch(&woodGroups[i], w) })
	var open []*woodSearch
	for _, h := range searches {
		h.slice = trialWork
		if len(h.best.plan) > 0 {
			open = append(open, h)
		}
	}
	improve(open, 1, 0, w)
	l := p.layout(searches, short, w)
	r.restore(&l)
	return l
}
