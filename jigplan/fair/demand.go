package fair

import "math"

// Demand is how many of one box may be asked for. Counts are whole: the normal
// curve is cut at the halves, so that P(D <= q) is its area up to q + 1/2, and
// what lies below 1/2 is none.
type Demand struct {
	Mean, Spread float64 // standard deviation; 0: exactly Mean, rounded
	Poisson      bool    // of that mean: only a likely number is known
}

// DemandOf is the demand of a low, a likely and a high guess: mean (low + 4
// likely + high) / 6 and standard deviation (high - low) / 6, the three-point
// estimate of project planning (Malcolm, Roseboom, Clark, Fazar, Operations
// Research 7, 1959). A likely number alone is Poisson's, as of many customers
// who decide by themselves. A high guess that is left out lies as far above the
// likely one as the low lies below.
func DemandOf(low, likely, high int) Demand {
	if low == 0 && high == 0 {
		return Demand{Mean: float64(likely), Poisson: true}
	}
	if likely == 0 && high > 0 {
		likely = (low + high) / 2
	}
	if high == 0 {
		high = 2*likely - low
	}
	return Demand{Mean: float64(low+4*likely+high) / 6, Spread: float64(high-low) / 6}
}

// DemandAbout is the demand of a mean and a standard deviation; without one it
// is Poisson's.
func DemandAbout(mean, spread float64) Demand {
	return Demand{Mean: mean, Spread: spread, Poisson: spread <= 0}
}

// AtMost is the probability that no more than q are asked for.
func (d Demand) AtMost(q int) float64 {
	switch {
	case q < 0:
		return 0
	case d.Poisson:
		term := math.Exp(-d.Mean)
		sum := term
		for k := 1; k <= q; k++ {
			term *= d.Mean / float64(k)
			sum += term
		}
		return math.Min(1, sum)
	case d.Spread <= 0:
		if float64(q) >= math.Round(d.Mean) {
			return 1
		}
		return 0
	}
	return 0.5 * math.Erfc(-(float64(q)+0.5-d.Mean)/(d.Spread*math.Sqrt2))
}

// Reaches is the probability that k or more are asked for: that the kth box is
// sold.
func (d Demand) Reaches(k int) float64 { return 1 - d.AtMost(k-1) }

// Sold is how many of q boxes are sold on average.
func (d Demand) Sold(q int) float64 {
	sum := 0.0
	for k := 1; k <= q; k++ {
		sum += d.Reaches(k)
	}
	return sum
}

// SoldSquare is the average of the square of how many of q boxes are sold: with
// Sold it gives the spread.
func (d Demand) SoldSquare(q int) float64 {
	sum := 0.0
	for k := 1; k <= q; k++ {
		sum += float64(2*k-1) * d.Reaches(k)
	}
	return sum
}

// most is beyond what any demand reaches: nothing is gained there.
const most = 100_000

// CriticalRatio is the share of fairs at which the demand should be met in
// full: what one box too few loses, over that and what one too many loses
// (the newsvendor rule).
func CriticalRatio(tooFew, tooMany float64) float64 {
	switch {
	case tooFew <= 0:
		return 0
	case tooMany <= 0:
		return 1
	}
	return tooFew / (tooFew + tooMany)
}

// Best is the smallest count that meets the demand in full with at least that
// probability: what to bring where nothing else limits. A ratio of 0 is none;
// one of 1 is met at one in a million.
func (d Demand) Best(ratio float64) int {
	if ratio <= 0 {
		return 0
	}
	ratio = math.Min(ratio, 1-1e-6)
	for q := range most {
		if d.AtMost(q) >= ratio-1e-12 {
			return q
		}
	}
	return most
}
