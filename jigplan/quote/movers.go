package quote

import (
	"cmp"
	"math"
	"slices"

	"batchwright/jigplan"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// Movers says what moves the price of one box most: each thing a tenth higher,
// the others as they are; then the offcuts worth nothing. It reckons by the
// cost's own lines, unrounded prices aside.
func Movers(c *jigplan.Cost, boxes int, s *settings.Shop) []jigplan.Mover {
	if boxes < 1 || wanted(c, s) == nil {
		return nil
	}
	base := eachExact(c.Total, c, boxes, s)
	var out []jigplan.Mover
	moved := func(what, change string, by float64) {
		if each := eachExact(c.Total+measure.Money(math.Round(by)), c, boxes, s) - base; each != 0 {
			out = append(out, jigplan.Mover{What: what, Change: change, Each: each})
		}
	}
	labour := float64(c.Of(jigplan.LabourCost, jigplan.SetupCost))
	overhead := float64(c.Of(jigplan.OverheadCost))
	kept := float64(c.Of(jigplan.OffcutsKept))
	moved("wood", "10% more", 0.1*(float64(c.Of(jigplan.WoodCost, jigplan.BoughtCost))+kept))
	moved("hours", "10% more", 0.1*(labour+overhead))
	moved("labor rate", "10% higher", 0.1*labour)
	moved("overhead rate", "10% higher", 0.1*overhead)
	moved("supplies and blade", "10% more", 0.1*float64(c.Of(jigplan.SupplyCost, jigplan.BladeCost)))
	moved("setting up", "twice as long", float64(c.Of(jigplan.SetupCost))+overhead*c.Setup/max(c.Minutes, 1))
	moved("offcuts kept", "worth nothing", -kept)
	out = append(out, aimHigher(c, boxes, s, base)...)
	slices.SortStableFunc(out, func(a, b jigplan.Mover) int { return -cmp.Compare(size(a.Each), size(b.Each)) })
	return out
}

func size(m measure.Money) measure.Money { return max(m, -m) }

// eachExact is the price of one box to the cent, before it is rounded to what
// the shop rounds to.
func eachExact(total measure.Money, c *jigplan.Cost, boxes int, s *settings.Shop) measure.Money {
	changed := *c
	changed.Total = total
	whole := wanted(&changed, s)
	if whole == nil {
		return 0
	}
	return measure.RoundTo(whole.Quo(whole, cents(measure.Money(boxes))), 1)
}

// aimHigher is the price with five points more of margin or markup.
func aimHigher(c *jigplan.Cost, boxes int, s *settings.Shop, base measure.Money) []jigplan.Mover {
	higher, what := s.Clone(), "margin"
	if s.Rates.Margin > 0 {
		higher.Rates.Margin += 5
	} else {
		higher.Rates.Markup += 5
		what = "markup"
	}
	each := eachExact(c.Total, c, boxes, &higher)
	if each == 0 {
		return nil
	}
	return []jigplan.Mover{{What: what, Change: "5 points higher", Each: each - base}}
}
