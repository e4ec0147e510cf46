package cutting_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"batchwright/nesting"
	"batchwright/nesting/cutting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// Racks of boards one part wide are compared with a general solver for mixed
// integer programs (CBC or GLPK, as Linux distributions package them) where one
// is installed. Its model gives every part to one clear stretch of one board
// and shares nothing with the search.

// milpCases is how many random racks are compared.
const milpCases = 25

// TestRackAgainstMILP: distinct boards of two thicknesses with costs, kerf,
// trims, and a check across some of them; parts of two thicknesses.
func TestRackAgainstMILP(t *testing.T) {
	t.Parallel()
	needMILP(t)
	cheapest := 0
	for seed := range milpCases {
		job := rapid.Custom(stripJob).Example(seed)
		l := cutting.Nest(job, nesting.Limits{Seed: 1, Think: 200 * time.Millisecond})
		verify(t, job, l)
		if len(l.Short) > 0 {
			t.Fatalf("seed %d: %v", seed, l.Short)
		}
		least := measure.Money(solveMILP(t, stripModel(job)))
		if l.Cost < least || l.CostBound > least || l.Proven && l.Cost != least {
			t.Errorf("seed %d: cost %d, bound %d, proven %v; the general solver proves %d", seed, l.Cost, l.CostBound, l.Proven, least)
		}
		if l.Cost == least {
			cheapest++
		}
	}
	t.Logf("%d of %d plans are the cheapest", cheapest, milpCases)
	if cheapest < milpCases*9/10 {
		t.Errorf("only %d of %d plans are the cheapest", cheapest, milpCases)
	}
}

// stripJob has one board that holds any part for every part, so that none is
// short.
func stripJob(t *rapid.T) cutting.Job {
	set := settings.Default()
	set.EndTrim, set.EdgeTrim, set.ShortestMachine, set.ShortestRip = inch, 0, 0, 0 // nothing is ripped
	set.CrosscutKerf = measure.Length(rapid.IntRange(0, 4).Draw(t, "kerf")) * inch / 8
	job := cutting.Job{Settings: set}
	n := rapid.IntRange(4, 9).Draw(t, "parts")
	for i := range n {
		job.Parts = append(job.Parts, orders.Part{ID: fmt.Sprint("P", i), Wood: "ash", Grain: orders.AlongLength,
			Thickness: rapid.SampledFrom([]measure.Length{inch / 2, inch / 2, 3 * inch / 2}).Draw(t, "thickness"),
			CutLength: drawLength(t, "length", 4, 30), CutWidth: 4 * inch})
	}
	board := func(id string, thick, length measure.Length, cost int) orders.Board {
		return orders.Board{ID: id, Wood: "ash", Thickness: thick, Count: 1, Length: length, Width: 4 * inch,
			Cost: measure.Money(cost), CostKnown: true}
	}
	for i := range rapid.IntRange(2, 6).Draw(t, "boards") {
		thick := measure.Length(rapid.IntRange(1, 2).Draw(t, "board thickness")) * inch
		b := board(fmt.Sprint("R", i), thick, drawLength(t, "board", 20, 80), rapid.IntRange(1, 3000).Draw(t, "cost"))
		if rapid.Bool().Draw(t, "check") {
			b.Defects = []orders.Defect{{X: drawLength(t, "x", 5, 14), Length: drawLength(t, "along", 1, 3), Width: 4 * inch}}
		}
		job.Rack = append(job.Rack, b)
	}
	for i := range n {
		job.Rack = append(job.Rack, board(fmt.Sprint("L", i), 2*inch, 40*inch, 3000))
	}
	return job
}

// sixteenth divides every length of a stripJob. In ticks the numbers are so
// large that the solver's tolerance lets a part lie where it does not fit.
const sixteenth = inch / 16

// stripModel is the job as a program in the LP format: u says that a board is
// used, x that a part lies in a clear stretch of one.
func stripModel(job cutting.Job) string {
	var aim, rows, whole []string
	lies := make([][]string, len(job.Parts))
	kerf := job.Settings.CrosscutKerf
	for b, board := range job.Rack {
		used := fmt.Sprint("u", b)
		whole = append(whole, used)
		aim = append(aim, fmt.Sprintf("%d %s", board.Cost, used))
		for c, clear := range clearOf(board, job.Settings.EndTrim) {
			row := []string{fmt.Sprintf("- %d %s", (clear+kerf)/sixteenth, used)}
			for i, part := range job.Parts {
				if part.Thickness >= board.Thickness || part.CutLength > clear {
					continue
				}
				x := fmt.Sprintf("x%d_%d_%d", b, c, i)
				whole = append(whole, x)
				lies[i] = append(lies[i], x)
				row = append(row, fmt.Sprintf("+ %d %s", (part.CutLength+kerf)/sixteenth, x))
			}
			rows = append(rows, strings.Join(row, " ")+" <= 0")
		}
	}
	for _, x := range lies {
		rows = append(rows, strings.Join(x, " + ")+" = 1")
	}
	return fmt.Sprintf("Minimize\n obj: %s\nSubject To\n %s\nBinary\n %s\nEnd\n",
		strings.Join(aim, " + "), strings.Join(rows, "\n "), strings.Join(whole, "\n "))
}

// clearOf is the lengths before and behind the check of a board.
func clearOf(b orders.Board, trim measure.Length) []measure.Length {
	if len(b.Defects) == 0 {
		return []measure.Length{b.Length - 2*trim}
	}
	d := b.Defects[0]
	return []measure.Length{d.X - trim, b.Length - trim - d.X - d.Length}
}

// needMILP skips a test where no general solver is there.
func needMILP(t *testing.T) {
	_, cbc := exec.LookPath("cbc")
	_, glpk := exec.LookPath("glpsol")
	if cbc != nil && glpk != nil {
		t.Skip("neither cbc nor glpsol: not installed")
	}
}

// solveMILP is the least value of a model as the installed solver proves it.
func solveMILP(t *testing.T, text string) int64 {
	folder := t.TempDir()
	model, answer := filepath.Join(folder, "model.lp"), filepath.Join(folder, "answer.txt")
	if err := os.WriteFile(model, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	run, mark, field := exec.Command("cbc", model, "ratio", "0", "solve", "solution", answer), "Optimal - objective value", 4
	if _, err := exec.LookPath("cbc"); err != nil {
		run, mark, field = exec.Command("glpsol", "--lp", model, "--output", answer), "Objective:", 3
	}
	if out, err := run.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	read, err := os.ReadFile(answer)
	if err != nil {
		t.Fatal(err)
	}
	_, line, found := strings.Cut("\n"+string(read), "\n"+mark)
	fields := strings.Fields(mark + line)
	if !found || len(fields) <= field {
		t.Fatalf("no optimum in %q", read)
	}
	value, err := strconv.ParseFloat(fields[field], 64)
	if err != nil {
		t.Fatal(err)
	}
	return int64(value + 0.5)
}
