package fair_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"batchwright/jigplan/fair"
	"batchwright/nesting/solve"
)

// The newsvendor rule on a normal demand cut at the halves, mean 6 and standard
// deviation 2.5, 26 lost on a box too few: 2, 8 and 20 lost on one too many
// give 10, 8 and 6 boxes (worked by hand from a table of the normal
// distribution: z = 1.465, 0.722 and 0.164 at the ratios 0.929, 0.765, 0.565).
func TestNewsvendorOnWholeBoxes(t *testing.T) {
	d := fair.Demand{Mean: 6, Spread: 2.5}
	for _, c := range []struct {
		tooMany float64
		want    int
	}{{2, 10}, {8, 8}, {20, 6}} {
		if got := d.Best(fair.CriticalRatio(26, c.tooMany)); got != c.want {
			t.Errorf("a box too many loses %v: bring %d, want %d", c.tooMany, got, c.want)
		}
	}
}

// A textbook's newsvendor, from memory (W. J. Stevenson, Operations Management,
// single-period model): cider, 0.60 lost a unit short and 0.20 a unit over: the
// service level is 0.75. And by hand from a cumulative Poisson table: mean 3,
// 4.20 lost short and 0.80 over give a ratio of 0.84 and a stock of 5, since
// the table has 0.815 at 4 and 0.916 at 5.
func TestNewsvendorOfATextbook(t *testing.T) {
	if got := fair.CriticalRatio(0.60, 0.20); math.Abs(got-0.75) > 1e-12 {
		t.Errorf("cider: %v, want 0.75", got)
	}
	ratio := fair.CriticalRatio(4.20, 0.80)
	d := fair.DemandOf(0, 3, 0)
	if math.Abs(ratio-0.84) > 1e-12 || d.Best(ratio) != 5 {
		t.Errorf("ratio %v, stock %d; want 0.84 and 5", ratio, d.Best(ratio))
	}
	// The cumulative Poisson table for a mean of 3, three decimals (any handbook).
	for q, want := range []float64{0.050, 0.199, 0.423, 0.647, 0.815, 0.916} {
		if got := d.AtMost(q); math.Abs(got-want) > 5e-4 {
			t.Errorf("P(D <= %d) = %.4f, want %.3f", q, got, want)
		}
	}
}

// The three-point estimate's published example, from memory: 2, 4 and 12 have
// mean 5 and standard deviation 1.67.
func TestThreePoints(t *testing.T) {
	d := fair.DemandOf(2, 4, 12)
	if d.Mean != 5 || math.Abs(d.Spread-10.0/6) > 1e-12 {
		t.Errorf("mean %v, spread %v", d.Mean, d.Spread)
	}
}

// What is sold on average is the demand less what is missed, whatever the
// distribution: E min(D, q) = sum of min(k, q) P(D = k).
func TestSoldIsTheAverageOfTheLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := fair.Demand{Mean: rapid.Float64Range(0, 30).Draw(t, "mean"), Spread: rapid.Float64Range(0, 8).Draw(t, "spread"), Poisson: rapid.Bool().Draw(t, "poisson")}
		q := rapid.IntRange(0, 40).Draw(t, "q")
		want, square := 0.0, 0.0
		for k := range 400 {
			p, n := d.AtMost(k)-d.AtMost(k-1), float64(min(k, q))
			want, square = want+n*p, square+n*n*p
		}
		if math.Abs(d.Sold(q)-want) > 1e-6 || math.Abs(d.SoldSquare(q)-square) > 1e-5 {
			t.Fatalf("sold %v and %v, want %v and %v", d.Sold(q), d.SoldSquare(q), want, square)
		}
	})
}

