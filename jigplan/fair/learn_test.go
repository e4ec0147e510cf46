package fair_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"batchwright/jigplan/fair"
)

// A guess of 6, give or take 2, counting as two fairs, and two fairs that sold
// 9: the mean is (2 x 6 + 18) / 4 = 7.5, the variance (2 x 4 + 2 x 2 / 4 x 3^2
// + 0) / 4 = 4.25; by hand from the conjugate normal model.
func TestSalesSharpenAGuess(t *testing.T) {
	sold := func(list ...int) (out []fair.Seen) {
		for _, n := range list {
			out = append(out, fair.Seen{Sold: n})
		}
		return out
	}
	guess := fair.Demand{Mean: 6, Spread: 2}
	for _, c := range []struct {
		why    string
		guess  fair.Demand
		seen   []fair.Seen
		weight float64
		want   fair.Demand
	}{
		{"two fairs", guess, sold(9, 9), 2, fair.Demand{Mean: 7.5, Spread: math.Sqrt(4.25)}},
		{"none: the guess stays", guess, nil, 2, guess},
		{"weight 0: the guess stays", guess, sold(1), 0, guess},
		{"sales as guessed narrow it", guess, sold(6, 6), 2, fair.Demand{Mean: 6, Spread: math.Sqrt(2)}},
		{"Poisson's stays Poisson's: (2 x 3 + 9) / 3", fair.Demand{Mean: 3, Poisson: true}, sold(9), 2, fair.Demand{Mean: 5, Poisson: true}},
		{"sold out of what the guess holds for impossible", fair.Demand{Mean: 2, Spread: 0.1}, []fair.Seen{{Sold: 8, SoldOut: true}}, 1, fair.Demand{Mean: 5, Spread: math.Sqrt((0.01 + 0.5*36) / 2)}},
	} {
		got := c.guess.Learn(c.seen, c.weight)
		if math.Abs(got.Mean-c.want.Mean) > 1e-9 || math.Abs(got.Spread-c.want.Spread) > 1e-9 || got.Poisson != c.want.Poisson {
			t.Errorf("%s: %+v, want %+v", c.why, got, c.want)
		}
	}
}

// A fair that sold out says at least as much was asked for: the mean is never
// lower than from the same sale with some left, and what is asked for from k up
// is its average over the tail.
func TestSellingOutSaysMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := fair.Demand{Mean: rapid.Float64Range(0.5, 20).Draw(t, "mean"), Spread: rapid.Float64Range(0.5, 6).Draw(t, "spread"), Poisson: rapid.Bool().Draw(t, "poisson")}
		k, weight := rapid.IntRange(1, 25).Draw(t, "sold"), rapid.Float64Range(0.5, 5).Draw(t, "weight")
		left, out := d.Learn([]fair.Seen{{Sold: k}}, weight), d.Learn([]fair.Seen{{Sold: k, SoldOut: true}}, weight)
		if out.Mean < left.Mean-1e-9 {
			t.Fatalf("sold out of %d: mean %v, with some left %v", k, out.Mean, left.Mean)
		}
		if d.Reaches(k) < 1e-6 {
			return
		}
		sum, mass := 0.0, 0.0
		for n := k; n < 300; n++ {
			p := d.AtMost(n) - d.AtMost(n-1)
			sum, mass = sum+float64(n)*p, mass+p
		}
		if got := d.AskedFrom(k); math.Abs(got-sum/mass) > 1e-3 {
			t.Fatalf("asked for from %d up: %v, want %v", k, got, sum/mass)
		}
	})
}

// With many fairs the guess is forgotten: mean and spread are those of the
// sales.
func TestManyFairsForgetTheGuess(t *testing.T) {
	var seen []fair.Seen
	for i := range 4000 {
		seen = append(seen, fair.Seen{Sold: 4 + 4*(i%2)}) // 4 and 8: mean 6, standard deviation 2
	}
	got := fair.Demand{Mean: 20, Spread: 9}.Learn(seen, 2)
	if math.Abs(got.Mean-6) > 0.02 || math.Abs(got.Spread-2) > 0.1 {
		t.Errorf("%+v, want 6 and 2", got)
	}
}

// Closed forms of the newsvendor (any textbook of operations management): for a
// normal demand the loss beyond q = mean + z sd is sd x (phi(z) - z (1 -
// Phi(z))), so what q sell on average is mean less that; for Poisson's it is
// mean P(D <= q-2) + q (1 - P(D <= q-1)). Whole boxes cut the normal at the
// halves, which moves it by little where it is a box and a half wide or more.
func TestSoldInClosedForm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mean, q := rapid.Float64Range(8, 40).Draw(t, "mean"), rapid.IntRange(0, 60).Draw(t, "q")
		sd := rapid.Float64Range(1.5, mean/4).Draw(t, "sd")
		z := (float64(q) - mean) / sd
		phi, tail := math.Exp(-z*z/2)/math.Sqrt(2*math.Pi), 0.5*math.Erfc(z/math.Sqrt2)
		if got, want := (fair.Demand{Mean: mean, Spread: sd}).Sold(q), mean-sd*(phi-z*tail); math.Abs(got-want) > 0.03 {
			t.Fatalf("normal: %v of %d sold, the loss function has %v", got, q, want)
		}
		poisson := fair.Demand{Mean: mean, Poisson: true}
		want := mean*poisson.AtMost(q-2) + float64(q)*(1-poisson.AtMost(q-1))
		if got := poisson.Sold(q); math.Abs(got-want) > 1e-6 {
			t.Fatalf("Poisson: %v of %d sold, want %v", got, q, want)
		}
	})
}

// The rule is the best count: no other brings more on average (marginal
// analysis), whatever is lost on one too few and on one too many.
func TestTheRuleIsTheBestCount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := fair.Demand{Mean: rapid.Float64Range(1, 20).Draw(t, "mean"), Spread: rapid.Float64Range(0.5, 6).Draw(t, "spread"), Poisson: rapid.Bool().Draw(t, "poisson")}
		few, many := rapid.Float64Range(1, 50).Draw(t, "too few"), rapid.Float64Range(1, 50).Draw(t, "too many")
		gain := func(q int) float64 { return few*d.Sold(q) - many*(float64(q)-d.Sold(q)) }
		best := d.Best(fair.CriticalRatio(few, many))
		for q := range 60 {
			if gain(q) > gain(best)+1e-6 {
				t.Fatalf("bring %d for %v; %d brings %v", best, gain(best), q, gain(q))
			}
		}
	})
}
