package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// Use is what is used up of one supply.
type Use struct {
	What, Kind string // Kind as of a Purchase
	Amount     float64
	Unit       string // "g", "sheets", "L"; empty: pieces
	Setting    string // that holds its price
	For        float64
	Why        string
}

// Supplies lists the hardware, glue, finish and abrasive to have at hand for
// the boxes whose parts are given. What a purchase costs is left to the shop:
// no price is invented.
func Supplies(o *orders.Order, parts []orders.Part) (out []jigplan.Purchase) {
	for _, u := range Uses(o, parts) {
		amount := u.toHave()
		out = append(out, jigplan.Purchase{What: u.What, Kind: u.Kind, Quantity: jigplan.AmountText(amount, u.Unit, o.Settings.Units),
			Amount: amount, Unit: u.Unit, Why: u.Why})
	}
	return out
}

// toHave is the amount rounded up to what is bought.
func (u Use) toHave() float64 {
	switch u.Unit {
	case "g":
		return math.Ceil(u.Amount/10) * 10
	case "L":
		return math.Ceil(u.Amount*20) / 20
	}
	return math.Ceil(u.Amount)
}

// needs is what the supplies of one physical box follow from.
type needs struct {
	line  *orders.Box
	walls []orders.Part // sides and ends
	rest  []orders.Part // bottom, lid, dividers
}

// Uses lists what is used up beside wood, the amounts from the parts' own
// faces.
func Uses(o *orders.Order, parts []orders.Part) []Use {
	boxes := gather(o, parts)
	if len(boxes) == 0 {
		return nil
	}
	s := &o.Settings
	out := []Use{glue(boxes, s), abrasive(boxes, s)}
	out = append(out, finishes(boxes, s)...)
	return append(out, hardware(boxes, s)...)
}

func gather(o *orders.Order, parts []orders.Part) []*needs {
	type unit struct{ line, unit int }
	index := map[unit]*needs{}
	var boxes []*needs
	for _, p := range parts {
		if p.IsLoose() {
			continue
		}
		b := index[unit{p.Line, p.Unit}]
		if b == nil {
			b = &needs{line: &o.Boxes[p.Line]}
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
func glue(boxes []*needs, s *settings.Shop) Use {
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
	return Use{What: "wood glue", Kind: "glue", Amount: area * s.Supplies.GlueSpread, Unit: "g", Setting: "Glue price", For: 1000,
		Why: s.Units.Mark(fmt.Sprintf("%.2f m2 of joint faces at %g g/m2, one face", area, s.Supplies.GlueSpread))}
}

func abrasive(boxes []*needs, s *settings.Shop) Use {
	return Use{What: "abrasive paper", Kind: "abrasive", Amount: float64(len(boxes)) * s.Supplies.AbrasiveSheets, Unit: "sheets", Setting: "Abrasive price", For: 1,
		Why: s.Units.Mark(fmt.Sprintf("%g sheets a box, boxes: %d", s.Supplies.AbrasiveSheets, len(boxes)))}
}

// finishes adds up both faces of every part of the boxes that name a finish.
func finishes(boxes []*needs, s *settings.Shop) (out []Use) {
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
		out = append(out, Use{What: name, Kind: "finish", Amount: area[name] * s.Times.Coats / s.Supplies.FinishCover, Unit: "L", Setting: "Finish price", For: 1,
			Why: s.Units.Mark(fmt.Sprintf("%.2f m2, %g coats at %g m2/L", area[name], s.Times.Coats, s.Supplies.FinishCover))})
	}
	return out
}

// hardware counts nails round nailed bottoms, and two hinges and one catch for
// a hinged lid (common practice).
func hardware(boxes []*needs, s *settings.Shop) (out []Use) {
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
		out = append(out, Use{What: "nails for bottoms", Kind: "hardware", Amount: float64(nails), Setting: "Nail price", For: 100,
			Why: "one every " + s.Supplies.NailSpacing.Show(s.Units) + " " + s.Units.String() + " along each wall"})
	}
	if hinged > 0 {
		out = append(out,
			Use{What: "hinges with screws", Kind: "hardware", Amount: float64(2 * hinged), Setting: "Hinge price", For: 1, Why: "two a hinged lid"},
			Use{What: "catches", Kind: "hardware", Amount: float64(hinged), Setting: "Catch price", For: 1, Why: "one a hinged lid"})
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
