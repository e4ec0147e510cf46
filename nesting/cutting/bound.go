package cutting

import (
	"cmp"
	"math/big"
	"slices"

	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// costBound is a proven floor under the cost of any layout of the parts placed:
// for each wood, the cheapest boards by area, the last one in part.
func (p *problem) costBound(out *nesting.Layout) orders.Money {
	need := map[string]*big.Int{}
	thick := map[string]measure.Length{}
	wood := map[string]string{}
	for _, part := range p.job.Parts {
		wood[part.ID] = orders.WoodKey(part.Wood)
	}
	for _, b := range out.Boards {
		for _, piece := range b.Pieces {
			w := wood[piece.Part]
			if need[w] == nil {
				need[w] = new(big.Int)
			}
			need[w].Add(need[w], bigArea(piece.Length+p.set.CrosscutKerf, piece.Width+p.set.RipKerf))
		}
	}
	_ = thick
	var sum orders.Money
	for w, area := range need {
		sum += p.cheapest(w, area)
	}
	return sum
}

func bigArea(l, w measure.Length) *big.Int {
	return new(big.Int).Mul(big.NewInt(int64(l)), big.NewInt(int64(w)))
}

// cheapest buys area of one wood by the cheapest square inch first.
func (p *problem) cheapest(wood string, need *big.Int) orders.Money {
	type lot struct {
		area *big.Int // of one board, a kerf added each way
		s    *stock
	}
	var lots []lot
	for i := range p.stocks {
		s := &p.stocks[i]
		if s.wood == wood && !s.sound.empty() {
			lots = append(lots, lot{bigArea(s.sound.length()+p.set.CrosscutKerf, s.sound.width()+p.set.RipKerf), s})
		}
	}
	slices.SortFunc(lots, func(a, b lot) int {
		left := new(big.Int).Mul(big.NewInt(int64(a.s.cost)), b.area)
		right := new(big.Int).Mul(big.NewInt(int64(b.s.cost)), a.area)
		return cmp.Or(left.Cmp(right), 0)
	})
	rest := new(big.Int).Set(need)
	cost := new(big.Rat)
	for _, l := range lots {
		if rest.Sign() <= 0 {
			break
		}
		have := new(big.Int).Set(rest)
		if !l.s.board.Unlimited {
			have.Mul(l.area, big.NewInt(int64(l.s.left)))
		}
		if have.Cmp(rest) > 0 {
			have.Set(rest)
		}
		share := new(big.Rat).SetFrac(have, l.area)
		cost.Add(cost, share.Mul(share, new(big.Rat).SetInt64(int64(l.s.cost))))
		rest.Sub(rest, have)
	}
	return ceilMoney(cost)
}

// ceilMoney rounds up: no layout costs a part of a cent.
func ceilMoney(r *big.Rat) orders.Money {
	n := new(big.Int).Add(r.Num(), new(big.Int).Sub(r.Denom(), big.NewInt(1)))
	return orders.Money(n.Div(n, r.Denom()).Int64())
}
