package solve

const (
	priceUnits = 1 << 40 // what the dearest plate is worth in priced values
	priceSlack = 1 << 16 // a filling must gain this much to count
	priceSteps = 10
	priceKeep  = 128
	priceMost  = 4 // columns of a kind from one pricing
)

// generate adds columns to the master until no kind of plate has a filling
// worth more than it costs, raising the bound on the way.
func (s *stock2d) generate() {
	s.master = newMaster2D(s)
	for _, c := range s.best {
		s.master.add(s, c)
	}
	used := make([]int, len(s.kinds))
	for sizes := coarseSizes; !s.m.Over() && !s.proven(); {
		if s.master.lp.Solve(s.m) != LPOptimal {
			return
		}
		if s.price(s.need, used, sizes, true) {
			continue
		}
		if sizes == maxSizes {
			return
		}
		sizes = maxSizes // nothing more on few sizes: on all of them, for the bound
	}
}

// price adds columns the master gains by, found on a grid of so many sizes, and
// reports whether there are some. For the whole need, the duals give a bound.
func (s *stock2d) price(want, used []int, sizes int, whole bool) (added bool) {
	worth := s.values()
	if !whole {
		worth = s.fullValues()
	}
	targets, beat := s.targets()
	most := make([]int64, len(s.kinds))
	proof := whole
	for _, g := range s.groups {
		h := fillSearch{
			want: want, worth: worth, bonus: make([]int64, len(s.kinds)), beat: beat,
			work: workLeft(s.m) / 8, steps: priceSteps, keep: priceKeep, most: priceMost, until: true, sizes: sizes,
		}
		for k, kind := range s.kinds {
			h.bonus[k] = beat - targets[k]
			if used[k] >= kind.count {
				h.bonus[k] = noRoot
			}
		}
		c := s.searchFillings(g, h)
		for _, cut := range c.cuts {
			added = s.master.add(s, cut) || added
		}
		proof = proof && c.exact
		for _, k := range g.kinds {
			most[k] = c.most - h.bonus[k]
		}
	}
	if proof {
		s.bound = max(s.bound, s.lagrangeBound(worth, most))
	}
	return added
}

// values returns the duals of the parts as integers.
func (s *stock2d) values() []int64 {
	v := make([]int64, len(s.need))
	for k := range v {
		v[k] = int64(max(0, s.master.lp.Dual(k)) / float64(s.master.dearest) * priceUnits)
	}
	return v
}

// fullValues returns the duals and a trace more for the parts' area: parts that
// cost nothing to cover still have to be covered.
func (s *stock2d) fullValues() []int64 {
	plate := 1.0
	for _, st := range s.stock {
		b := newPlainBoard(st.Plate, s.rules)
		plate = max(plate, float64(b.length)*float64(b.width))
	}
	v := s.values()
	for k := range v {
		v[k] += int64(s.area(k)/plate*priceSlack/4) + 1
	}
	return v
}

// targets returns what a filling of each kind must be worth to be gained by,
// and the largest of these.
func (s *stock2d) targets() (targets []int64, most int64) {
	targets = make([]int64, len(s.kinds))
	for k, kind := range s.kinds {
		t := float64(kind.cost)
		if r := s.master.stockRow[k]; r >= 0 {
			t += max(0, s.master.lp.Dual(r))
		}
		targets[k] = int64(t/float64(s.master.dearest)*priceUnits) + priceSlack
		most = max(most, targets[k])
	}
	return targets, most
}