// random is a small mix: concave values with a first step, shared capacities.
func random(t *rapid.T) fair.MixProblem {
	resources := rapid.IntRange(1, 4).Draw(t, "capacities")
	p := fair.MixProblem{}
	for range resources {
		p.Capacity = append(p.Capacity, float64(rapid.IntRange(0, 40).Draw(t, "capacity")))
	}
	for range rapid.IntRange(1, 5).Draw(t, "items") {
		item := fair.Item{Choices: []fair.Choice{{Uses: make([]float64, resources)}}}
		gain, value := float64(rapid.IntRange(1, 60).Draw(t, "gain")), 0.0
		each, step := make([]float64, resources), make([]float64, resources)
		for r := range each {
			each[r], step[r] = float64(rapid.IntRange(0, 9).Draw(t, "each")), float64(rapid.IntRange(0, 5).Draw(t, "first"))
		}
		for n := 1; n <= rapid.IntRange(1, 5).Draw(t, "most"); n++ {
			value += gain
			gain -= float64(rapid.IntRange(0, 20).Draw(t, "falls"))
			uses := make([]float64, resources)
			for r := range uses {
				uses[r] = step[r] + float64(n)*each[r]
			}
			item.Choices = append(item.Choices, fair.Choice{Value: value, Uses: uses})
		}
		p.Items = append(p.Items, item)
	}
	return p
}

// bruteForce tries every pick.
func bruteForce(p fair.MixProblem) float64 {
	best := math.Inf(-1)
	var try func(i int, value float64, left []float64)
	try = func(i int, value float64, left []float64) {
		if i == len(p.Items) {
			best = max(best, value)
			return
		}
	choices:
		for _, c := range p.Items[i].Choices {
			rest := append([]float64(nil), left...)
			for r, u := range c.Uses {
				if rest[r] -= u; rest[r] < 0 {
					continue choices
				}
			}
			try(i+1, value+c.Value, rest)
		}
	}
	try(0, 0, p.Capacity)
	return best
}

func TestSolveAgainstEveryPick(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := random(t)
		got, want := fair.Solve(p, solve.Budget{}), bruteForce(p)
		if math.Abs(got.Value-want) > 0.005 || !got.Proven || got.Bound < want-1e-6 {
			t.Fatalf("value %v, bound %v, proven %v; the best is %v", got.Value, got.Bound, got.Proven, want)
		}
		left := append([]float64(nil), p.Capacity...)
		for i, k := range got.Pick {
			for r, u := range p.Items[i].Choices[k].Uses {
				left[r] -= u
			}
		}
		for r := range left {
			if left[r] < -1e-6 {
				t.Fatalf("capacity %d is exceeded by %v", r, -left[r])
			}
		}
	})
}

// A mix of the size of a real fair against two general solvers of integer
// programs (COIN-OR CBC, GNU GLPK), where one is installed.
func TestSolveAgainstGeneralSolvers(t *testing.T) {
	cbc, errCBC := exec.LookPath("cbc")
	glp, errGLP := exec.LookPath("glpsol")
	if errCBC != nil && errGLP != nil {
		t.Skip("skipped: cbc and glpsol are not installed")
	}
	for seed := range 4 {
		p := fairSized(seed)
		got := fair.Solve(p, solve.Budget{})
		file := filepath.Join(t.TempDir(), "mix.lp")
		if err := os.WriteFile(file, lpOf(p), 0o644); err != nil {
			t.Fatal(err)
		}
		for name, want := range answers(t, file, cbc, glp) {
			t.Logf("seed %d: %.4f, bound %.4f, %d nodes; %s %.4f", seed, got.Value, got.Bound, got.Nodes, name, want)
			if math.Abs(got.Value-want) > 0.02 || got.Bound < want-0.02 {
				t.Errorf("seed %d: value %.4f (bound %.4f, %d nodes), %s finds %.4f", seed, got.Value, got.Bound, got.Nodes, name, want)
			}
		}
	}
}

