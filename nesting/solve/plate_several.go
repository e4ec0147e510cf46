package solve

// FillPlates fills times equal plates for the most value in all, plate after
// plate; once with all that is left for each, once with each plate's share of
// what is left, and takes the better. Max counts the copies over all plates.
// The bound is that of one plate, times over, and all copies at most.
func FillPlates(plate Plate, times int, parts []Part, rules Rules, budget Budget) (fillings []Filling, value, bound int64, stop Stop) {
	m := NewMeter(budget, fillWork)
	bound = allCopies(parts)
	for _, share := range []bool{false, true} {
		if value >= bound && value > 0 {
			break
		}
		run, one := fillInTurn(plate, times, parts, rules, m, share)
		if one < bound/int64(times) {
			bound = one * int64(times)
		}
		sum := int64(0)
		for _, f := range run {
			sum += f.Value
		}
		if sum > value {
			fillings, value = run, sum
		}
	}
	stop = m.Why()
	if value >= bound {
		stop = StopProven
	} else if stop == "" {
		stop = StopBudget
	}
	return fillings, value, bound, stop
}

// fillInTurn fills the plates one after the other. one bounds the value of any
// one plate.
func fillInTurn(plate Plate, times int, parts []Part, rules Rules, m *Meter, share bool) (run []Filling, one int64) {
	left := append([]Part(nil), parts...)
	for k := range times {
		offered := append([]Part(nil), left...)
		plates := times - k
		for p := range offered {
			if share && left[p].Max < Unlimited {
				offered[p].Max = (left[p].Max + plates - 1) / plates
			}
		}
		part := m.Part(workLeft(m) / int64(2*plates))
		b := part.budget
		if part.Over() {
			b.Work = 1 // the quickest answer there is
		}
		f := FillPlate(plate, offered, rules, b)
		m.Spend(f.Work)
		if k == 0 && !share {
			one = f.Bound
		}
		run = append(run, f)
		for p, n := range f.Made {
			if left[p].Max < Unlimited {
				left[p].Max -= n
			}
		}
	}
	if share {
		one = 1 << 61
	}
	return run, one
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
