package solve

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Answers are compared with those of a general solver for mixed integer
// programs (CBC or GLPK, as Linux distributions package them) where one is
// installed. The models share nothing with the search: pieces are assigned to
// bars one by one, and plates cut in levels follow the model of Lodi, Martello
// and Vigo, Journal of Combinatorial Optimization 8 (2004), from memory.

// milpCases is how many random problems each comparison solves.
const milpCases = 12

// milp is a program under construction: minimise a sum of whole variables.
type milp struct {
	aim   []string
	rows  []string
	whole []string
}

// row adds a constraint, one term a string.
func (p *milp) row(terms []string, sense string, rhs int64) {
	if len(terms) > 0 {
		p.rows = append(p.rows, fmt.Sprintf("c%d: %s %s %d", len(p.rows), strings.Join(terms, " "), sense, rhs))
	}
}

// text writes the program out in the LP format that both solvers read.
func (p *milp) text() string {
	return fmt.Sprintf("Minimize\n obj: %s\nSubject To\n %s\nBinary\n %s\nEnd\n",
		strings.Join(p.aim, " "), strings.Join(p.rows, "\n "), strings.Join(p.whole, "\n "))
}

// solveMILP returns the least value of p as the installed solver proves it.
func solveMILP(t *testing.T, p *milp) int64 {
	folder := t.TempDir()
	model, answer := filepath.Join(folder, "model.lp"), filepath.Join(folder, "answer.txt")
	if err := os.WriteFile(model, []byte(p.text()), 0o600); err != nil {
		t.Fatal(err)
	}
	run := exec.Command("cbc", model, "ratio", "0", "solve", "solution", answer)
	mark, field := "Optimal - objective value", 4
	if _, err := exec.LookPath("cbc"); err != nil {
		run = exec.Command("glpsol", "--lp", model, "--output", answer)
		mark, field = "Objective:", 3
	}
	if out, err := run.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	text, err := os.ReadFile(answer)
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(text)) {
		if strings.HasPrefix(line, mark) {
			v, err := strconv.ParseFloat(strings.Fields(line)[field], 64)
			if err != nil {
				t.Fatal(err)
			}
			return int64(v + 0.5)
		}
	}
	t.Fatalf("no optimum in %q", text)
	return 0
}

// needMILP skips a test where no general solver is there.
func needMILP(t *testing.T) {
	_, cbc := exec.LookPath("cbc")
	_, glpk := exec.LookPath("glpsol")
	if cbc != nil && glpk != nil {
		t.Skip("neither cbc nor glpsol: not installed")
	}
}

// TestStock1DAgainstMILP: bars of two lengths with costs and a kerf.
func TestStock1DAgainstMILP(t *testing.T) {
	needMILP(t)
	for seed := range milpCases {
		p := rapid.Custom(barsForMILP).Example(seed)
		plan, err := Stock1D(p, Budget{})
		if err != nil {
			t.Fatal(err)
		}
		least := solveMILP(t, barModel(p))
		if plan.Cost < least || plan.Bound > least || plan.Stop == StopProven && plan.Cost != least {
			t.Errorf("%+v: cost %d, bound %d, %s; the general solver proves %d", p, plan.Cost, plan.Bound, plan.Stop, least)
		}
	}
}

func barsForMILP(t *rapid.T) BarProblem {
	p := BarProblem{
		Kerf: rapid.Int64Range(0, 3).Draw(t, "kerf"),
		Bars: []Bar{{Length: 100, Cost: 10, Count: Unlimited}, {Length: 60, Cost: rapid.Int64Range(5, 8).Draw(t, "cost"), Count: Unlimited}},
	}
	for range rapid.IntRange(3, 5).Draw(t, "pieces") {
		p.Pieces = append(p.Pieces, Piece{rapid.Int64Range(15, 60).Draw(t, "length"), rapid.Int64Range(1, 2).Draw(t, "count")})
	}
	return p
}