// fairSized is thirty boxes under six capacities.
func fairSized(seed int) fair.MixProblem {
	next := uint64(seed + 1)
	draw := func(low, high int) float64 {
		next = next*6364136223846793005 + 1442695040888963407
		return float64(low + int(next>>33)%(high-low+1))
	}
	p := fair.MixProblem{Capacity: []float64{3000, 1400, 60, 90, 70, 900}}
	for range 30 {
		price, cost := draw(20, 120), draw(4, 30)
		d := fair.DemandOf(int(draw(0, 2)), int(draw(3, 8)), int(draw(9, 16)))
		each := []float64{draw(30, 110), draw(10, 40), 1, 2, 1, draw(4, 18)}
		setup := []float64{draw(5, 30), draw(5, 30), 0, 0, 0, 0}
		item := fair.Item{Choices: []fair.Choice{{Uses: make([]float64, 6)}}}
		for n := 1; n <= 14; n++ {
			uses := make([]float64, 6)
			for r := range uses {
				uses[r] = setup[r] + float64(n)*each[r]
			}
			item.Choices = append(item.Choices, fair.Choice{Value: price*d.Sold(n) - cost*float64(n), Uses: uses})
		}
		p.Items = append(p.Items, item)
	}
	return p
}

// lpOf writes a problem in the LP format that general solvers read.
func lpOf(p fair.MixProblem) []byte {
	var b bytes.Buffer
	b.WriteString("Maximize\n obj:")
	each := func(write func(i, k int, c fair.Choice)) {
		for i := range p.Items {
			for k, c := range p.Items[i].Choices {
				if k > 0 {
					write(i, k, c)
				}
			}
		}
	}
	each(func(i, k int, c fair.Choice) { fmt.Fprintf(&b, " %+.9f x%d_%d\n", c.Value, i, k) })
	b.WriteString("Subject To\n")
	for i := range p.Items {
		fmt.Fprintf(&b, " one%d:", i)
		for k := 1; k < len(p.Items[i].Choices); k++ {
			fmt.Fprintf(&b, " + x%d_%d", i, k)
		}
		b.WriteString(" <= 1\n")
	}
	for r, limit := range p.Capacity {
		fmt.Fprintf(&b, " cap%d:", r)
		each(func(i, k int, c fair.Choice) {
			if c.Uses[r] != 0 {
				fmt.Fprintf(&b, " %+.6f x%d_%d\n", c.Uses[r], i, k)
			}
		})
		fmt.Fprintf(&b, " <= %.6f\n", limit)
	}
	b.WriteString("Binaries\n")
	each(func(i, k int, _ fair.Choice) { fmt.Fprintf(&b, " x%d_%d\n", i, k) })
	b.WriteString("End\n")
	return b.Bytes()
}

// answers runs the solvers that are there.
func answers(t *testing.T, file, cbc, glp string) map[string]float64 {
	t.Helper()
	out := map[string]float64{}
	run := func(name, solution string, args ...string) {
		if said, err := exec.Command(name, args...).CombinedOutput(); err != nil {
			t.Fatalf("%s: %v\n%s", name, err, said)
		}
		data, err := os.ReadFile(solution)
		if err != nil {
			t.Fatal(err)
		}
		if value, err := objective(string(data)); err == nil {
			out[filepath.Base(name)] = value
			return
		}
		t.Fatalf("%s: no answer in %q", name, data)
	}
	if cbc != "" {
		run(cbc, file+".cbc", file, "ratio", "0", "seconds", "20", "solve", "solution", file+".cbc")
	}
	if glp != "" {
		run(glp, file+".glp", "--lp", file, "--tmlim", "20", "-w", file+".glp")
	}
	return out
}

// objective reads a proven value from a solution file: CBC's first line ends
// with it ("Optimal - objective value -3844.68", of the negated problem), and so
// does GLPK's line "s mip ROWS COLUMNS o VALUE".
func objective(solution string) (float64, error) {
	for line := range strings.Lines(solution) {
		fields := strings.Fields(line)
		if len(fields) > 2 && (fields[0] == "Optimal" || fields[0] == "s" && fields[len(fields)-2] == "o") {
			value, err := strconv.ParseFloat(fields[len(fields)-1], 64)
			return math.Abs(value), err
		}
	}
	return 0, errors.New("no proven value")
}

func BenchmarkSolve(b *testing.B) {
	for i := range b.N {
		p := fairSized(i % 4)
		if a := fair.Solve(p, solve.Budget{}); !a.Proven {
			b.Fatalf("not proven: %v of %v after %d nodes", a.Value, a.Bound, a.Nodes)
		}
	}
}
