package solve

import "math/big"

// areaBound is the least cost of plates with the area of all that is needed.
func (s *stock2d) areaBound() int64 {
	area := make([]int64, len(s.need))
	for k := range s.need {
		area[k] = s.parts[k].taken(s.rules)
	}
	most := make([]int64, len(s.kinds))
	for k := range s.kinds {
		b := newPlainBoard(s.stock[k].Plate, s.rules)
		most[k] = b.length * b.width
	}
	return s.lagrangeBound(area, most)
}

// lagrangeBound is the least cost of covering the need when a copy of part k is
// worth worth[k] and no plate of kind k can hold more than most[k]. With u the
// copies in stock, c the costs and any rate t of cost per worth, no solution
// costs less than t*need - sum u*max(0, t*most - c), which is greatest where
// one of the terms turns positive. Exact.
func (s *stock2d) lagrangeBound(worth, most []int64) int64 {
	need := new(big.Int)
	for k, n := range s.need {
		need.Add(need, product(worth[k], int64(n)))
	}
	best := int64(0)
	for k, kind := range s.kinds {
		if most[k] <= 0 || kind.count <= 0 {
			continue
		}
		// the rate cost/most of this kind, everything times most
		sum := new(big.Int).Mul(need, big.NewInt(kind.cost))
		for j, other := range s.kinds {
			gain := new(big.Int).Sub(product(kind.cost, most[j]), product(other.cost, most[k]))
			if gain.Sign() > 0 {
				sum.Sub(sum, gain.Mul(gain, big.NewInt(int64(other.count))))
			}
		}
		if b := ceilDiv(sum, most[k]); b > best {
			best = b
		}
	}
	return best
}

func product(a, b int64) *big.Int { return new(big.Int).Mul(big.NewInt(a), big.NewInt(b)) }

// ceilDiv rounds a/b up; b > 0.
func ceilDiv(a *big.Int, b int64) int64 {
	q, r := new(big.Int).DivMod(a, big.NewInt(b), new(big.Int))
	if r.Sign() > 0 {
		q.Add(q, big.NewInt(1))
	}
	return q.Int64()
}
