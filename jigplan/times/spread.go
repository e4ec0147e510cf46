package times

import (
	"math"

	"batchwright/jigplan"
	"batchwright/orders/settings"
)

// The total time is taken as lognormal about its median. Its spread has two
// sources: each repetition of an element varies by itself with the standard
// deviation "Element spread", so that much repeated work evens out, and the
// day's pace varies all elements together with "Pace spread". The variances
// of the repetitions add; the sum is matched to a lognormal of equal relative
// variance (L. F. Fenton, IRE Trans. Commun. Syst. 8, 1960), and the product
// with the lognormal pace is lognormal again:
//
//	sigma^2 = ln(1 + variance of the sum / sum^2) + ln(1 + pace^2)
func sigma(sum, variance float64, t settings.Times) float64 {
	if sum <= 0 {
		return 0
	}
	pace := t.PacePercent / 100
	return math.Sqrt(math.Log1p(variance/(sum*sum)) + math.Log1p(pace*pace))
}

// Quantile is the time in minutes that is not exceeded with probability p,
// 0 < p < 1.
func Quantile(t jigplan.Time, p float64) float64 {
	z := math.Sqrt2 * math.Erfinv(2*p-1)
	return t.Minutes * math.Exp(t.Sigma*z)
}

// Probability is how likely the work is done within the minutes given.
func Probability(t jigplan.Time, minutes float64) float64 {
	switch {
	case minutes <= 0:
		return 0
	case t.Sigma == 0 && minutes < t.Minutes:
		return 0
	case t.Sigma == 0:
		return 1
	}
	return 0.5 * math.Erfc(-math.Log(minutes/t.Minutes)/(t.Sigma*math.Sqrt2))
}
