package cutting

import (
	"math"
	"math/rand/v2"
	"slices"

	"batchwright/orders/measure"
)

// used is one board line cut one way some number of times.
type used struct {
	stock int
	fill  fill
	times int

	cuts []*saw // how one board is sawn, leaf by leaf, once it is known
	work int64  // milliseconds of one board's cuts, once it is known
	sets int    // of stop and fence, for all boards of them together
}

// builder fills boards one after another, always one that gives much worth for
// its cost, until nothing more can be laid.
type builder struct {
	p     *problem
	g     *woodGroup
	price []int64
	left  []int // of every item of the problem
	have  []int // boards of every line of the problem, unlimited ones too
	lines []int // stock lines to choose from

	rng      *rand.Rand
	sections int

	alive  []int   // items of the wood group of which some were left lately
	worth  []int64 // of what is left, by kind
	card   *card
	ranOut int // items used up since the card was written
	spent  int64
}

const unlimitedBoards = math.MaxInt32

// shortlist is how many promising lines are filled in earnest.
const shortlist = 3

// maxOffered is how many items a card is written from.
const maxOffered = 3000

func (b *builder) run(over func() bool) []used {
	var plan []used
	var promises []int64
	b.takeStock()
	for !over() {
		if b.card == nil {
			b.card = b.p.newCard(b.g, b.offered(), b.left, b.price, b.worth)
			b.card.rng, b.card.sections, b.ranOut = b.rng, b.sections, 0
			promises = b.promises()
		}
		line, f := b.choose(promises)
		if line < 0 && b.ranOut == 0 {
			break
		}
		if line < 0 {
			b.spend()
			continue
		}
		plan = append(plan, b.take(line, f))
	}
	b.spend()
	return plan
}

// takeStock lists the items that are left and what they are worth.
func (b *builder) takeStock() {
	b.worth = make([]int64, len(b.g.kinds))
	for _, i := range b.g.items {
		if b.left[i] > 0 {
			b.alive = append(b.alive, i)
			b.worth[b.g.kind(b.p.items[i].thick)] += int64(b.left[i]) * b.price[i]
		}
	}
}

// offered is the items a card is written from: all that are left or, of very
// many, the first (the largest) and an even choice of the rest.
func (b *builder) offered() []int {
	b.alive = slices.DeleteFunc(b.alive, func(i int) bool { return b.left[i] == 0 })
	if len(b.alive) <= maxOffered {
		return b.alive
	}
	head := maxOffered / 3
	out := slices.Clone(b.alive[:head])
	for k := range maxOffered - head {
		out = append(out, b.alive[head+k*(len(b.alive)-head)/(maxOffered-head)])
	}
	return out
}

func (b *builder) spend() {
	if b.card != nil {
		b.spent += b.card.spent()
		b.card = nil
	}
}

func (b *builder) promises() []int64 {
	out := make([]int64, len(b.lines))
	for k, j := range b.lines {
		if b.have[j] > 0 {
			out[k] = b.card.promise(&b.p.stocks[j], b.left)
		}
	}
	return out
}

// choose fills the most promising lines and keeps the one that gives most for
// its cost, the earlier line where they are equal.
func (b *builder) choose(promises []int64) (line int, best fill) {
	line = -1
	for _, k := range b.shortlist(promises) {
		j := b.lines[k]
		f := b.card.fillBoard(&b.p.stocks[j], b.left)
		if f.value == 0 {
			continue
		}
		if line < 0 || worthier(f.value, b.p.stocks[j].cost, best.value, b.p.stocks[line].cost) {
			line, best = j, f
		}
	}
	return line, best
}

// shortlist picks the lines that promise most for their cost.
func (b *builder) shortlist(promises []int64) []int {
	rest := int64(0)
	for _, w := range b.worth {
		rest += w
	}
	var list []int
	ahead := func(i, j int) bool {
		return worthier(min(promises[i], rest), b.p.stocks[b.lines[i]].cost, min(promises[j], rest), b.p.stocks[b.lines[j]].cost)
	}
	for k, j := range b.lines {
		if promises[k] == 0 || b.have[j] == 0 {
			continue
		}
		at := len(list)
		for at > 0 && ahead(k, list[at-1]) {
			at--
		}
		if at < shortlist {
			list = slices.Insert(list, at, k)
			list = list[:min(len(list), shortlist)]
		}
	}
	return list
}

// take cuts the same fill from as many boards of the line as it fits, and
// rewrites the menus when something has run out.
func (b *builder) take(line int, f fill) used {
	uses := map[int]int{}
	for _, pl := range f.places {
		uses[pl.item] += b.p.each(line, pl.item)
	}
	n := b.copies(line, uses)
	for item, each := range uses {
		b.left[item] -= n * each
		b.worth[b.g.kind(b.p.items[item].thick)] -= int64(n*each) * b.price[item]
		if b.left[item] == 0 {
			b.ranOut++
		}
	}
	if 4*b.ranOut > b.card.shapes() {
		b.spend()
	}
	if b.have[line] != unlimitedBoards {
		b.have[line] -= n
	}
	return used{stock: line, fill: f, times: n}
}

// boards is how many of each line there are.
func (p *problem) boards() []int {
	have := make([]int, len(p.stocks))
	for j := range p.stocks {
		have[j] = max(0, p.stocks[j].left)
		if p.stocks[j].board.Unlimited {
			have[j] = unlimitedBoards
		}
	}
	return have
}

// worthier compares value over cost exactly; a board that costs nothing beats
// any that does not.
func worthier(v1 int64, c1 measure.Money, v2 int64, c2 measure.Money) bool {
	a, b := product(v1, int64(c2)), product(v2, int64(c1))
	if a != b {
		return b.less(a)
	}
	return c1 == 0 && c2 == 0 && v1 > v2
}
