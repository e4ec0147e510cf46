// Package price turns a batch into what it uses up and costs: supplies beside
// the wood, labour, overhead, and prices. It leaves how long work takes to pace
// and where the wood comes from to nesting.
package price

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// box is what the supplies of one physical box follow from.
type box struct {
	line  *orders.Box
	walls []orders.Part // sides and ends
	rest  []orders.Part // bottom, lid, dividers
}

// Supplies lists the hardware, glue, finish and abrasive for the boxes whose
// parts are given, the amounts from the parts' own faces. What a purchase
// costs is left to the shop: no price is invented.
func Supplies(o *orders.Order, parts []orders.Part) []jigplan.Purchase {
	boxes := gather(o, parts)
	if len(boxes) == 0 {
		return nil
	}
	s := &o.Settings
	out := []jigplan.Purchase{glue(boxes, s), abrasive(boxes, s)}
	out = append(out, finishes(boxes, s)...)
	return append(out, hardware(boxes, s)...)
}

func gather(o *orders.Order, parts []orders.Part) []*box {
	type unit struct{ line, unit int }
	index := map[unit]*box{}
	var boxes []*box
	for _, p := range parts {
		if p.Role == orders.Loose {
			continue
		}
		b := index[unit{p.Line, p.Unit}]
		if b == nil {
			b = &box{line: &o.Boxes[p.Line]}
			index[unit{p.Line, p.Unit}] = b
			boxes = append(boxes, b)
		}
		if p.Joint != nil {
			b.walls = append(b.walls, p)
		} else {
			b.rest = append(b.rest, p)
		}
	}
	return boxes
}

// glue covers every face where fingers meet: the sides of the fingers, and
// both walls' thicknesses along half the height where slots meet faces.
func glue(boxes []*box, s *orders.Settings) jigplan.Purchase {
	var area float64 // m2
	for _, b := range boxes {
		for _, wall := range b.walls {
			j := wall.Joint
			finger := j.Finger
			if finger == 0 {
				finger = wall.Thickness / 2
			}
			t, mate, height := meters(wall.Thickness), meters(j.Mate), meters(j.Height)
			fingers := height / meters(finger)
			area += fingers/2*t*mate*2 + height*(t+mate)/2 // both ends of a wall, half of each corner
		}
	}
	grams := area * s.Supplies.GlueSpread
	return jigplan.Purchase{
		What: "wood glue", Kind: "glue",
		Quantity: fmt.Sprintf("%.0f g", math.Ceil(grams/10)*10),
		Why:      fmt.Sprintf("%.2f m2 of joint faces at %g g/m2, one face", area, s.Supplies.GlueSpread),
	}
}

func abrasive(boxes []*box, s *orders.Settings) jigplan.Purchase {
	return jigplan.Purchase{
		What: "abrasive paper", Kind: "abrasive",
		Quantity: fmt.Sprintf("%.0f sheets", math.Ceil(float64(len(boxes))*s.Supplies.AbrasiveSheets)),
		Why:      fmt.Sprintf("%g sheets a box, %d boxes", s.Supplies.AbrasiveSheets, len(boxes)),
	}
}

// finishes adds up both faces of every part of the boxes that name a finish.
func finishes(boxes []*box, s *orders.Settings) (out []jigplan.Purchase) {
	area := map[string]float64{}
	for _, b := range boxes {
		name := strings.TrimSpace(b.line.Finish)
		if name == "" || strings.EqualFold(name, "none") {
			continue
		}
		for _, p := range slices.Concat(b.walls, b.rest) {
			area[name] += 2 * meters(p.Length) * meters(p.Width)
		}
	}
	for _, name := range sortedKeys(area) {
		litres := area[name] * s.Times.Coats / s.Supplies.FinishCover
		out = append(out, jigplan.Purchase{
			What: name, Kind: "finish",
			Quantity: fmt.Sprintf("%.2f L", math.Ceil(litres*20)/20),
			Why:      fmt.Sprintf("%.2f m2, %g coats at %g m2/L", area[name], s.Times.Coats, s.Supplies.FinishCover),
		})
	}
	return out
}

// hardware counts nails round nailed bottoms, and two hinges and one catch for
// a hinged lid (common practice).
func hardware(boxes []*box, s *orders.Settings) (out []jigplan.Purchase) {
	nails, hinged := 0, 0
	for _, b := range boxes {
		if b.line.Lid.Kind == orders.HingedLid {
			hinged++
		}
		if b.line.Bottom.Kind == orders.NailedBottom && s.Supplies.NailSpacing > 0 {
			for _, wall := range b.walls {
				nails += int((wall.Length-1)/s.Supplies.NailSpacing) + 1
			}
		}
	}
	if nails > 0 {
		out = append(out, jigplan.Purchase{What: "nails for bottoms", Kind: "hardware", Quantity: fmt.Sprint(nails),
			Why: "one every " + s.Supplies.NailSpacing.Show(s.Units) + " " + s.Units.String() + " along each wall"})
	}
	if hinged > 0 {
		out = append(out,
			jigplan.Purchase{What: "hinges with screws", Kind: "hardware", Quantity: fmt.Sprint(2 * hinged), Why: "two a hinged lid"},
			jigplan.Purchase{What: "catches", Kind: "hardware", Quantity: fmt.Sprint(hinged), Why: "one a hinged lid"})
	}
	return out
}

func meters(l measure.Length) float64 { return l.Millimetres() / 1000 }

func sortedKeys(m map[string]float64) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
