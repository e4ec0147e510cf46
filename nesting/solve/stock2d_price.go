package solve

const (
	priceUnits = 1 << 40 // what the dearest plate is worth in priced values
	priceSlack = 1 << 16 // a filling must gain this much to count
	priceWork  = 400_000_000
	priceSteps = 12
	priceKeep  = 64
	priceMost  = 6 // columns from one pricing
)

// priced is what pricing one kind of plate brought.
type priced struct {
	cuts []cut2d
	most int64 // proven: no filling is worth more, in priced values
}

// generate adds columns to the master until no kind of plate has a filling
// worth more than it costs, raising the bound on the way.
func (s *stock2d) generate() {
	s.master = newMaster2D(s)
	for _, c := range s.best {
		s.master.add(s, c)
	}
	boards := make([]*board, len(s.kinds))
	for k := range s.kinds {
		boards[k] = s.board(k, s.need)
	}
	for !s.m.Over() {
		if s.master.lp.Solve(s.m) != LPOptimal {
			return
		}
		values := s.values()
		most := make([]int64, len(s.kinds))
		added := false
		for k := range s.kinds {
			p := s.price(k, boards[k], values)
			most[k] = p.most
			for _, c := range p.cuts {
				added = s.master.add(s, c) || added
			}
		}
		if s.m.Over() {
			return
		}
		s.bound = max(s.bound, s.lagrangeBound(values, most))
		if !added || s.proven() {
			return
		}
	}
}

// values returns the duals of the parts as integers.
func (s *stock2d) values() []int64 {
	v := make([]int64, len(s.need))
	for k := range v {
		v[k] = int64(max(0, s.master.lp.Dual(k)) / float64(s.master.dearest) * priceUnits)
	}
	return v
}

// price searches for fillings of a kind of plate worth more than its cost.
func (s *stock2d) price(k int, b *board, values []int64) priced {
	target := float64(s.kinds[k].cost)
	if r := s.master.stockRow[k]; r >= 0 {
		target += max(0, s.master.lp.Dual(r))
	}
	copy(b.value, values)
	part := s.m.Part(priceWork)
	f := newFiller(b, part)
	f.value = int64(target/float64(s.master.dearest)*priceUnits) + priceSlack
	f.price, f.steps, f.keep, f.most = s.kinds[k].price, priceSteps, priceKeep, priceMost
	f.bound = max(f.bound, f.value)
	f.runUntilFound()
	s.m.Absorb(part)
	s.kinds[k].price = f.price
	out := priced{most: f.bound}
	if f.plan == nil {
		return out
	}
	if len(f.others) == 0 {
		f.others = []*plan{f.plan}
	}
	for _, p := range f.others {
		c := cut2d{kind: k, times: 1, plan: p, made: make([]int, len(s.parts))}
		p.count(c.made)
		out.cuts = append(out.cuts, c)
	}
	return out
}
