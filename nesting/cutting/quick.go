package cutting

import "batchwright/orders/measure"

// quick lays what is left when the clock has run out before a first plan was
// whole: board after board, the tallest item first, strips filled long before
// short. It looks at each item a few times only.
func (b *builder) quick() []used {
	var plan []used
	for _, j := range b.lines {
		for b.have[j] > 0 {
			f := b.quickBoard(j)
			if len(f.places) == 0 {
				break
			}
			plan = append(plan, b.quickTake(j, f))
		}
	}
	return plan
}

// maxLooked is how many items are looked at for one strip.
const maxLooked = 200

// quickBoard fills one board with one thickness.
func (b *builder) quickBoard(line int) fill {
	var f fill
	s := &b.p.stocks[line]
	var thick measure.Length
	b.offered()
	laid := map[int]int{}
	for y := s.sound.y0; y < s.sound.y1; {
		high, x := measure.Length(0), s.sound.x0
		for n, i := range b.alive {
			it := &b.p.items[i]
			if n == maxLooked && high == 0 || n == 4*maxLooked {
				break
			}
			for laid[i]+b.p.each(line, i) <= b.left[i] && s.suits(it) && !it.mixed && (thick == 0 || it.thick == thick) && (high == 0 || it.w == high || it.w < high && it.l >= b.p.machine(s)) {
				r := rect{x, y, x + it.l, y + it.w}
				if r.within(s.sound) != r || s.blocked(r) || s.sound.length() < b.p.machine(s) {
					break
				}
				thick = it.thick
				high = max(high, it.w)
				laid[i] += b.p.each(line, i)
				f.places = append(f.places, place{i, x, y, false})
				x += it.l + b.p.set.CrosscutKerf
			}
		}
		if high == 0 {
			break
		}
		y += high + b.p.set.RipKerf
	}
	return b.p.safe(s, f)
}

// quickTake cuts the same fill from as many boards of the line as it fits.
func (b *builder) quickTake(line int, f fill) used {
	uses := map[int]int{}
	for _, pl := range f.places {
		uses[pl.item] += b.p.each(line, pl.item)
	}
	n := b.copies(line, uses)
	for item, each := range uses {
		b.left[item] -= n * each
	}
	if b.have[line] != unlimitedBoards {
		b.have[line] -= n
	}
	return used{stock: line, fill: f, times: n}
}

// copies is how many boards of the line may be cut alike.
func (b *builder) copies(line int, uses map[int]int) int {
	n := b.have[line]
	for item, each := range uses {
		n = min(n, b.left[item]/each)
	}
	return n
}
