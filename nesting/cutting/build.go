package cutting

import (
	"container/heap"
	"math"

	"batchwright/orders"
)

// used is one board line cut one way some number of times.
type used struct {
	stock int
	fill  fill
	times int
}

// build fills boards one after another, always the board that gives the most
// wood for its cost, until nothing more can be laid.
func (p *problem) build(w *watch) []used {
	left := p.demand()
	taken := make([]int, len(p.stocks))
	q := p.offers(left)
	var plan []used
	for q.Len() > 0 && !w.over() {
		o := q.list[0]
		s := &p.stocks[o.stock]
		if !s.available(taken[o.stock]) {
			heap.Pop(q)
			continue
		}
		if !o.fresh {
			q.list[0] = p.offer(o.stock, left)
			heap.Fix(q, 0)
			continue
		}
		if o.fill.value == 0 {
			break
		}
		n := p.repeat(o.fill, left, s, taken[o.stock])
		plan = append(plan, used{o.stock, o.fill, n})
		taken[o.stock] += n
		for _, pl := range o.fill.places {
			left[pl.item] -= n
		}
		for i := range q.list {
			q.list[i].fresh = false
		}
	}
	return plan
}

// repeat is how often the same fill can be cut from boards of the same line.
func (p *problem) repeat(f fill, left []int, s *stock, taken int) int {
	uses := map[int]int{}
	for _, pl := range f.places {
		uses[pl.item]++
	}
	n := math.MaxInt
	for item, each := range uses {
		n = min(n, left[item]/each)
	}
	if !s.board.Unlimited {
		n = min(n, s.left-taken)
	}
	return max(n, 1)
}

// offer is what the next board of a line would hold.
type offer struct {
	stock int
	fill  fill
	cost  orders.Money
	fresh bool // made from what is wanted now
}

// offers is a heap, the most wood for its cost on top. A stale offer can only
// have shrunk since it was made, so it is made again only when it comes up.
type offers struct{ list []offer }

func (p *problem) offers(left []int) *offers {
	q := &offers{}
	for i := range p.stocks {
		q.list = append(q.list, p.offer(i, left))
	}
	heap.Init(q)
	return q
}

// offer keeps the better of crosscut first and rip first, unless the shop says
// which.
func (p *problem) offer(stock int, left []int) offer {
	s := &p.stocks[stock]
	o := offer{stock: stock, cost: s.cost, fresh: true}
	if p.set.CutFirst != "crosscut" {
		o.fill = p.fillBoard(s, left, true)
	}
	if p.set.CutFirst != "rip" {
		if f := p.fillBoard(s, left, false); f.value > o.fill.value {
			o.fill = f
		}
	}
	return o
}

func (q *offers) Len() int      { return len(q.list) }
func (q *offers) Swap(i, j int) { q.list[i], q.list[j] = q.list[j], q.list[i] }
func (q *offers) Push(any)      { panic("cutting: no offer is ever added") }
func (q *offers) Pop() any {
	last := q.list[len(q.list)-1]
	q.list = q.list[:len(q.list)-1]
	return last
}

// Less puts the better value for money first, then the earlier line: rack
// before yard.
func (q *offers) Less(i, j int) bool {
	a, b := &q.list[i], &q.list[j]
	switch {
	case worthier(a.fill.value, a.cost, b.fill.value, b.cost):
		return true
	case worthier(b.fill.value, b.cost, a.fill.value, a.cost):
		return false
	}
	return a.stock < b.stock
}

// worthier compares value over cost exactly; a board that costs nothing beats
// any that does not.
func worthier(v1 int64, c1 orders.Money, v2 int64, c2 orders.Money) bool {
	a, b := product(v1, int64(c2)), product(v2, int64(c1))
	if a != b {
		return b.less(a)
	}
	return c1 == 0 && c2 == 0 && v1 > v2
}
