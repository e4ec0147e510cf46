package solve

// single searches one plate under one order of the stages: quickly on few
// sizes, then on all of them as far as the work allows.
type single struct {
	plate Plate
	parts []PlatePart
	rules Rules
	m     *Meter

	plan  *plan
	value int64
	bound int64
}

func (s *single) run() {
	plain := newPlainBoard(s.plate, s.rules)
	s.bound = plain.densestOf(s.parts)
	if s.m.Over() {
		return
	}
	if len(s.plate.Defects) > 0 {
		s.runDefects()
		return
	}
	full := newBoard(s.plate, s.parts, s.rules, maxSizes)
	left := workLeft(s.m)
	if full.free && !full.exact() {
		if p, _ := full.stripPlan(s.m); p != nil {
			s.offer(full, p)
		}
	}
	if full.tableWork() > left/60 {
		s.search(newBoard(s.plate, s.parts, s.rules, coarseSizes), left/3)
	}
	if full.exact() && full.tableWork() < workLeft(s.m)/2 {
		s.search(full, workLeft(s.m))
		return
	}
	for most := 2 * coarseSizes; !s.m.Over() && most < maxSizes; most *= 2 {
		b := newBoard(s.plate, s.parts, s.rules, most)
		if b.tableWork() > workLeft(s.m)/4 {
			break
		}
		s.search(b, workLeft(s.m))
	}
}

// search searches one board and keeps what is better.
func (s *single) search(b *board, work int64) {
	m := s.m.Part(work)
	f := newFiller(b, make([]int64, 1), m)
	f.value = s.value
	f.run()
	s.m.Absorb(m)
	for _, r := range f.found {
		if r.value > s.value {
			s.plan, s.value = r.plan, r.value
		}
	}
	if b.exact() {
		s.bound = min(s.bound, f.bound)
	}
}

// exact reports whether the grid holds all sizes that matter, so that bounds
// from it are bounds.
func (b *board) exact() bool { return b.grid.xs.exact && b.grid.ys.exact }

// tableWork is the work of filling one table.
func (b *board) tableWork() int64 {
	g := b.grid
	one := g.xs.pairCount*int64(g.ny) + g.ys.pairCount*int64(g.nx)
	return one * int64(len(b.rules.layers()))
}

// densest is the value of the whole area cut into the densest part.
func (b *board) densest() int64 {
	best := 0.0
	for _, s := range b.shapes {
		if b.limit[s.part] > 0 {
			best = max(best, float64(b.value[s.part])/(float64(s.length)*float64(s.width)))
		}
	}
	return b.atDensity(best)
}

// allCopies is the value of every copy allowed.
func (b *board) allCopies() int64 {
	all := 0.0
	for k, n := range b.limit {
		all += float64(n) * float64(b.value[k])
	}
	return int64(min(all*(1+1e-12)+0.5, 1<<60))
}

// densestOf is the same for parts, fitting or not.
func (b *board) densestOf(parts []PlatePart) int64 {
	best := 0.0
	for _, p := range parts {
		if p.Max > 0 {
			best = max(best, float64(p.Value)/float64(p.taken(b.rules)))
		}
	}
	return b.atDensity(best)
}

// taken is the least area a copy takes, its kerfs included.
func (p PlatePart) taken(r Rules) int64 {
	area := (p.Length + r.KerfX) * (p.Width + r.KerfY)
	if p.Turn {
		area = min(area, (p.Width+r.KerfX)*(p.Length+r.KerfY))
	}
	return area
}

func (b *board) atDensity(perArea float64) int64 {
	return int64(min(perArea*float64(b.length)*float64(b.width)*(1+1e-9)+1, 1<<60))
}

// workLeft is the work a meter still allows.
func workLeft(m *Meter) int64 { return m.budget.Work - m.spent }
