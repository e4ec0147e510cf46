package check

import "batchwright/orders/measure"

// mate puts two cut boards together, edges flush: no wood may meet wood by
// more than a negative fit, every whole slot must take exactly one pin with
// the fit to spare, and no gap may be wider than the fit.
func (f *faults) mate(height measure.Length, fit measure.Ratio, a, b cut) {
	for _, pa := range a.pins {
		for _, pb := range b.pins {
			if meet := overlap(pa, pb); meet.Sign() > 0 && meet.Cmp(fit.Neg().Over(2)) > 0 {
				f.add("height %s: wood meets wood over %s at %s", mm(height.Ratio()), mm(meet), mm(later(pa.from, pb.from)))
			}
		}
	}
	f.filled(height, fit, a, b, "A", "B")
	f.filled(height, fit, b, a, "B", "A")
	f.gaps(height, fit, a, b)
}

// filled looks into every whole slot of one row for the other row's pin.
func (f *faults) filled(height measure.Length, fit measure.Ratio, slotted, pinned cut, row, other string) {
	for _, s := range slotted.slots {
		if !slotted.inside(s) {
			continue
		}
		var pin []span
		for _, p := range pinned.pins {
			if overlap(s, p).Sign() > 0 {
				pin = append(pin, p)
			}
		}
		switch {
		case len(pin) != 1:
			f.add("height %s: %d pins of row %s stand in row %s's slot at %s", mm(height.Ratio()), len(pin), other, row, mm(s.from))
		case pinned.inside(pin[0]) && s.width().Sub(pin[0].width()).Cmp(fit) != 0:
			f.add("height %s: the pin in row %s's slot at %s has %s to spare, the fit is %s",
				mm(height.Ratio()), row, mm(s.from), mm(s.width().Sub(pin[0].width())), mm(fit))
		}
	}
}

// gaps looks for places where both rows are cut away over more than the fit.
func (f *faults) gaps(height measure.Length, fit measure.Ratio, a, b cut) {
	for _, sa := range a.slots {
		for _, sb := range b.slots {
			if gap := overlap(sa, sb); gap.Sign() > 0 && gap.Cmp(fit) > 0 {
				f.add("height %s: a gap of %s at %s, the fit is %s", mm(height.Ratio()), mm(gap), mm(later(sa.from, sb.from)), mm(fit))
			}
		}
	}
}

// overlap is how far two spans share the board; 0 or less: they do not.
func overlap(a, b span) measure.Ratio {
	end := a.to
	if b.to.Cmp(end) < 0 {
		end = b.to
	}
	return end.Sub(later(a.from, b.from))
}

func later(a, b measure.Ratio) measure.Ratio {
	if b.Cmp(a) > 0 {
		return b
	}
	return a
}
