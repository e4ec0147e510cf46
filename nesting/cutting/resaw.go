package cutting

import (
	"fmt"
	"slices"

	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/woods"
)

// maxResawn is the most boards of one line that are resawn.
const maxResawn = 100_000

// A resawing tells which boards are sawn into leaves. It is decided before the
// search, from one quick plan in which every board may be had whole and as
// leaves at once; what follows is the search on the boards as decided.
type resawing struct {
	job    Job
	leaves []leafLine
}

// leafLine is one line of boards sawn into n leaves each.
type leafLine struct {
	parent   int // index into rack, then yard
	n        int
	pair     bool           // the leaves are used by twos, opened like a book
	thick    measure.Length // off the saw
	finished measure.Length
}

// newResawing lists what could be resawn for the job's parts: thick boards of
// rack and yard whose leaves give some part of their wood, pairs of leaves
// first, as some parts are had of nothing else.
func newResawing(job Job) *resawing {
	r := &resawing{job: job}
	if job.Settings.ResawUpTo <= 0 {
		return r
	}
	r.list(true, thinnest(job.Parts, func(p *orders.Part) bool { return p.Book != "" }))
	r.list(false, thinnest(job.Parts, func(p *orders.Part) bool { return p.Book == "" }))
	return r
}

// thinnest is the least thickness of some parts, by wood.
func thinnest(list []orders.Part, of func(*orders.Part) bool) map[string]measure.Length {
	out := map[string]measure.Length{}
	for i := range list {
		if p := &list[i]; of(p) {
			wood := woods.Key(p.Wood)
			if t, seen := out[wood]; !seen || p.Thickness < t {
				out[wood] = p.Thickness
			}
		}
	}
	return out
}

// list adds the boards whose leaves give what is as thick as wanted.
func (r *resawing) list(pair bool, wanted map[string]measure.Length) {
	set := &r.job.Settings
	for i, b := range r.boards() {
		thin, ok := wanted[woods.Key(b.Wood)]
		if !ok || b.Count <= 0 && !b.Unlimited || b.Length < set.ShortestMachine {
			continue
		}
		for n := 2; n <= orders.MaxLeaves; n++ {
			thick, finished, ok := b.Leaves(n, set)
			if ok && finished >= thin && (!pair || n%2 == 0) {
				r.leaves = append(r.leaves, leafLine{i, n, pair, thick, finished})
			}
		}
	}
}

func (r *resawing) boards() []orders.Board {
	return append(slices.Clone(r.job.Rack), r.job.Yard...)
}

// uses is how many leaves one use of the line takes.
func (l leafLine) uses() int {
	if l.pair {
		return 2
	}
	return 1
}

// with is the job with so many boards of each leaf line resawn, and so many
// fewer whole ones. A leaf stands in it at a thickness that yields what the
// leaf gives, and costs its share of the board, rounded down: several lines of
// one board never cost more than it.
func (r *resawing) with(resawn []int, whole func(i int, b orders.Board) int) Job {
	job := r.job
	job.pairs, job.leaves = map[string]bool{}, map[string]measure.Money{}
	job.Rack, job.Yard = slices.Clone(r.job.Rack), slices.Clone(r.job.Yard)
	lists := [2]*[]orders.Board{&job.Rack, &job.Yard}
	at := func(i int) (*[]orders.Board, int) {
		if i < len(r.job.Rack) {
			return lists[0], i
		}
		return lists[1], i - len(r.job.Rack)
	}
	for i, b := range r.boards() {
		list, k := at(i)
		(*list)[k].ID, (*list)[k].Count = wholeName(i), whole(i, b)
	}
	for k, l := range r.leaves {
		if resawn[k] == 0 {
			continue
		}
		list, i := at(l.parent)
		leaf := (*list)[i]
		worth, _ := r.job.money.worth(&leaf)
		counts := r.job.money.counts(&leaf)
		leaf.ID = leafName(k)
		leaf.Class, leaf.Thickness = "", l.finished+r.job.Settings.Planing
		leaf.Cost, leaf.CostKnown = worth*measure.Money(l.uses())/measure.Money(l.n), true
		leaf.Count, leaf.Unlimited = resawn[k]*l.n/l.uses(), resawn[k] == unlimitedBoards
		job.pairs[leaf.ID] = l.pair
		job.leaves[leaf.ID] = counts * measure.Money(l.uses()) / measure.Money(l.n)
		if leaf.Unlimited {
			leaf.Count = 0
		}
		*list = append(*list, leaf)
	}
	return job
}

// wholeName and leafName stand for the names of boards while they are laid, so
// that two lines of one name are told apart.
func wholeName(i int) string { return fmt.Sprint("board ", i) }
func leafName(k int) string  { return fmt.Sprint("leaf ", k) }

// wholeLine is the line of whole boards that is called so.
func (r *resawing) wholeLine(name string) (i int, ok bool) {
	_, err := fmt.Sscanf(name, "board %d", &i)
	return i, err == nil
}

// either is the job in which every board may be had whole and as leaves, each
// of them as often as it is there. Whatever can be laid with resawing can be
// laid in it at no more cost, so that a bound of it is a bound of the job.
func (r *resawing) either() Job {
	boards := r.boards()
	resawn := make([]int, len(r.leaves))
	for k, l := range r.leaves {
		resawn[k] = min(boards[l.parent].Count, maxResawn)
		if boards[l.parent].Unlimited {
			resawn[k] = unlimitedBoards
		}
	}
	return r.with(resawn, func(_ int, b orders.Board) int { return b.Count })
}

// decide reads off a plan of either how many boards of each line are resawn:
// every board of which a leaf is used, or only those used to the last leaf.
// Where a board was used both ways, the leaves go first and the whole ones get
// what is left.
func (r *resawing) decide(l *nesting.Layout, everyLeaf bool) (resawn []int) {
	used := map[string]int{}
	for i := range l.Boards {
		used[l.Boards[i].Stock.ID]++
	}
	boards := r.boards()
	left := make([]int, len(boards))
	for i, b := range boards {
		left[i] = b.Count
	}
	resawn = make([]int, len(r.leaves))
	for k, leaf := range r.leaves {
		n := used[leafName(k)] / leaf.n
		if everyLeaf && used[leafName(k)]%leaf.n > 0 {
			n++
		}
		if !boards[leaf.parent].Unlimited {
			n = min(n, left[leaf.parent])
			left[leaf.parent] -= n
		}
		resawn[k] = n
	}
	return resawn
}

// decided is the job with these boards resawn.
func (r *resawing) decided(resawn []int) Job {
	gone := map[int]int{}
	for k, l := range r.leaves {
		gone[l.parent] += resawn[k]
	}
	return r.with(resawn, func(i int, b orders.Board) int { return b.Count - gone[i] })
}
