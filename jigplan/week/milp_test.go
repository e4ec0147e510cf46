package week_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"batchwright/jigplan"
	"batchwright/jigplan/week"
	"batchwright/orders/settings"
)

// Weeks of three or four orders against the optimum that COIN-OR CBC proves of
// a time-indexed 0-1 program. All work, waits and hours are whole hours, so
// that some best schedule begins every task on the hour.
func TestSmallWeeksAreAtTheOptimum(t *testing.T) {
	cbc, err := exec.LookPath("cbc")
	if err != nil {
		t.Skip("skipped: cbc is not installed")
	}
	weeks := uint64(12)
	if testing.Short() {
		weeks = 3
	}
	late := 0
	for number := range weeks {
		jobs, shop := smallWeek(number)
		in := week.WeekInput{Jobs: jobs, Halves: week.Calendar(monday, 16, shop), Week: shop}
		s := week.Schedule(in, week.Limits{Work: 5000})
		want := provenLateness(t, cbc, in)
		late += want
		if s.LateWeight != want || s.LateBound > want {
			t.Errorf("week %d: %d days late, bound %d; CBC proves %d", number, s.LateWeight, s.LateBound, want)
		}
	}
	t.Logf("%d weeks, %d days late in all", weeks, late)
}

func smallWeek(number uint64) (jobs []jigplan.Job, shop settings.Week) {
	rng := rand.New(rand.NewPCG(number, 23))
	shop = noBuffer()
	shop.People, shop.Benches, shop.Clamps, shop.DryingPlaces = 1+rng.IntN(2), 1+rng.IntN(2), 8, 3+rng.IntN(2)
	for k := range 3 + rng.IntN(2) {
		id := fmt.Sprint(k)
		job := jigplan.Job{ID: id, Due: monday.AddDate(0, 0, 1+rng.IntN(3)), Weight: 1 + rng.IntN(2)}
		job.Tasks = []jigplan.Task{{ID: id + "/saw", Minutes: 60 * (1 + rng.IntN(4)), Place: jigplan.AtSaw}}
		for g := range 1 + rng.IntN(2) {
			glue, coat := fmt.Sprint(id, "/glue ", g), fmt.Sprint(id, "/coat ", g)
			job.Tasks = append(job.Tasks,
				jigplan.Task{ID: glue, Minutes: 60, Place: jigplan.AtClamps, Whole: true, Clamps: 4 * (1 + rng.IntN(2)), Hold: 120, Wait: 720, After: []string{id + "/saw"}},
				jigplan.Task{ID: coat, Minutes: 60, Place: jigplan.AtFinish, Space: 1 + rng.IntN(3), Hold: 480, Wait: 480, After: []string{glue}})
		}
		jobs = append(jobs, job)
	}
	return jobs, shop
}

// provenLateness writes the week as a 0-1 program, x(task, hour) = 1 where the
// task begins, and has CBC solve it.
func provenLateness(t *testing.T, cbc string, in week.WeekInput) int {
	t.Helper()
	var hours []time.Time // in which somebody works
	for _, h := range in.Halves {
		for at := h.From; at.Before(h.To); at = at.Add(time.Hour) {
			hours = append(hours, at)
		}
	}
	since := func(at time.Time) int { // the first hour of work at a time or later
		for u, hour := range hours {
			if !hour.Before(at) {
				return u
			}
		}
		return len(hours)
	}
	var rows, names, lates []string
	row := func(terms []string, rest string) {
		if len(terms) > 0 {
			rows = append(rows, fmt.Sprintf(" r%d: %s %s", len(rows), strings.Join(terms, " "), rest))
		}
	}
	uses := map[string][]string{} // "people 7" -> who takes how much
	number, begins, ready := map[string]int{}, map[string][]int{}, map[string][]int{}
	for k, job := range in.Jobs {
		lates = append(lates, fmt.Sprintf("+ %d L%d", job.Weight, k))
		for _, task := range job.Tasks {
			i, length := len(number), task.Minutes/60
			number[task.ID] = i
			var once, late []string
			for u := 0; u+length <= len(hours); u++ {
				end := hours[u+length-1].Add(time.Hour)
				after := since(end.Add(time.Duration(task.Wait) * time.Minute))
				if task.Wait == 0 {
					after = u + length
				}
				x := fmt.Sprintf("x%d_%d", i, u)
				begins[task.ID], ready[task.ID] = append(begins[task.ID], u), append(ready[task.ID], after)
				names, once = append(names, x), append(once, "+ "+x)
				days := math.Ceil(end.Add(time.Duration(task.Wait)*time.Minute).Sub(job.Due.AddDate(0, 0, 1)).Hours() / 24)
				if days > 0 {
					late = append(late, fmt.Sprintf("- %.0f %s", days, x))
				}
				for v := u; v < u+length; v++ {
					place := "bench"
					if task.Place == jigplan.AtSaw {
						place = "saw"
					}
					uses[fmt.Sprint("people ", v)] = append(uses[fmt.Sprint("people ", v)], "+ "+x)
					uses[fmt.Sprint(place, " ", v)] = append(uses[fmt.Sprint(place, " ", v)], "+ "+x)
				}
				if task.Clamps+task.Space > 0 {
					for v := u; v < since(end.Add(time.Duration(task.Hold)*time.Minute)); v++ {
						uses[fmt.Sprint("clamps ", v)] = append(uses[fmt.Sprint("clamps ", v)], fmt.Sprintf("+ %d %s", task.Clamps, x))
						uses[fmt.Sprint("places ", v)] = append(uses[fmt.Sprint("places ", v)], fmt.Sprintf("+ %d %s", task.Space, x))
					}
				}
			}
			row(once, "= 1")
			row(append([]string{fmt.Sprintf("L%d", k)}, late...), ">= 0")
			for _, before := range task.After {
				for u := range hours { // begun by u: what it comes after was ready by then
					var terms []string
					for _, v := range begins[task.ID] {
						if v <= u {
							terms = append(terms, fmt.Sprintf("+ x%d_%d", i, v))
						}
					}
					for n, v := range begins[before] {
						if ready[before][n] <= u {
							terms = append(terms, fmt.Sprintf("- x%d_%d", number[before], v))
						}
					}
					row(terms, "<= 0")
				}
			}
		}
	}
	shop := in.Week
	for u := range hours {
		for name, most := range map[string]int{"people": shop.People, "saw": 1, "bench": shop.Benches, "clamps": shop.Clamps, "places": shop.DryingPlaces} {
			row(uses[fmt.Sprint(name, " ", u)], fmt.Sprint("<= ", most))
		}
	}
	text := "Minimize\n obj: " + strings.Join(lates, " ") + "\nSubject To\n" + strings.Join(rows, "\n") + "\nBinary\n " + strings.Join(names, "\n ") + "\nEnd\n"
	file := filepath.Join(t.TempDir(), "week.lp")
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	if said, err := exec.Command(cbc, file, "ratio", "0", "solve", "solution", file+".cbc").CombinedOutput(); err != nil {
		t.Fatalf("cbc: %v\n%s", err, said)
	}
	data, err := os.ReadFile(file + ".cbc")
	if err != nil {
		t.Fatal(err)
	}
	first, _, _ := strings.Cut(string(data), "\n")
	fields := strings.Fields(first)
	value, err := strconv.ParseFloat(fields[len(fields)-1], 64)
	if fields[0] != "Optimal" || err != nil {
		t.Fatalf("cbc: %q", first)
	}
	return int(math.Round(value))
}
