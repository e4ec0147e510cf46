package times

import (
	"batchwright/orders"
	"batchwright/orders/settings"
)

// squareFoot is its area in mm2, 304.8 x 304.8.
const squareFoot = 92_903.04

// handwork is one kind of work that is done box by box.
type handwork struct {
	element string
	each    func(*settings.Times) float64                        // seconds
	count   func(*orders.Box, made, *settings.Times) (n float64) // for a box
}

// byHand lists what is done box by box, in the order of a job.
var byHand = []handwork{
	{"Groove", func(t *settings.Times) float64 { return t.GroovePart }, func(b *orders.Box, m made, _ *settings.Times) float64 { return float64(grooves(*b, m)) }},
	{"Glue-up", func(t *settings.Times) float64 { return t.GlueBox }, once},
	{"Glue-up extra part", func(t *settings.Times) float64 { return t.GluePart }, func(_ *orders.Box, m made, _ *settings.Times) float64 { return float64(m.panels) }},
	{"Nailed bottom", func(t *settings.Times) float64 { return t.NailBottom }, when(func(b *orders.Box) bool { return b.Bottom.Kind == orders.NailedBottom })},
	{"Saw lid off", func(t *settings.Times) float64 { return t.SawLid }, when(func(b *orders.Box) bool { return b.Lid.Kind == orders.SawnOffLid })},
	{"Cut lid lip", func(t *settings.Times) float64 { return t.LidLip }, when(func(b *orders.Box) bool { return b.Lid.Kind == orders.LiftOffLid })},
	{"Hinge pair", func(t *settings.Times) float64 { return t.HingePair }, when(func(b *orders.Box) bool { return b.Lid.Kind == orders.HingedLid })},
	{"Catch", func(t *settings.Times) float64 { return t.CatchEach }, when(func(b *orders.Box) bool { return b.Lid.Kind == orders.HingedLid })},
	{"Divider", func(t *settings.Times) float64 { return t.DividerFit }, func(_ *orders.Box, m made, _ *settings.Times) float64 { return float64(m.dividers) }},
	{"Sanding", func(t *settings.Times) float64 { return t.SandBox }, once},
	{"Sanding a square foot", func(t *settings.Times) float64 { return t.SandFoot }, func(_ *orders.Box, m made, _ *settings.Times) float64 { return m.feet }},
	{"Coat", func(t *settings.Times) float64 { return t.CoatBox }, func(b *orders.Box, _ made, t *settings.Times) float64 { return coats(b, t) }},
	{"Coat a square foot", func(t *settings.Times) float64 { return t.CoatFoot }, func(b *orders.Box, m made, t *settings.Times) float64 { return coats(b, t) * m.feet }},
}

func once(*orders.Box, made, *settings.Times) float64 { return 1 }

// when is once a box of some kind.
func when(is func(*orders.Box) bool) func(*orders.Box, made, *settings.Times) float64 {
	return func(b *orders.Box, _ made, _ *settings.Times) float64 {
		if is(b) {
			return 1
		}
		return 0
	}
}

func coats(b *orders.Box, t *settings.Times) float64 {
	if b.Coated() {
		return t.Coats
	}
	return 0
}

// PerBox is the seconds that one box of each line takes of each kind of work
// by hand, without learning or allowances: what a week shares the minutes of
// a plan out by.
func PerBox(boxes []orders.Box, parts []orders.Part, t *settings.Times) []map[settings.Work]float64 {
	out, of := make([]map[settings.Work]float64, len(boxes)), madeOf(parts)
	for line := range boxes {
		out[line] = map[settings.Work]float64{}
		for _, w := range byHand {
			out[line][settings.WorkOf(w.element)] += w.each(t) * w.count(&boxes[line], of[line], t)
		}
	}
	return out
}

// handWork is what is done box by box. It grows quicker along the learning
// curve within one size, and the first box of a size takes longer.
func (s *sheet) handWork(in Input) {
	built, parts := built(in), madeOf(in.Parts)
	var first, firstSquares float64
	for _, w := range byHand {
		var h hand
		for line := range in.Boxes {
			if n := built[line]; n > 0 {
				times := w.count(&in.Boxes[line], parts[line], &s.times)
				h.add(s, n, times*w.each(&s.times), times)
			}
		}
		h.close(s, w.element)
		first, firstSquares = first+h.first, firstSquares+h.firstSquares
	}
	share := s.times.FirstOfKindPercent / 100
	s.addUneven("First of kind allowance", 0, 0, first*share, share*share*firstSquares)
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
type made struct {
	walls, panels, dividers int
	feet                    float64 // square feet of both faces of every part
}

// madeOf counts, for each line, the parts of its first box.
func madeOf(parts []orders.Part) map[int]made {
	out, unit, last := map[int]made{}, map[int]int{}, ""
	for _, p := range parts {
		if p.IsLoose() {
			continue
		}
		if first, seen := unit[p.Line]; seen && first != p.Unit {
			continue
		}
		unit[p.Line] = p.Unit
		m := out[p.Line]
		m.feet += 2 * p.Length.Times(p.Width).SquareMillimetres() / squareFoot
		out[p.Line] = m
		if p.Panel != "" && p.Panel == last {
			continue // one panel, however many strips
		}
		last = p.Panel
		switch p.Role {
		case orders.Side, orders.End:
			m.walls++
		case orders.Divider:
			m.dividers++
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
