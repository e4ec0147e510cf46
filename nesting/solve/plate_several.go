package solve

// FillPlates fills times equal plates for the most value in all. Max counts the
// copies over all plates. It fills plate after plate, once with all that is left
// for each, once with each plate's share of what is left; a trade betters the
// better of these, and another on a second core a quick filling. The bound is
// that of one plate, times over, and all copies at most.
func FillPlates(plate Plate, times int, parts []Part, rules Rules, budget Budget) (fillings []Filling, value, bound int64, stop Stop) {
	m := NewMeter(budget, fillWork)
	s := several{plate: plate, times: times, parts: parts, rules: rules, bound: allCopies(parts)}
	quit, quick := make(chan struct{}), make(chan []*plan, 1)
	other := s // keeps the first bound, whenever the better one comes
	go func() { quick <- other.quickTrade(m.budget, quit) }()
	best := s.turns(m)
	if s.priceable() {
		best = s.lot(best, m)
	} else if s.value(best) < s.bound {
		best = s.trade(best, m, 0)
	}
	if s.value(best) >= s.bound || m.Why() == StopTime {
		close(quit)
	} else {
		s.wait(quick, quit, budget.Stop)
	}
	if run := <-quick; s.value(best) < s.bound && s.value(run) > s.value(best) {
		best = run
	}
	for _, p := range best {
		fillings = append(fillings, newFilling(p, plate, parts, rules))
	}
	return fillings, s.value(best), max(s.bound, s.value(best)), s.why(best, m)
}

// several is times equal plates to fill together.
type several struct {
	plate Plate
	times int
	parts []Part
	rules Rules
	bound int64 // proven: all plates together are not worth more
}

// priceable reports whether a master can share the parts out: there are several
// plates and a limit to every part.
func (s *several) priceable() bool {
	limited := true
	for _, p := range s.parts {
		limited = limited && p.Max < Unlimited
	}
	return s.times > 1 && limited && len(s.plate.Defects) == 0
}

// wait waits for the quick trade, which an interrupt ends.
func (s *several) wait(quick chan []*plan, quit chan struct{}, interrupt <-chan struct{}) {
	select {
	case best := <-quick:
		quick <- best
		close(quit)
	case <-interrupt:
		close(quit)
	}
}

// turns fills the plates in turn both ways, takes the better and notes the bound.
func (s *several) turns(whole *Meter) (best []*plan) {
	m := whole.Part(workLeft(whole))
	if s.priceable() {
		m = whole.Part(workLeft(whole) / 3)
	}
	defer func() { whole.Absorb(m) }()
	for _, share := range []bool{false, true} {
		if s.value(best) >= s.bound || share && s.times == 1 {
			break
		}
		run, one := s.inTurn(m, share)
		if one < s.bound/int64(s.times) {
			s.bound = one * int64(s.times)
		}
		if s.value(run) > s.value(best) {
			best = run
		}
	}
	return best
}

// inTurn fills the plates one after the other. one bounds the value of any one
// plate.
func (s *several) inTurn(m *Meter, share bool) (run []*plan, one int64) {
	left := append([]Part(nil), s.parts...)
	one = 1 << 61
	for k := range s.times {
		offered := append([]Part(nil), left...)
		plates := s.times - k
		for p := range offered {
			if share && left[p].Max < Unlimited {
				offered[p].Max = (left[p].Max + plates - 1) / plates
			}
		}
		work := workLeft(m) / int64(2*plates)
		if s.times == 1 {
			work = workLeft(m) * 3 / 4
		}
		part := m.Part(max(work, 1)) // with nothing left, the quickest answer there is
		best, bound := fillOne(s.plate, offered, s.rules, part)
		m.Absorb(part)
		if k == 0 && !share {
			one = bound
		}
		run = append(run, best)
		best.takeFrom(left)
	}
	return run, one
}

// takeFrom counts the copies in p off the limits of parts.
func (p *plan) takeFrom(parts []Part) {
	made := make([]int, len(parts))
	p.count(made)
	for k, n := range made {
		if parts[k].Max < Unlimited {
			parts[k].Max -= n
		}
	}
}

// quickTrade fills the plates with little work and betters them with the rest.
func (s *several) quickTrade(b Budget, quit <-chan struct{}) []*plan {
	b.Stop = quit
	m := NewMeter(b, 0)
	part := m.Part(b.Work / 20)
	run, _ := s.inTurn(part, s.times > 1)
	m.Absorb(part)
	return s.trade(run, m, 1<<40)
}

// trade betters plates that are filled; seed sets its choices apart from
// another's. Plates with defects stay as they are.
func (s *several) trade(plates []*plan, m *Meter, seed uint64) []*plan {
	if len(s.plate.Defects) > 0 {
		return plates
	}
	t := newTrade(s.plate, s.parts, s.rules, m, plates)
	t.drawn = seed
	t.run(s.bound)
	return t.best
}

// value is the value of all plates.
func (s *several) value(plates []*plan) (sum int64) {
	for _, p := range plates {
		sum += valueOf(p, s.parts)
	}
	return sum
}

// why is the reason the search ended with best.
func (s *several) why(best []*plan, m *Meter) Stop {
	switch {
	case s.value(best) >= s.bound:
		return StopProven
	case m.Why() != "":
		return m.Why()
	}
	return StopBudget
}

// allCopies is the value of every copy allowed.
func allCopies(parts []Part) int64 {
	sum := int64(0)
	for _, p := range parts {
		if p.Max >= Unlimited || sum > 1<<60 {
			return 1 << 61
		}
		sum += int64(p.Max) * p.Value
	}
	return sum
}
