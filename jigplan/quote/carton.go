package quote

import (
	"cmp"
	"math"

	"batchwright/jigplan"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// A carton that is made to measure holds no more boxes than these, and is no
// longer on any side, so that one person can lift it (common practice).
const (
	maxInCarton     = 24
	longestInCarton = 600 * measure.Millimetre
)

// board is what a square meter of corrugated board with tape weighs, kg (round
// figure of makers' data sheets, from memory).
const board = 0.6

// Packed packs so many boxes of one overall size and weight: into the carton of
// the shop's that needs fewest cartons, then least room; else into one made to
// measure, the fewest cartons, then the one nearest a cube.
func Packed(size measure.Size, kilograms float64, boxes int, s *settings.Shop) jigplan.Packed {
	r := &s.Rates
	p := jigplan.Packed{Box: size, Kilograms: kilograms, Litres: Litres(grown(size, r.PackAround))}
	if boxes < 1 {
		return p
	}
	byWeight := maxInCarton
	if kilograms > 0 {
		byWeight = int(math.Max(0, r.CartonKilograms-0.5) / kilograms)
	}
	p.TooHeavyKg = byWeight < 1
	most := min(boxes, max(1, byWeight), maxInCarton)
	if len(r.Cartons) > 0 {
		chooseCarton(&p, boxes, most, r)
	} else {
		makeCarton(&p, boxes, most, r.PackAround)
	}
	if p.Each > 0 {
		p.Cartons = (boxes + p.Each - 1) / p.Each
		empty := surface(p.Carton) * board
		p.CartonKg = round(empty + float64(min(p.Each, boxes))*kilograms)
		p.Kg = round(float64(p.Cartons)*empty + float64(boxes)*kilograms)
	}
	return p
}

func round(kg float64) float64 { return math.Round(kg*100) / 100 }

func grown(s measure.Size, by measure.Length) measure.Size {
	return measure.Size{Length: s.Length + 2*by, Width: s.Width + 2*by, Height: s.Height + 2*by}
}

func surface(s measure.Size) float64 {
	l, w, h := metres(s.Length), metres(s.Width), metres(s.Height)
	return 2 * (l*w + w*h + l*h)
}

// chooseCarton tries the box each way round in each of the shop's cartons.
func chooseCarton(p *jigplan.Packed, boxes, most int, r *settings.Rates) {
	p.Chosen = true
	for _, c := range r.Cartons {
		for _, turned := range ways(p.Box) {
			across := [3]int{holds(c.Length, turned.Length, r.PackAround), holds(c.Width, turned.Width, r.PackAround), holds(c.Height, turned.Height, r.PackAround)}
			if each := min(across[0]*across[1]*across[2], most); each > 0 && better(boxes, each, c, p) {
				p.Each, p.Across, p.Carton = each, across, c
			}
		}
	}
}

func holds(room, side, around measure.Length) int {
	return int(max(0, (room-2*around)/max(side, 1)))
}

// better reports whether a carton needs fewer cartons than the one found so
// far, or as many and less room.
func better(boxes, each int, c measure.Size, p *jigplan.Packed) bool {
	if p.Each == 0 {
		return true
	}
	n, m := (boxes+each-1)/each, (boxes+p.Each-1)/p.Each
	return cmp.Or(cmp.Compare(n, m), cmp.Compare(Litres(c), Litres(p.Carton))) < 0
}

// ways are the box lying on its bottom and turned on its sides.
func ways(s measure.Size) []measure.Size {
	l, w, h := s.Length, s.Width, s.Height
	return []measure.Size{{Length: l, Width: w, Height: h}, {Length: w, Width: l, Height: h}, {Length: l, Width: h, Height: w},
		{Length: h, Width: l, Height: w}, {Length: w, Width: h, Height: l}, {Length: h, Width: w, Height: l}}
}

// makeCarton stacks upright boxes: as few cartons as can be, then as few boxes
// in each as that allows, then the least board.
func makeCarton(p *jigplan.Packed, boxes, most int, around measure.Length) {
	best := math.Inf(1)
	for a := 1; a <= most; a++ {
		for b := 1; a*b <= most; b++ {
			for c := 1; a*b*c <= most; c++ {
				size := grown(measure.Size{Length: p.Box.Length * measure.Length(a), Width: p.Box.Width * measure.Length(b), Height: p.Box.Height * measure.Length(c)}, around)
				each := a * b * c
				if each > 1 && max(size.Length, size.Width, size.Height) > longestInCarton {
					continue
				}
				cartons := (boxes + each - 1) / each
				if score := float64(cartons)*1e6 + float64(each)*1e2 + surface(size); score < best {
					best = score
					p.Each, p.Across, p.Carton = each, [3]int{a, b, c}, size
				}
			}
		}
	}
}