// barModel numbers the bars by their first pieces: bar n, of either kind, holds
// none of the n pieces before piece n.
func barModel(p BarProblem) *milp {
	var m milp
	var pieces []int64
	for _, q := range p.Pieces {
		for range q.Count {
			pieces = append(pieces, q.Length)
		}
	}
	lies := make([][]string, len(pieces))
	for k, bar := range p.Bars {
		for n := range pieces {
			used := fmt.Sprintf("u%d_%d", k, n)
			m.whole = append(m.whole, used)
			m.aim = append(m.aim, fmt.Sprintf("+ %d %s", bar.Cost, used))
			var holds []string
			for i, length := range pieces {
				if i < n {
					continue
				}
				x := fmt.Sprintf("x%d_%d_%d", k, n, i)
				m.whole = append(m.whole, x)
				lies[i] = append(lies[i], "+ "+x)
				holds = append(holds, fmt.Sprintf("+ %d %s", length+p.Kerf, x))
			}
			m.row(append(holds, fmt.Sprintf("- %d %s", bar.Length+p.Kerf, used)), "<=", 0)
		}
	}
	for _, x := range lies {
		m.row(x, "=", 1)
	}
	return &m
}

// TestStock2DAgainstMILP: equal plates cut in two stages, the first along them.
// Free cutting can only need fewer plates.
func TestStock2DAgainstMILP(t *testing.T) {
	needMILP(t)
	for seed := range milpCases {
		parts := rapid.Custom(partsForMILP).Example(seed)
		rules := Rules{KerfX: int64(seed % 3), KerfY: int64(seed % 2), Stages: 2, First: Along}
		stock := []Stock{{Plate{Length: 40, Width: 30}, Unlimited, 1}}
		least := solveMILP(t, levelModel(stock[0].Plate, parts, rules))
		c := Stock2D(stock, parts, rules, Budget{Work: 100_000_000})
		checkCover(t, stock, parts, rules, c)
		if c.Cost < least || c.Bound > least || c.Stop == StopProven && c.Cost != least {
			t.Errorf("%+v: cost %d, bound %d, %s; the general solver proves %d", parts, c.Cost, c.Bound, c.Stop, least)
		}
		rules.Stages, rules.First = 0, Either
		if c := Stock2D(stock, parts, rules, Budget{Work: 100_000_000}); c.Bound > least {
			t.Errorf("%+v: bound %d for free cutting, but %d plates do in two stages", parts, c.Bound, least)
		}
	}
}

func partsForMILP(t *rapid.T) (parts []PlatePart) {
	for range rapid.IntRange(4, 6).Draw(t, "parts") {
		parts = append(parts, PlatePart{
			Length: rapid.Int64Range(5, 28).Draw(t, "length"), Width: rapid.Int64Range(5, 22).Draw(t, "width"),
			Max: rapid.IntRange(1, 2).Draw(t, "copies"),
		})
	}
	return parts
}

// levelModel lays the copies, widest first, in levels and the levels on plates;
// a level is as wide as its first copy, a plate begins with its widest level.
func levelModel(plate Plate, parts []PlatePart, rules Rules) *milp {
	var m milp
	var copies []PlatePart
	for _, p := range parts {
		for range p.Max {
			copies = append(copies, PlatePart{Length: p.Length + rules.KerfX, Width: p.Width + rules.KerfY})
		}
	}
	slices.SortFunc(copies, func(a, b PlatePart) int { return int(b.Width - a.Width) })
	length, width := plate.Length+rules.KerfX, plate.Width+rules.KerfY
	name := func(kind string, i, j int) string { return fmt.Sprintf("%s%d_%d", kind, i, j) }
	for i := range copies { // copy i begins level i (x i_i), level i begins plate i (z i_i)
		m.aim = append(m.aim, "+ "+name("z", i, i))
		var lies, stands, row, stack []string
		for j := range copies {
			if j <= i {
				lies = append(lies, "+ "+name("x", j, i))
				stands = append(stands, "+ "+name("z", j, i))
			}
			if j >= i {
				m.whole = append(m.whole, name("x", i, j), name("z", i, j))
			}
			if j > i {
				row = append(row, fmt.Sprintf("+ %d %s", copies[j].Length, name("x", i, j)))
				stack = append(stack, fmt.Sprintf("+ %d %s", copies[j].Width, name("z", i, j)))
			}
		}
		m.row(lies, "=", 1)
		m.row(append(stands, "- "+name("x", i, i)), "=", 0)
		m.row(append(row, fmt.Sprintf("- %d %s", length-copies[i].Length, name("x", i, i))), "<=", 0)
		m.row(append(stack, fmt.Sprintf("- %d %s", width-copies[i].Width, name("z", i, i))), "<=", 0)
	}
	return &m
}
