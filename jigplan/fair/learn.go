package fair

import "math"

// Seen is what one fair sold of a box, and whether that was all there were, so
// that more may have been asked for.
type Seen struct {
	Sold    int
	SoldOut bool
}

// Learn sharpens a guess by what earlier fairs sold, the guess counting as so
// many fairs as weight says: mean and variance are those of the conjugate
// normal model (Gelman and others, Bayesian Data Analysis, section 3.3, from
// memory), whose mean is also that of Poisson's with a gamma guess. A fair that
// sold out counts as what the guess has asked for on average where it is at
// least so many. Without a fair, or with a weight that is not positive, the
// guess stays.
func (d Demand) Learn(seen []Seen, weight float64) Demand {
	if len(seen) == 0 || weight <= 0 {
		return d
	}
	n, average := float64(len(seen)), 0.0
	asked := make([]float64, len(seen))
	for i, s := range seen {
		asked[i] = float64(s.Sold)
		if s.SoldOut {
			asked[i] = d.AskedFrom(s.Sold)
		}
		average += asked[i] / n
	}
	out := Demand{Mean: (weight*d.Mean + n*average) / (weight + n), Poisson: d.Poisson}
	if d.Poisson {
		return out
	}
	squares := weight*d.Spread*d.Spread + weight*n/(weight+n)*(average-d.Mean)*(average-d.Mean)
	for _, a := range asked {
		squares += (a - average) * (a - average)
	}
	out.Spread = math.Sqrt(squares / (weight + n))
	return out
}

// AskedFrom is how many are asked for on average when at least k are.
func (d Demand) AskedFrom(k int) float64 {
	reaches := d.Reaches(k)
	if reaches < 1e-8 { // the guess holds it for all but impossible; it happened
		return float64(k)
	}
	sum := float64(k)
	for next := k + 1; next < most; next++ {
		share := d.Reaches(next) / reaches
		if share < 1e-6 { // beyond, the rounding of sums near 1 would be counted
			break
		}
		sum += share
	}
	return sum
}
