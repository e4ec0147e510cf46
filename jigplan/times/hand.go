package times

import "batchwright/orders"

// handWork is what is done box by box. It grows quicker along the learning
// curve within one size, and the first box of a size takes longer.
func (s *sheet) handWork(in Input) {
	count, parts := built(in), madeOf(in.Parts)
	var groove, glue, extra, sand, coat hand
	for line, box := range in.Boxes {
		n := count[line]
		if n == 0 {
			continue
		}
		w := parts[line]
		groove.add(s, n, float64(grooves(box, w))*s.times.GroovePart, float64(grooves(box, w)))
		glue.add(s, n, s.times.GlueBox, 1)
		extra.add(s, n, float64(w.panels)*s.times.GluePart, float64(w.panels))
		sand.add(s, n, s.times.SandBox, 1)
		if box.Coated() {
			coat.add(s, n, s.times.Coats*s.times.CoatBox, s.times.Coats)
		}
	}
	groove.close(s, "Groove")
	glue.close(s, "Glue-up")
	extra.close(s, "Glue-up extra part")
	sand.close(s, "Sanding")
	coat.close(s, "Coat")
	first := groove.first + glue.first + extra.first + sand.first + coat.first
	share := s.times.FirstOfKindPercent / 100
	squares := share * share * (groove.firstSquares + glue.firstSquares + extra.firstSquares + sand.firstSquares + coat.firstSquares)
	s.addUneven("First of kind allowance", 0, 0, first*share, squares)
}

// hand adds up one kind of box-by-box work over the sizes of a batch.
type hand struct {
	count, seconds, squares float64
	first, firstSquares     float64 // of the first box of each size
}

func (h *hand) add(s *sheet, boxes int, firstBox, timesABox float64) {
	total, squares := CurveOf(s.times).Total(boxes)
	h.count += float64(boxes) * timesABox
	h.seconds += firstBox * total
	h.squares += firstBox * firstBox * squares
	h.first += firstBox
	h.firstSquares += firstBox * firstBox
}

func (h *hand) close(s *sheet, name string) {
	s.addUneven(name, h.count, 0, h.seconds, h.squares)
}

// made is what one box of a line is made of.
type made struct{ walls, panels, dividers int }

// madeOf counts, for each line, the parts of its first box.
func madeOf(parts []orders.Part) map[int]made {
	out, unit, last := map[int]made{}, map[int]int{}, ""
	for _, p := range parts {
		if p.Role == orders.Loose {
			continue
		}
		if first, seen := unit[p.Line]; seen && first != p.Unit {
			continue
		}
		unit[p.Line] = p.Unit
		m := out[p.Line]
		if p.Panel != "" && p.Panel == last {
			continue // one panel, however many strips
		}
		last = p.Panel
		switch p.Role {
		case orders.Side, orders.End:
			m.walls++
		case orders.Divider:
			m.dividers++
			m.panels++
		default:
			m.panels++
		}
		out[p.Line] = m
	}
	return out
}

// grooves is how many grooves a box's parts get: every wall for a bottom in a
// groove and again for a lid to be sawn off, three for a sliding lid, one lap a
// divider where dividers cross.
func grooves(b orders.Box, m made) int {
	n := 0
	if b.Bottom.Kind == orders.GrooveBottom || b.Bottom.Kind == orders.RabbetBottom {
		n += m.walls
	}
	switch b.Lid.Kind {
	case orders.SawnOffLid:
		n += m.walls
	case orders.SlidingLid:
		n += min(3, m.walls)
	}
	if b.Dividers.Along > 1 && b.Dividers.Across > 1 {
		n += m.dividers
	}
	return n
}
