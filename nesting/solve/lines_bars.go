package solve

import (
	"fmt"
	"slices"
)

// bars is the restricted master of the bar relaxation: boards open capacity,
// bars (sets of parts on a line, for so much length) use it up and cover
// demand.
type bars struct {
	p       LineProblem
	g       *lineTable
	along   bool
	m       *Master
	rooms   []room
	boards  [][]int // the columns of each line of boards, one a way
	partRow []int
	seen    map[string]bool
}

// room is the capacity of one clear width, for one set of kinds.
type room struct {
	kinds []bool
	steps int
	row   int
}

// maxRooms bounds the rows of the master; nearly equal capacities are taken
// together at the larger.
const maxRooms = 160

func newBars(p LineProblem, along bool) *bars {
	b := &bars{p: p, g: newLineTable(p, along), along: along, seen: map[string]bool{}}
	rhs := make([]float64, len(p.Parts))
	b.partRow = make([]int, len(p.Parts))
	for i, part := range p.Parts {
		rhs[i], b.partRow[i] = float64(part.Count), i
	}
	b.m = NewMaster(rhs)
	for i := range p.Parts {
		b.m.AddColumn(b.missing(), NoBound, []Term{{i, 1}})
	}
	b.openRooms()
	b.openBoards()
	return b
}

// missing is a price no part is worth.
func (b *bars) missing() float64 {
	most := int64(1)
	for _, board := range b.p.Boards {
		most = max(most, board.Cost)
	}
	return float64(most) * 4
}

func (b *bars) stretches(w LineWay) []Stretch {
	if b.along {
		return w.Along
	}
	return w.Across
}

// openRooms lists the capacities there are, and thins them out when many.
func (b *bars) openRooms() {
	bySet := map[string][]int{}
	kinds := map[string][]bool{}
	var order []string
	for _, board := range b.p.Boards {
		for _, w := range board.Ways {
			key := kindsKey(w.Kinds)
			if kinds[key] == nil {
				kinds[key] = w.Kinds
				order = append(order, key)
			}
			for _, s := range b.stretches(w) {
				for _, c := range s.Clear {
					if steps := int(c / b.g.step); steps > 0 {
						bySet[key] = append(bySet[key], steps)
					}
				}
			}
		}
	}
	for _, key := range order {
		for _, steps := range thinned(bySet[key], max(1, maxRooms/len(order))) {
			b.rooms = append(b.rooms, room{kinds[key], steps, b.m.AddRow(0, nil)})
		}
	}
}

// thinned keeps at most n of the values, always the largest of those joined.
func thinned(values []int, n int) []int {
	slices.Sort(values)
	values = slices.Compact(values)
	if len(values) <= n {
		return values
	}
	out := make([]int, 0, n)
	for i := 1; i <= n; i++ {
		out = append(out, values[i*len(values)/n-1])
	}
	return out
}

// room finds the smallest room that a clear width fits.
func (b *bars) room(kinds []bool, steps int) int {
	for i, r := range b.rooms {
		if r.steps >= steps && slices.Equal(r.kinds, kinds) {
			return i
		}
	}
	return -1
}

// openBoards adds a column for every way a board may be used; all ways of a
// limited one share its row.
func (b *bars) openBoards() {
	for _, board := range b.p.Boards {
		upper, shared := float64(board.Count), []Term(nil)
		if len(board.Ways) > 1 && board.Count < Unlimited {
			shared = []Term{{b.m.AddRow(-upper, nil), -1}}
		}
		if board.Count >= Unlimited {
			upper = NoBound
		}
		var columns []int
		for _, w := range board.Ways {
			columns = append(columns, b.m.AddColumn(float64(board.Cost), upper, append(b.opened(w), shared...)))
		}
		b.boards = append(b.boards, columns)
	}
}

// opened is the room that a board gives in one way.
func (b *bars) opened(w LineWay) (terms []Term) {
	extent := map[int]float64{}
	for _, s := range b.stretches(w) {
		for _, c := range s.Clear {
			if r := b.room(w.Kinds, int(c/b.g.step)); r >= 0 && c/b.g.step > 0 {
				extent[b.rooms[r].row] += b.unit(float64(s.Extent))
			}
		}
	}
	for _, r := range b.rooms {
		if e := extent[r.row]; e > 0 {
			terms = append(terms, Term{r.row, e})
		}
	}
	return terms
}

// unit brings lengths to the order of one.
func (b *bars) unit(l float64) float64 { return l / float64(b.g.step) / 256 }

// solve generates bars until none is worth more than the room it takes.
func (b *bars) solve(m *Meter) bool {
	for range 200 {
		if status := b.m.Solve(m); status != LPOptimal {
			return false
		}
		if !m.Spend(b.g.work()) {
			return true
		}
		if !b.price() {
			return true
		}
	}
	return true
}

// price adds the best bar of every room; false when none is worth it.
func (b *bars) price() bool {
	b.g.fill(b.prices())
	added := false
	for _, r := range b.rooms {
		table, worth := b.bestTable(r)
		if table < 0 {
			continue
		}
		if b.worthOf(worth) > b.m.Dual(r.row)*(1+1e-9)+1e-7 {
			added = b.addBar(r, b.g.taken(table, r.steps)) || added
		}
	}
	return added
}

// worthOf turns worth per unit of length into worth per unit of room.
func (b *bars) worthOf(worth float64) float64 { return worth / b.unit(1) }

func (b *bars) bestTable(r room) (table int, worth float64) {
	if !b.g.split {
		t := b.g.set(r.kinds)
		return t, b.g.best[t][r.steps]
	}
	table = -1
	for k, ok := range r.kinds {
		if ok && k < b.g.kinds && b.g.best[k][r.steps] > worth {
			table, worth = k, b.g.best[k][r.steps]
		}
	}
	return table, worth
}

// addBar adds a set of shapes as a column, once.
func (b *bars) addBar(r room, taken []int32) bool {
	key := fmt.Sprint(r.row, taken)
	if b.seen[key] || len(taken) == 0 {
		return false
	}
	b.seen[key] = true
	cover := map[int]float64{}
	for _, j := range taken {
		s := b.g.shapes[j]
		cover[s.part] += 1 / b.unit(s.extent)
	}
	var terms []Term
	for i := range b.p.Parts {
		if c := cover[i]; c > 0 {
			terms = append(terms, Term{b.partRow[i], c})
		}
	}
	b.m.AddColumn(0, NoBound, append(terms, Term{r.row, -1}))
	return true
}

// prices are the duals of the demand, never below zero.
func (b *bars) prices() []float64 {
	out := make([]float64, len(b.p.Parts))
	for i := range out {
		out[i] = max(0, b.m.Dual(b.partRow[i]))
	}
	return out
}

func (b *bars) use() []float64 {
	out := make([]float64, len(b.boards))
	for i, columns := range b.boards {
		for _, col := range columns {
			out[i] += b.m.Primal(col)
		}
	}
	return out
}
