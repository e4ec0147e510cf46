package solve

import "slices"

// group is kinds of plate that one search fills together: all plates without
// defects share a grid, a plate with defects stands alone.
type group struct {
	kinds []int
	price []float64 // scarcity prices of the last search
}

// group sorts the kinds of plate.
func (s *stock2d) group() {
	var plain group
	for k, st := range s.stock {
		if len(st.Defects) > 0 {
			s.groups = append(s.groups, &group{kinds: []int{k}})
		} else {
			plain.kinds = append(plain.kinds, k)
		}
	}
	if len(plain.kinds) > 0 {
		s.groups = append(s.groups, &plain)
	}
}

// fillSearch is one search for good fillings of a group's plates.
type fillSearch struct {
	want  []int   // copies that may be cut
	worth []int64 // of a copy of each part
	bonus []int64 // of each kind of plate; noRoot for one not searched
	beat  int64   // worth and bonus together to beat
	work  int64
	steps int // price steps at most
	keep  int // fillings a size at most
	most  int // fillings of each kind wanted
	until bool
	sizes int  // sizes an axis at most
	wide  bool // one search, all fillings above beat
}

// catch is what a search brought.
type catch struct {
	cuts  []cut2d
	reach []int64 // of each cut: its worth and bonus
	most  int64   // proven when exact: no filling reaches more
	exact bool
	whole bool // all fillings wanted are there
}

// searchFillings searches the plates of g.
func (s *stock2d) searchFillings(g *group, h fillSearch) catch {
	s.exchangeNews()
	bonus, any := make([]int64, len(g.kinds)), false
	for r, k := range g.kinds {
		bonus[r] = h.bonus[k]
		any = any || bonus[r] != noRoot
	}
	if !any {
		return catch{most: h.beat, exact: true}
	}
	part := s.m.Part(h.work)
	defer s.m.Absorb(part)
	if len(s.stock[g.kinds[0]].Defects) > 0 {
		return s.huntDefects(g.kinds[0], bonus[0], h, part)
	}
	c := catch{most: h.beat, exact: true, whole: true}
	for _, first := range s.rules.firsts() {
		rules := s.rules
		rules.First = first
		s.huntPlain(g, h, rules, bonus, part, &c)
	}
	return c
}

// huntPlain searches the plates of a plain group under one order of the stages
// and adds what it finds to c.
func (s *stock2d) huntPlain(g *group, h fillSearch, rules Rules, bonus []int64, m *Meter, c *catch) {
	f := newFiller(s.board(g, h, rules), bonus, m)
	f.value, f.bound = h.beat, max(f.bound, h.beat)
	f.steps, f.keep, f.most, f.until = h.steps, h.keep, h.most, h.until
	f.price = g.price
	if h.wide {
		f.all()
	} else {
		f.run()
		g.price = f.price
	}
	c.most = max(c.most, f.bound)
	c.exact, c.whole = c.exact && f.b.exact(), c.whole && f.whole
	for _, r := range f.found {
		c.add(s, cut2d{kind: g.kinds[r.root], times: 1, plan: r.plan}, r.value+bonus[r.root])
	}
}

// huntDefects searches a plate with defects.
func (s *stock2d) huntDefects(kind int, bonus int64, h fillSearch, m *Meter) catch {
	c := catch{most: h.beat, exact: true}
	for _, first := range s.rules.firsts() {
		rules := s.rules
		rules.First = first
		one := single{plate: s.stock[kind].Plate, parts: s.partsOf(h), rules: rules, m: m}
		one.value = max(0, h.beat-bonus)
		one.run()
		c.most = max(c.most, one.bound+bonus)
		if one.plan != nil {
			c.add(s, cut2d{kind: kind, times: 1, plan: one.plan}, one.value+bonus)
		}
	}
	return c
}

func (c *catch) add(s *stock2d, cut cut2d, reach int64) {
	cut.made = make([]int, len(s.parts))
	cut.plan.count(cut.made)
	c.cuts = append(c.cuts, cut)
	c.reach = append(c.reach, reach)
}

// partsOf returns the parts as a fillSearch wants and values them.
func (s *stock2d) partsOf(h fillSearch) []PlatePart {
	parts := slices.Clone(s.parts)
	for k := range parts {
		parts[k].Max, parts[k].Value = h.want[k], h.worth[k]
	}
	return parts
}

// board returns the board of a plain group for a fillSearch.
func (s *stock2d) board(g *group, h fillSearch, rules Rules) *board {
	plates := make([]Plate, len(g.kinds))
	for r, k := range g.kinds {
		plates[r] = s.stock[k].Plate
	}
	return newBoards(plates, s.partsOf(h), rules, h.sizes)
}
